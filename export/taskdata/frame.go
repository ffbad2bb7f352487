package taskdata

import (
	"math"

	"github.com/paulmach/orb"
)

// nano is how many steps a degree has in a grid's frame. Files hold nine decimals at most, so that what is computed
// with and what is written are one.
const nano = 1e9

// Frame says where the cells of a grid lie, in steps of 1e-9 degree. Row 0 is the southern one.
type Frame struct {
	South, West   int64
	North, East   int64 // size of a cell northward and eastward
	Columns, Rows int
}

// RowLatitude returns the latitude of the middle of a row.
func (f Frame) RowLatitude(row int) float64 {
	return float64(2*f.South+int64(2*row+1)*f.North) / (2 * nano)
}

// ColumnLongitude returns the longitude of the middle of a column.
func (f Frame) ColumnLongitude(column int) float64 {
	return float64(2*f.West+int64(2*column+1)*f.East) / (2 * nano)
}

// CellArea returns the area in m² of a cell of a row on the WGS 84 ellipsoid.
// The product of the two lengths at its middle: for cells of some metres that is exact to far more digits than a rate has.
func (f Frame) CellArea(row int) float64 {
	north, east := degreeLengths(f.RowLatitude(row))
	return north * east * (float64(f.North) / nano) * (float64(f.East) / nano)
}

// CellMetres returns the size of a cell in the middle of the grid.
func (f Frame) CellMetres() (east, north float64) {
	n, e := degreeLengths(f.RowLatitude(f.Rows / 2))
	return float64(f.East) / nano * e, float64(f.North) / nano * n
}

// firstColumn returns the first column whose middle is not west of a longitude, 0…Columns. A middle exactly on a border
// belongs to the ground east of it, so of two neighbours one has it.
func (f Frame) firstColumn(longitude float64) int {
	c := math.Ceil((longitude*nano-float64(f.West))/float64(f.East) - 0.5)
	return int(min(max(c, 0), float64(f.Columns)))
}

// cellSize is the size of a cell in metres.
type cellSize struct{ east, north float64 }

// square is a cell of one side in metres.
func square(side float64) cellSize { return cellSize{side, side} }

// frameOver returns a frame of cells of at most the given size over a box. Cells shrink a little so that whole ones fill
// the box: straight field edges then fall between cells. The box may be shifted by a part of a cell (0…1) to the south
// and west.
func frameOver(box orb.Bound, cell cellSize, shiftNorth, shiftEast float64) Frame {
	north, east := degreeLengths((box.Min[1] + box.Max[1]) / 2)
	var f Frame
	f.South, f.North, f.Rows = side(box.Min[1], box.Max[1], cell.north/north, shiftNorth)
	f.West, f.East, f.Columns = side(box.Min[0], box.Max[0], cell.east/east, shiftEast)
	return f
}

// side lays cells along one side of a box, all in degrees.
func side(low, high, cell, shift float64) (start, size int64, cells int) {
	long := (high - low) * nano
	cells = count(long, cell*nano)
	size = max(1, int64(math.Ceil(long/float64(cells))))
	// A box without extent (a single point) still gets a cell of the size asked for.
	if long < 1 {
		size = max(1, int64(math.Round(cell*nano)))
	}
	start = int64(math.Floor(low*nano - shift*float64(size)))
	// Half a step is taken off, so that rounding to whole steps does not add a cell for nothing.
	return start, size, count(high*nano-float64(start)-0.5, float64(size))
}

// count is how many cells reach over a distance, at least one and at most what any file could hold.
func count(distance, cell float64) int {
	return int(min(max(1, math.Ceil(distance/cell-1e-9)), 1<<30))
}

// degreeLengths returns the length in metres of a degree northward and eastward at a latitude on WGS 84.
//
//	M = a (1 - e²) / (1 - e² sin² φ)^1.5,  N cos φ = a cos φ / √(1 - e² sin² φ)
//
// Source: Snyder, Map Projections: A Working Manual, USGS PP 1395 (1987), eq. 4-18 and 4-20, from memory, not checked;
// the tests compare areas with Karney's polygon area.
func degreeLengths(latitude float64) (north, east float64) {
	const a, f = 6378137.0, 1 / 298.257223563
	const e2 = f * (2 - f)
	s, c := math.Sincos(latitude * math.Pi / 180)
	w := 1 - e2*s*s
	return a * (1 - e2) / (w * math.Sqrt(w)) * math.Pi / 180, a * c / math.Sqrt(w) * math.Pi / 180
}
