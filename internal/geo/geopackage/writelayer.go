package geopackage

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/wkb"
)

// layer writes one layer: its table, its rows, its index, what the head tables say of it, and the triggers last.
func (m *maker) layer(l Content) error {
	if err := m.exec(createLayer(l)); err != nil {
		return err
	}
	// The index is filled row by row below and not by triggers, which do not exist yet.
	if err := m.exec(named(`CREATE VIRTUAL TABLE "rtree_<t>_<c>" USING rtree(id, minx, maxx, miny, maxy)`, l.Name)); err != nil {
		return err
	}
	// Rows before the entry in the list of contents, which needs their extent.
	box, err := m.rows(l)
	if err != nil {
		return err
	}
	if err := m.exec(`INSERT INTO gpkg_contents VALUES (?,'features',?,?,?,?,?,?,?,?)`, append([]any{l.Name, l.title(), l.About, m.changed}, append(box.corners(), wgs84)...)...); err != nil {
		return err
	}
	if err := m.exec(`INSERT INTO gpkg_geometry_columns VALUES (?,?,?,?,0,0)`, l.Name, shapeColumn, l.kind(), wgs84); err != nil {
		return err
	}
	const about = "http://www.geopackage.org/spec120/#extension_rtree" // where the extension is defined: annex F.3
	if err := m.exec(`INSERT INTO gpkg_extensions VALUES (?,?,'gpkg_rtree_index',?,'write-only')`, l.Name, shapeColumn, about); err != nil {
		return err
	}
	return m.exec(named(triggers, l.Name))
}

// box is the extent of what was written so far.
type box struct {
	orb.Bound
	some bool
}

// add joins the extent of one row.
func (b *box) add(c orb.Bound) {
	if !b.some {
		b.Bound, b.some = c, true
		return
	}
	b.Bound = b.Union(c)
}

// corners returns min x, min y, max x, max y, or nothing four times.
func (b box) corners() []any {
	if !b.some {
		return []any{nil, nil, nil, nil}
	}
	return []any{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}
}

// rows writes all rows of a layer and returns their extent.
func (m *maker) rows(l Content) (box, error) {
	var all box
	insert, err := m.conn.PrepareContext(m.ctx, "INSERT INTO "+quote(l.Name)+" VALUES (?,?"+strings.Repeat(",?", len(l.Columns))+")")
	if err != nil {
		return all, m.explain(err)
	}
	defer insert.Close()
	index, err := m.conn.PrepareContext(m.ctx, named(`INSERT INTO "rtree_<t>_<c>" VALUES (?,?,?,?,?)`, l.Name))
	if err != nil {
		return all, m.explain(err)
	}
	defer index.Close()
	var values []any
	row := func(n int, shape []byte, bound orb.Bound, given []any) error {
		var err error
		if values, err = feature.Check(l.Columns, given, values); err != nil {
			return err
		}
		var blob any
		// A row without a shape has null in the column and no entry in the index, as the triggers would have it.
		if shape != nil {
			blob = shape
			all.add(bound)
			// The library keeps boxes in single precision and rounds them outward, so nothing is missed by a search.
			if _, err := index.ExecContext(m.ctx, n, bound.Min[0], bound.Max[0], bound.Min[1], bound.Max[1]); err != nil {
				return m.explain(err)
			}
		}
		_, err = insert.ExecContext(m.ctx, append([]any{n, blob}, values...)...)
		return m.explain(err)
	}
	// A row that cannot be written ends the file: half a layer would be believed to be all of it.
	n, err := l.each(row)
	if err != nil && m.ctx.Err() == nil {
		err = fmt.Errorf("layer %s: row %d: %w", l.Name, n, err)
	}
	return all, err
}

// each calls row with the number of every row, counted from 1, the blob of its shape, nil for none, and its extent. It
// returns the number of the last row it came to.
func (l Content) each(row func(n int, blob []byte, bound orb.Bound, values []any) error) (n int, err error) {
	if l.Points != nil {
		for p, values := range l.Points {
			n++
			var blob []byte // stays nil, for a row without a shape, at NoPlace
			nan := [2]bool{math.IsNaN(p[0]), math.IsNaN(p[1])}
			switch {
			case nan[0] != nan[1] || math.IsInf(p[0], 0) || math.IsInf(p[1], 0):
				return n, fmt.Errorf("a point at %v, %v is no place", p[0], p[1])
			case !nan[0]:
				blob = pointBlob(p)
			}
			if err := row(n, blob, p.Bound(), values); err != nil {
				return n, err
			}
		}
		return n, nil
	}
	for shape, values := range l.Rows {
		n++
		ready, err := feature.Ready(shape)
		if err != nil {
			return n, err
		}
		blob, bound := shapeBlob(ready)
		if err := row(n, blob, bound, values); err != nil {
			return n, err
		}
	}
	return n, nil
}

// NoPlace is what a row of points gives that has no place: two NaN. Its values are written, its shape is null.
func NoPlace() orb.Point { return orb.Point{math.NaN(), math.NaN()} }

func pointBlob(p orb.Point) []byte {
	return wkb.AppendPoint(appendBlobHead(nil, wgs84, p.Bound()), p)
}

// shapeBlob returns nil for a shape without corners.
func shapeBlob(shape orb.MultiPolygon) ([]byte, orb.Bound) {
	bound, some := feature.Bound(shape)
	if !some {
		return nil, bound
	}
	// Made in its full length at once: blobs are most of the memory.
	blob := make([]byte, 0, blobHead+wkb.Size(shape))
	return wkb.Append(appendBlobHead(blob, wgs84, bound), shape), bound
}
