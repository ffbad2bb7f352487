package terrain

import (
	"fmt"
	"math"

	"rootworthy/raster"
)

// Ground says how cells and heights measure in metres; the zero value suits heights in metres in a known system.
type Ground struct {
	HeightMetres float64 // metres in one unit of height; 0 means 1
	CellMetres   float64 // metres in one unit of the frame, where its system is not known; 0 means ask the system
}

// spacing is the size of cells in metres, by row.
type spacing struct {
	dx, dy []float64
	height float64
}

// measure finds the size of the cells.
func (g Ground) measure(f raster.Frame) (spacing, error) {
	s := spacing{dx: make([]float64, f.Rows), dy: make([]float64, f.Rows), height: g.HeightMetres}
	if s.height == 0 {
		s.height = 1
	}
	if !(s.height > 0) || math.IsInf(s.height, 0) || !(g.CellMetres >= 0) || math.IsInf(g.CellMetres, 0) {
		return s, fmt.Errorf("a unit of height of %v m and one of length of %v m; both must be positive", g.HeightMetres, g.CellMetres)
	}
	// What the caller says wins over what the system says.
	unit := g.CellMetres
	if unit == 0 && !f.CRS.Geographic() {
		_, unit = f.CRS.Unit()
	}
	for r := range f.Rows {
		switch {
		case unit > 0:
			s.dx[r], s.dy[r] = f.DX*unit, f.DY*unit
		case f.CRS.Geographic():
			lat := f.Center(0, r)[1]
			// There a degree of longitude is under 200 m and gets shorter with every row.
			if math.Abs(lat) > 89.9 {
				return s, fmt.Errorf("row %d lies at latitude %v, where degrees of longitude have no length to speak of", r, lat)
			}
			perLon, perLat := degrees(lat)
			s.dx[r], s.dy[r] = f.DX*perLon, f.DY*perLat
		default:
			return s, fmt.Errorf("the heights have no coordinate system that can be used, so a cell has no size in metres; " +
				"bring the raster to one that is known")
		}
	}
	return s, nil
}

// degrees returns the metres in a degree of longitude and of latitude on the WGS 84 ellipsoid.
//
//	lon: N cos(lat) π/180,  N = a / √(1 - e² sin²lat)
//	lat: M π/180,           M = a (1 - e²) / (1 - e² sin²lat)^1.5
//
// Source: radii of curvature as in EPSG Guidance Note 7-2; WGS 84 a and f.
func degrees(lat float64) (lon, latitude float64) {
	const a, f = 6378137, 1 / 298.257223563
	const e2 = f * (2 - f)
	sin, cos := math.Sincos(lat * math.Pi / 180)
	w := 1 - e2*sin*sin
	return a / math.Sqrt(w) * cos * math.Pi / 180, a * (1 - e2) / (w * math.Sqrt(w)) * math.Pi / 180
}
