package taskdata

import (
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
)

// NoRecord is the value of a cell of a [Surface] of which nothing is known.
const NoRecord = -1

// Surface is what was put on, or would be, in cells: mg/m² row by row from the south, [NoRecord] where nothing is
// known. A grid of a file is one, and so are points from a log.
type Surface interface {
	Frame() Frame
	Each(row func(row int, milligrams []int32) error) error
}

// Surfaces returns the tasks of a file as surfaces: grids as they are, polygons cut into cells of about the given size
// in metres. Tasks whose rates are no masses are left out.
func (f *File) Surfaces(cell float64) []Surface {
	var out []Surface
	for i := range f.Tasks {
		t := &f.Tasks[i]
		switch {
		case t.Grid != nil && t.Grid.DDI.IsMass():
			out = append(out, gridSurface{t.Grid})
		// Where a task has both, the grid is what counts, as in effectOf; the polygons would count a second time.
		case t.Grid == nil && t.polygons():
			if s, ok := t.polygonSurface(cell); ok {
				out = append(out, s)
			}
		}
	}
	return out
}

// gridSurface passes on a grid; what cannot be spread (a code that means nothing, a rate below zero) is zero.
type gridSurface struct{ *Grid }

// Each hands on the rows of the grid with nothing below zero.
func (g gridSurface) Each(row func(int, []int32) error) error {
	return g.Grid.Each(func(y int, values []int32) error {
		for i, v := range values {
			values[i] = max(v, 0)
		}
		return row(y, values)
	})
}

// polygonSurface cuts polygon zones into cells; ground in no zone gets nothing.
// Of two polygons over one place the first zone counts, as in a scan.
func (t *FileTask) polygonSurface(cell float64) (Surface, bool) {
	s := &zonedSurface{}
	var box orb.Bound
	for i := range t.Zones {
		z := &t.Zones[i]
		_, set, ok := z.mass()
		if !ok || !set.DDI.IsMass() || len(z.Shape) == 0 {
			continue
		}
		if b := z.Shape.Bound(); len(s.shapes) == 0 {
			box = b
		} else {
			box = box.Union(b)
		}
		s.shapes, s.rates = append(s.shapes, z.Shape), append(s.rates, max(set.Value, 0))
	}
	if len(s.shapes) == 0 {
		return nil, false
	}
	m2, _ := proj.GeodesicArea(orb.MultiPolygon{box.ToPolygon()}, proj.GeodesicOptions{})
	// Cells grow until there are some four million of them: a box around two far fields is mostly nothing.
	for s.frame = frameOver(box, square(cell), 0, 0); finite(m2) > 0 && s.frame.Rows*s.frame.Columns > 4e6; s.frame = frameOver(box, square(cell), 0, 0) {
		cell *= 1.5
	}
	return s, true
}

// zonedSurface is polygons with rates.
type zonedSurface struct {
	frame  Frame
	shapes []orb.MultiPolygon
	rates  []int32
}

func (s *zonedSurface) Frame() Frame { return s.frame }

// Each scans the polygons row by row, from the south.
func (s *zonedSurface) Each(row func(int, []int32) error) error {
	scan, on := newScan(s.frame, s.shapes), make([]int32, s.frame.Columns)
	for y := range s.frame.Rows {
		scan.row(y, on)
		for i, z := range on {
			if z >= 0 {
				// The numbers of the zones are written over by their rates: the row is used once.
				on[i] = s.rates[z]
			} else {
				on[i] = 0
			}
		}
		if err := row(y, on); err != nil {
			return fmt.Errorf("row %d: %w", y, err)
		}
	}
	return nil
}
