package standin

import (
	"context"
	"encoding/csv"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils/ssurgo"
)

// relation is a table of the data base. Values are text or null.
// Nulls and empty text are one in an export and two in the service; here an empty field of a file is null.
type relation struct {
	at     map[string]int // of columns
	rows   [][]*string
	shapes []orb.MultiPolygon // of table mupolygon, a row each
}

// load reads every table that the program reads, and the polygons as table mupolygon.
func load(fsys fs.FS) (map[string]*relation, error) {
	tables := map[string]*relation{}
	for _, t := range ssurgo.Tables() {
		r := &relation{at: map[string]int{}}
		for i, c := range t.Columns {
			r.at[c.Name] = i
		}
		found, err := fs.Glob(fsys, "tabular/"+t.File+".txt")
		if err != nil {
			return nil, err
		}
		for _, file := range found {
			if err := r.read(fsys, file, t); err != nil {
				return nil, err
			}
		}
		tables[t.Name] = r
	}
	polygons, err := loadPolygons(fsys, tables["mapunit"])
	tables["mupolygon"] = polygons
	return tables, err
}

// read reads a table of an export; rows are put in front, so that their order turns round.
func (r *relation) read(fsys fs.FS, file string, t ssurgo.Table) error {
	f, err := fsys.Open(file)
	if err != nil {
		return err
	}
	defer f.Close()
	in := csv.NewReader(f)
	in.Comma, in.FieldsPerRecord = '|', t.Width
	all, err := in.ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	// A program that relied on the order of the files would pass with them in order, and fail with the service, which
	// promises none.
	for i := len(all) - 1; i >= 0; i-- {
		row := make([]*string, len(t.Columns))
		for j, c := range t.Columns {
			// Positions count from 1.
			if v := all[i][c.Position-1]; v != "" {
				v = asServed(c.Name, v)
				row[j] = &v
			}
		}
		r.rows = append(r.rows, row)
	}
	return nil
}

// asServed writes a date as the service does: 9/13/2021 4:35:51 PM.
func asServed(column, v string) string {
	if day, err := time.Parse("01/02/2006 15:04:05", v); err == nil && column == "saverest" {
		return day.Format("1/2/2006 3:04:05 PM")
	}
	return v
}

// loadPolygons makes table mupolygon. An export without a map gets a square for each map unit, side by side.
func loadPolygons(fsys fs.FS, units *relation) (*relation, error) {
	r := &relation{at: map[string]int{"mupolygonkey": 0, "mukey": 1, "areasymbol": 2, "spatialversion": 3, "musym": 4, geometry: 5}}
	symbols := map[string]string{}
	for _, row := range units.rows {
		symbols[*row[units.at["mukey"]]] = *row[units.at["musym"]]
	}
	// Exports have no keys of polygons, so they are made up, of nine digits.
	add := func(area, unit string, shape orb.MultiPolygon) {
		key, version, symbol, wkt := strconv.Itoa(400000000+len(r.rows)), "8", symbols[unit], asText(shape)
		r.rows = append(r.rows, []*string{&key, &unit, &area, &version, &symbol, &wkt})
		r.shapes = append(r.shapes, shape)
	}
	if found, _ := fs.Glob(fsys, "spatial/soilmu_a_*.shp"); len(found) == 0 {
		for i, row := range units.rows {
			// Invented ground: a hundredth of a degree wide and high each.
			x := -91 + float64(i)*0.01
			add("AR017", *row[units.at["mukey"]], orb.MultiPolygon{{{{x, 33}, {x, 33.01}, {x + 0.01, 33.01}, {x + 0.01, 33}, {x, 33}}}})
		}
		return r, nil
	}
	export, err := ssurgo.Open(context.Background(), path.Base("."), fsys, &diag.List{})
	if err != nil {
		return nil, err
	}
	return r, export.Polygons(context.Background(), func(p ssurgo.Polygon) error {
		add(p.Area, p.Unit, p.Shape)
		return nil
	})
}

// geometry is the column of shapes as text, as a query names it.
const geometry = "mupolygongeo.STAsText()"

// asText writes a shape as the service does: 15 digits, POLYGON where there is one part, rings turned counter-clockwise.
func asText(shape orb.MultiPolygon) string {
	var b strings.Builder
	if len(shape) > 1 {
		b.WriteString("MULTIPOLYGON (")
	} else {
		b.WriteString("POLYGON ")
	}
	for i, part := range shape {
		// A comma before all but the first.
		b.WriteString(strings.Repeat(", ", min(i, 1)) + "(")
		for j, ring := range part {
			b.WriteString(strings.Repeat(", ", min(j, 1)) + "(")
			ring = ring.Clone()
			if want := orb.CCW; j > 0 && ring.Orientation() == want || j == 0 && ring.Orientation() != want {
				ring.Reverse()
			}
			for k, p := range ring {
				b.WriteString(strings.Repeat(", ", min(k, 1)))
				fmt.Fprintf(&b, "%.15g %.15g", p[0], p[1])
			}
			b.WriteByte(')')
		}
		b.WriteByte(')')
	}
	if len(shape) > 1 {
		b.WriteByte(')')
	}
	return b.String()
}
