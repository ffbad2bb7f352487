package flatgeobuf

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
)

// Content is a layer to write. Coordinates are longitude and latitude on WGS 84.
type Content struct {
	Name    string
	Title   string // for people; may be empty
	About   string // a sentence for people; may be empty
	Columns []feature.Column
	Rows    feature.Rows

	// At returns a row by its place, counted from 0, as Rows yields it; nil where rows cannot be had so. With it no feature is kept: they
	// are made once to be measured, and again in the order of the file.
	At func(row int) (orb.MultiPolygon, []any)
}

// Write writes the layer, every shape as a MultiPolygon, in the order of the index: along a Hilbert curve, features in
// the same place in the order of the rows. The error names row and column that cannot be written.
//
// The index comes first and orders the features, so all must be known before the first is written: with [Content.At] 56 bytes of each are
// held in memory, without it each as it will stand in the file.
func Write(w io.Writer, c Content) error {
	if err := feature.CheckColumns(c.Columns); err != nil {
		return err
	}
	// A value names its column by two bytes.
	if len(c.Columns) > math.MaxUint16 {
		return fmt.Errorf("%d columns are more than the format holds", len(c.Columns))
	}
	e := &encoder{columns: c.Columns, all: noBox()}
	n := 0
	for shape, values := range c.Rows {
		n++
		b, box, err := e.make(shape, values)
		if err != nil {
			return fmt.Errorf("row %d: %w", n, err)
		}
		e.all = join(e.all, box)
		// The bytes belong to the builder and are overwritten by the next row.
		f := encoded{row: n - 1, size: len(b), box: box}
		if c.At == nil {
			f.bytes = slices.Clone(b)
		}
		e.features = append(e.features, f)
	}
	return e.write(w, c)
}

// encoder makes one file; b, values, bytes and xy are used again for every feature.
type encoder struct {
	columns  []feature.Column
	features []encoded
	all      orb.Bound
	b        builder
	values   []any
	bytes    []byte
	xy       []float64
}

// encoded is one feature of the file.
type encoded struct {
	bytes []byte // as it will stand there; nil where it is to be made again from its row
	row   int
	size  int
	box   orb.Bound
	place uint32
}

// make returns a feature as it stands in the file, valid until the next one is made, and the box around it.
func (e *encoder) make(shape orb.MultiPolygon, values []any) ([]byte, orb.Bound, error) {
	ready, err := feature.Ready(shape)
	if err != nil {
		return nil, orb.Bound{}, err
	}
	if e.values, err = feature.Check(e.columns, values, e.values); err != nil {
		return nil, orb.Bound{}, err
	}
	// A row without a shape is a feature too, with a box that no window meets.
	box, some := feature.Bound(ready)
	if !some {
		box = noBox()
	}
	e.b.reset()
	e.appendValues()
	var properties, geometry offset
	// A row of missing values has no properties at all.
	if len(e.bytes) > 0 {
		properties = e.b.bytes(e.bytes)
	}
	if some {
		geometry = e.geometry(ready)
	}
	b := e.b.finish(e.b.table(ref(featureGeometry, geometry), ref(featureProperties, properties)))
	if len(b) > maxFeature {
		return nil, box, fmt.Errorf("it takes %d bytes, more than any reader expects; simplify it", len(b))
	}
	return b, box, nil
}

// geometry puts a shape, one part after the other.
func (e *encoder) geometry(shape orb.MultiPolygon) offset {
	parts := make([]offset, len(shape))
	for i, part := range shape {
		e.xy = e.xy[:0]
		var ends []int
		for _, ring := range part {
			for _, p := range ring {
				e.xy = append(e.xy, p[0], p[1])
			}
			ends = append(ends, len(e.xy)/2)
		}
		xy := e.b.doubles(e.xy)
		var endsAt offset
		// One ring needs no ends: it has all the points.
		if len(ends) > 1 {
			endsAt = e.b.numbers(len(ends), 4, func(i int) uint64 { return uint64(ends[i]) })
		}
		parts[i] = e.b.table(ref(geometryEnds, endsAt), ref(geometryXY, xy), num(geometryType, uint64(kindPolygon), 1))
	}
	// One level of parts, though the shape may be a single polygon: the header says MultiPolygon for all.
	list := e.b.list(parts)
	return e.b.table(ref(geometryParts, list), num(geometryType, uint64(kindMultiPolygon), 1))
}

// appendValues writes the attributes of a row: number of the column and value, missing ones left out.
func (e *encoder) appendValues() {
	b := e.bytes[:0]
	le := binary.LittleEndian
	for i, v := range e.values {
		if v == nil {
			continue
		}
		b = le.AppendUint16(b, uint16(i))
		switch v := v.(type) {
		case string:
			b = append(le.AppendUint32(b, uint32(len(v))), v...)
		case int64:
			b = le.AppendUint64(b, uint64(v))
		case float64:
			b = le.AppendUint64(b, math.Float64bits(v))
		case bool:
			yes := byte(0)
			if v {
				yes = 1
			}
			b = append(b, yes)
		}
	}
	e.bytes = b
}

// typeOf returns the type of a column. Dates are texts: the format's own type is a date with a time of day, which
// readers would make up.
func typeOf(t feature.Type) columnType {
	switch t {
	case feature.Integer:
		return typeLong
	case feature.Real:
		return typeDouble
	case feature.Bool:
		return typeBool
	}
	return typeString
}

// header puts the header.
func (e *encoder) header(c Content) []byte {
	e.b.reset()
	cols := make([]offset, len(c.Columns))
	for i, col := range c.Columns {
		name, title := e.b.text(col.Name), e.b.text(col.Title)
		cols[i] = e.b.table(ref(columnName, name), num(columnKind, uint64(typeOf(col.Type)), 1), ref(columnTitle, title))
	}
	var list, envelope offset
	if len(cols) > 0 {
		list = e.b.list(cols)
	}
	// Not where no row has a shape: the box of nothing is no envelope.
	if e.all.Min[0] <= e.all.Max[0] {
		envelope = e.b.doubles([]float64{e.all.Min[0], e.all.Min[1], e.all.Max[0], e.all.Max[1]})
	}
	// Code and name; the long text is left out, for every reader knows 4326.
	org, system := e.b.text("EPSG"), e.b.text("WGS 84")
	crs := e.b.table(ref(systemOrg, org), num(systemCode, 4326, 4), ref(systemName, system))
	name, title, about := e.b.text(c.Name), e.b.text(c.Title), e.b.text(c.About)
	return e.b.finish(e.b.table(ref(headerName, name), ref(headerEnvelope, envelope), num(headerKind, uint64(kindMultiPolygon), 1), ref(headerColumns, list),
		num(headerCount, uint64(len(e.features)), 8), num(headerNodeSize, nodeSize, 2), ref(headerSystem, crs), ref(headerTitle, title), ref(headerAbout, about)))
}

// write puts the file together. A layer without features has no index.
func (e *encoder) write(w io.Writer, c Content) error {
	for i := range e.features {
		// Only now, when the extent of all is known, have places on the curve a scale.
		e.features[i].place = place(e.features[i].box, e.all)
	}
	// From the end of the curve to its beginning: readers follow the index and do not mind which end comes first.
	slices.SortStableFunc(e.features, func(a, b encoded) int { return cmp.Compare(b.place, a.place) })
	leaves := make([]node, len(e.features))
	at := uint64(0)
	for i, f := range e.features {
		leaves[i] = node{f.box, at}
		// With the four bytes of the length in front, which size counts.
		at += uint64(f.size)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.WriteString("fgb\x03fgb\x00") // errors come with Flush
	out.Write(e.header(c))
	if len(leaves) > 0 {
		// Without features there is no root to write.
		out.Write(appendIndex(nil, leaves))
	}
	for _, f := range e.features {
		b := f.bytes
		if b == nil {
			var err error
			if b, _, err = e.make(c.At(f.row)); err == nil && len(b) != f.size { // the index would point between features
				err = fmt.Errorf("it took %d bytes when it was measured and takes %d now", f.size, len(b))
			}
			if err != nil {
				return fmt.Errorf("row %d: %w", f.row+1, err)
			}
		}
		out.Write(b)
	}
	return out.Flush()
}
