package exchange

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/soils/unit"
)

// Cells of rasters. Common practice, no source: 10 m is finer than a soil line is sure.
const (
	usualCell = 10.0    // metres
	manyCells = 4 << 20 // over this the usual cell grows
	mostCells = 25 << 20
	growth    = 1.25
	leastCell = 0.1 // metres
)

// nobody is a cell without a zone.
const nobody = -1

// cells says which zone each cell of a raster shows.
type cells struct {
	frame raster.Frame
	side  float64 // metres
	zone  []int32 // by rows, northern row first: a row of the zone table, or nobody
	lost  int     // zones that no cell shows
}

// drawCells draws the zones cell by cell, once for all rasters.
//
// A cell shows the zone that covers most of it, if zones cover at least half of it. A field that would have no cell so,
// because it is smaller than one, keeps the cell that it covers most.
func (s *Set) drawCells(ctx context.Context) error {
	box, ok := s.zones.Bound()
	if !ok {
		return fmt.Errorf("no zone has a shape, so there is nothing to draw on a raster; leave geotiff and cog out")
	}
	frame, side, err := frameOf(box, float64(s.options.Cell))
	if err != nil {
		return err
	}
	c := &cells{frame: frame, side: side}
	if err := c.draw(ctx, s.zones); err != nil {
		return err
	}
	s.cells = c
	s.noteCells(c)
	return nil
}

// frameOf lays cells of a side in metres over a box; 0 chooses the side.
// The box is in degrees. Cells are as high as they are wide on the ground at its middle latitude, so a degree of longitude has fewer of
// them than one of latitude; towards its northern and southern edge they are a little off square.
func frameOf(box orb.Bound, side float64) (raster.Frame, float64, error) {
	crs, err := proj.FromEPSG(4326)
	if err != nil {
		return raster.Frame{}, 0, err
	}
	east, north := metresPerDegree((box.Min[1] + box.Max[1]) / 2)
	lay := func(side float64) raster.Frame {
		f := raster.Frame{West: box.Min[0], North: box.Max[1], DX: side / east, DY: side / north, CRS: crs}
		// A millionth of a cell is left over rather than a column for it; the bound keeps a box around half the world from becoming a number
		// that no int holds.
		f.Cols = int(max(1, min(math.Ceil((box.Max[0]-box.Min[0])/f.DX-1e-6), math.MaxInt32)))
		f.Rows = int(max(1, min(math.Ceil((box.Max[1]-box.Min[1])/f.DY-1e-6), math.MaxInt32)))
		return f
	}
	if side != 0 {
		f := lay(side)
		if !(side >= leastCell) {
			return f, side, fmt.Errorf("cells of %g m are too small; give %g m or more", side, leastCell)
		}
		// Divided rather than multiplied: the product of two large numbers may be more than an int holds.
		if f.Cols > mostCells/f.Rows {
			return f, side, fmt.Errorf("cells of %g m make a raster of %s × %s cells, over the limit of %s in all; give a larger cell", side,
				export.Thousands(f.Cols), export.Thousands(f.Rows), export.Thousands(mostCells))
		}
		return f, side, f.Check()
	}
	side = usualCell
	f := lay(side)
	for f.Cols > manyCells/f.Rows {
		// Whole metres: a side is told in the notes, and 37 m is easier to repeat than 36.7.
		// A fourth more each time leaves about two thirds of the cells, so the loop ends after a few turns whatever the box.
		side = math.Ceil(side * growth)
		f = lay(side)
	}
	return f, side, f.Check()
}

// draw fills in the zone of every cell.
func (c *cells) draw(ctx context.Context, zones export.Layer) error {
	n := c.frame.Cols * c.frame.Rows
	c.zone = make([]int32, n)
	for i := range c.zone {
		c.zone[i] = nobody
	}
	// float32 halves the memory, and shares of a cell are sure to no more digits.
	// best is the largest share that one zone has of a cell, covered what all zones have together: a cell on the line between two zones is
	// theirs, one on the edge of the field may be mostly somebody else's.
	best, covered := make([]float32, n), make([]float32, n)
	// Field by field, so that it is known when one is through without a cell.
	fields := newPlacemarks(zones.Columns).byField(zones.Rows)
	keep := make([]int, len(fields)) // for each field the cell that one of its zones covers most
	keeper := make([]int32, len(fields))
	// The row of the zone table; byField cuts the table without changing its order, so counting on is enough.
	row := int32(0)
	for k, rows := range fields {
		most := float32(0)
		keep[k] = nobody
		for _, r := range rows {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			_, err := raster.Coverage(c.frame, r.Shape, func(col, line int, share float64) {
				i, part := line*c.frame.Cols+col, float32(share)
				covered[i] += part
				// Of equal shares the zone that comes first in the table keeps the cell: the same cells on every machine.
				if part > best[i] {
					best[i], c.zone[i] = part, row
				}
				if part > most {
					most, keep[k], keeper[k] = part, i, row
				}
			})
			if err != nil {
				return fmt.Errorf("zone %s: %w", r.ID, err)
			}
			row++
		}
	}
	const half = 0.5 - 1e-6 // float32 sums of some few shares
	for i := range c.zone {
		if covered[i] < half {
			c.zone[i] = nobody
		}
	}
	c.keepFields(fields, keep, keeper)
	return nil
}

// keepFields gives a field without any cell the one that it covers most, when that is free.
func (c *cells) keepFields(fields [][]export.LayerRow, keep []int, keeper []int32) {
	count := 0
	for _, rows := range fields {
		count += len(rows)
	}
	seen := make([]bool, count)
	for _, z := range c.zone {
		if z != nobody {
			seen[z] = true
		}
	}
	first := 0
	for k, rows := range fields {
		some := false
		for i := range rows {
			some = some || seen[first+i]
		}
		// A cell that shows another zone is not taken away from it.
		if i := keep[k]; !some && i != nobody && c.zone[i] == nobody {
			c.zone[i], seen[keeper[k]] = keeper[k], true
		}
		first += len(rows)
	}
	for _, s := range seen {
		if !s {
			c.lost++
		}
	}
}

// noteCells tells how far the cells stand for the zones.
func (s *Set) noteCells(c *cells) {
	text := fmt.Sprintf("rasters: %s × %s cells of %g m", export.Thousands(c.frame.Cols), export.Thousands(c.frame.Rows), c.side)
	if s.options.Cell == 0 && c.side > usualCell {
		text += fmt.Sprintf(", larger than the usual %g m because the fields lie far apart", usualCell)
	}
	if _, lime := s.Totals(); lime > 0 {
		// Cells are no zones, so their lime differs a little from the table's; by how much is told with the file.
		by := s.limeByCells(c)
		text += fmt.Sprintf("; lime by cells is %+.2f %% off the table", 100*(by/float64(lime)-1))
	}
	if c.lost > 0 {
		text += fmt.Sprintf("; too small or too thin for a cell of their own: %d of %d zones", c.lost, len(s.zones.Rows))
	}
	s.Notes = append(s.Notes, text)
}

// limeByCells adds up what the cells of the raster of lime hold, in kilograms.
func (s *Set) limeByCells(c *cells) float64 {
	rates := s.column("lime_st_ac")
	// Rows of cells differ in area, since meridians run together to the north; within a row all cells are alike.
	sum := 0.0
	for line := range c.frame.Rows {
		rate := 0.0
		for _, z := range c.zone[line*c.frame.Cols : (line+1)*c.frame.Cols] {
			if z != nobody {
				if x, ok := rates(int(z)); ok {
					rate += x
				}
			}
		}
		sum += float64(unit.ShortTonsPerAcre(rate)) * rowArea(c.frame, line)
	}
	return sum
}

// column returns the numbers of a column by row.
func (s *Set) column(name string) func(row int) (float64, bool) {
	at := columnIndex(s.zones.Columns, name)
	values := make([]float64, len(s.zones.Rows))
	has := make([]bool, len(s.zones.Rows))
	for i, r := range s.zones.Rows {
		values[i], has[i] = r.Values[at].Float()
	}
	return func(row int) (float64, bool) { return values[row], has[row] }
}

// WGS 84. Source: NIMA TR8350.2, defining parameters.
const (
	semiMajor  = 6378137.0
	flattening = 1 / 298.257223563
	eccentric2 = flattening * (2 - flattening)
)

// metresPerDegree returns the length of a degree of longitude and of latitude.
// Source: Snyder, Map Projections: A Working Manual (USGS PP 1395, 1987), equations 4-18 to 4-21, by arc.
func metresPerDegree(lat float64) (east, north float64) {
	sin, cos := math.Sincos(lat * math.Pi / 180)
	w := 1 - eccentric2*sin*sin
	return semiMajor / math.Sqrt(w) * cos * math.Pi / 180, semiMajor * (1 - eccentric2) / (w * math.Sqrt(w)) * math.Pi / 180
}

// rowArea returns the area of a cell of a row in square metres.
// Source: Snyder, as above, equation 3-12: the area between two parallels is b²·q/2 for each radian of longitude.
func rowArea(f raster.Frame, row int) float64 {
	q := func(lat float64) float64 {
		e := math.Sqrt(eccentric2)
		sin := math.Sin(lat * math.Pi / 180)
		return (1 - eccentric2) * (sin/(1-eccentric2*sin*sin) + math.Atanh(e*sin)/e)
	}
	return semiMajor * semiMajor * (q(f.Y(row)) - q(f.Y(row+1))) / 2 * f.DX * math.Pi / 180
}
