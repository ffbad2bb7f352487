package exchange

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/parquet-go/parquet-go"
	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/wkb"
)

const (
	shapeColumn = "geometry"
	boxColumn   = "bbox"
	groupRows   = 5000 // rows that are held and packed at a time
	coveredRows = 1000 // from here on each row also has its box, by which readers pass over groups
)

// ordered is a group of columns that keeps their order: the library's own sorts them by name.
type ordered struct {
	parquet.Group
	names []string
}

// Fields returns the columns in order.
func (g ordered) Fields() []parquet.Field {
	byName := map[string]parquet.Field{}
	for _, f := range g.Group.Fields() {
		byName[f.Name()] = f
	}
	out := make([]parquet.Field, len(g.names))
	for i, n := range g.names {
		out[i] = byName[n]
	}
	return out
}

// String prints the columns in order.
func (g ordered) String() string { return strings.Join(g.names, " ") }

// parquetSchema has the shape last, where tables that are looked at do not begin with bytes.
func parquetSchema(columns []export.Column, covered bool) *parquet.Schema {
	g := ordered{Group: parquet.Group{}}
	add := func(name string, n parquet.Node) {
		g.Group[name], g.names = n, append(g.names, name)
	}
	for _, c := range columns {
		switch c.Type {
		case export.Number:
			add(c.Name, parquet.Optional(parquet.Leaf(parquet.DoubleType)))
		case export.Whole:
			add(c.Name, parquet.Optional(parquet.Leaf(parquet.Int64Type)))
		default:
			// Most texts are classes, names and sentences that stand in many rows, and a dictionary holds each once.
			add(c.Name, parquet.Optional(parquet.Encoded(parquet.String(), &parquet.RLEDictionary)))
		}
	}
	if covered {
		box := ordered{Group: parquet.Group{}, names: []string{"xmin", "ymin", "xmax", "ymax"}}
		for _, n := range box.names {
			box.Group[n] = parquet.Leaf(parquet.DoubleType)
		}
		add(boxColumn, parquet.Optional(box))
	}
	// A zone without a shape is a row with a null in this column.
	add(shapeColumn, parquet.Optional(parquet.Leaf(parquet.ByteArrayType)))
	return parquet.NewSchema("zones", g)
}

// geoMetadata is the key "geo" of GeoParquet 1.1. No crs means longitude and latitude on WGS 84.
//
// Source: GeoParquet 1.1.0, sections "File metadata" and "Column metadata".
func geoMetadata(box orb.Bound, some, covered bool) (string, error) {
	type column struct {
		Encoding    string     `json:"encoding"`
		Types       []string   `json:"geometry_types"`
		Bbox        []float64  `json:"bbox,omitempty"`
		Orientation string     `json:"orientation"`
		Edges       string     `json:"edges"`
		Covering    *coveredBy `json:"covering,omitempty"`
	}
	c := column{Encoding: "WKB", Types: []string{"MultiPolygon"}, Orientation: "counterclockwise", Edges: "planar"}
	// A box around nothing would be a place; it is left out.
	if some {
		c.Bbox = []float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]}
	}
	if covered {
		c.Covering = &coveredBy{boxPaths{[]string{boxColumn, "xmin"}, []string{boxColumn, "ymin"}, []string{boxColumn, "xmax"}, []string{boxColumn, "ymax"}}}
	}
	b, err := json.Marshal(struct {
		Version string            `json:"version"`
		Primary string            `json:"primary_column"`
		Columns map[string]column `json:"columns"` // one entry, so its order is no matter
	}{"1.1.0", shapeColumn, map[string]column{shapeColumn: c}})
	return string(b), err
}

// coveredBy says by which columns each row's box can be found (GeoParquet 1.1, "covering").
type coveredBy struct {
	Bbox boxPaths `json:"bbox"`
}

// boxPaths name the column and field of each side of the box.
type boxPaths struct {
	XMin []string `json:"xmin"`
	YMin []string `json:"ymin"`
	XMax []string `json:"xmax"`
	YMax []string `json:"ymax"`
}

// writeGeoParquet writes the zones; what the columns mean and the cautions stand in the file's metadata.
func (s *Set) writeGeoParquet(ctx context.Context, w io.Writer) error {
	columns, rows := s.zones.Columns, s.zones.Rows
	// Four numbers more in each row are worth it only where a reader can pass over whole groups by them.
	covered := len(rows) > coveredRows
	box, some := s.zones.Bound()
	geo, err := geoMetadata(box, some, covered)
	if err != nil {
		return err
	}
	// Whoever opens the file without the folder must still find what the lime is worth.
	about, err := json.Marshal(s.about())
	if err != nil {
		return err
	}
	names, err := json.Marshal(columnNotes(columns))
	if err != nil {
		return err
	}
	out := parquet.NewWriter(w, parquetSchema(columns, covered), parquet.Compression(&parquet.Zstd), parquet.MaxRowsPerRowGroup(groupRows),
		parquet.CreatedBy("rootworthy", s.version(), ""), parquet.KeyValueMetadata("geo", geo),
		parquet.KeyValueMetadata("about", string(about)), parquet.KeyValueMetadata("columns", string(names)))
	var line parquet.Row
	for i, r := range rows {
		if i%256 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if line, err = parquetRow(line[:0], columns, r, covered); err == nil {
			_, err = out.WriteRows([]parquet.Row{line})
		}
		if err != nil {
			return fmt.Errorf("zone %s: %w", r.ID, err)
		}
	}
	return out.Close()
}

// version is that of the program, without blanks.
func (s *Set) version() string {
	if s.options.Version == "" {
		return "unknown"
	}
	return strings.ReplaceAll(s.options.Version, " ", "-")
}

// columnNote tells in the file what a column means; the format itself has names and types alone.
type columnNote struct {
	Name    string `json:"name"`
	Unit    string `json:"unit,omitempty"`
	Meaning string `json:"meaning"`
}

// columnNotes are the notes of all columns, in their order.
func columnNotes(columns []export.Column) []columnNote {
	var out []columnNote
	for _, c := range columns {
		out = append(out, columnNote{c.Name, c.Unit, c.Meaning})
	}
	return out
}

// parquetRow appends the values of one row, a leaf after the other.
func parquetRow(line parquet.Row, columns []export.Column, r export.LayerRow, covered bool) (parquet.Row, error) {
	put := func(v parquet.Value, missing bool) {
		// Parquet keeps apart "not there" and "there": the level says which.
		level := 1
		if missing {
			v, level = parquet.NullValue(), 0
		}
		// The column's number is how many values stand before it in the row.
		line = append(line, v.Level(0, level, len(line)))
	}
	for i, c := range columns {
		switch v := plain(c, r.Values[i]).(type) {
		case string:
			// The format promises UTF-8 to its readers; names from old files may not be.
			put(parquet.ByteArrayValue([]byte(strings.ToValidUTF8(v, "\ufffd"))), false)
		case float64:
			put(parquet.DoubleValue(v), false)
		case int:
			put(parquet.Int64Value(int64(v)), false)
		default:
			put(parquet.Value{}, true)
		}
	}
	ready, err := feature.Ready(r.Shape)
	if err != nil {
		return line, err
	}
	box, some := feature.Bound(ready)
	if covered {
		for _, x := range [...]float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]} {
			put(parquet.DoubleValue(x), !some)
		}
	}
	put(parquet.ByteArrayValue(wkb.Append(nil, ready)), !some)
	return line, nil
}
