package geotiff

import (
	"fmt"
	"math"

	"rootworthy/raster"
)

// place reads where the cells of the first picture lie.
//
// Source: OGC GeoTIFF 1.1 (19-008r4), section 7.6 and annex B on raster to model space; GTRasterTypeGeoKey (1025):
// 1 the tie point is the corner of a pixel, 2 its middle.
func (p *page) place(keys geoKeys) (raster.Frame, error) {
	f := raster.Frame{Cols: p.cols, Rows: p.rows}
	m, tag, err := p.affine()
	if err != nil {
		return f, err
	}
	e, _ := p.find(tag)
	switch {
	case m.bx != 0 || m.ay != 0:
		return f, p.fault(tag, e.at, "the raster is turned or sheared (%v, %v); bring it to a grid along its axes first", m.bx, m.ay)
	// Negated, so that NaN is refused too.
	case !(m.ax > 0) || !(m.by < 0):
		return f, p.fault(tag, e.at, "columns of %v and rows of %v do not run from west to east and north to south; "+
			"write it again with north up", m.ax, m.by)
	}
	f.West, f.North, f.DX, f.DY = m.x, m.y, m.ax, -m.by
	// Absent means corners, as nearly all writers mean it.
	if kind, ok := keys.number(keyRasterType); ok && kind == 2 {
		f.West, f.North = f.West-f.DX/2, f.North+f.DY/2
	}
	if err := f.Check(); err != nil {
		return f, p.fault(tag, e.at, "%v", err)
	}
	return f, nil
}

// affine turns column and row into coordinates: x + ax·column + bx·row, y + ay·column + by·row.
type affine struct{ x, ax, bx, y, ay, by float64 }

// affine reads tie point and pixel scale, or the matrix, and which tag said so.
func (p *page) affine() (m affine, tag uint16, err error) {
	scale, err := p.doubles(tagPixelScale)
	if err != nil {
		return m, 0, err
	}
	tie, err := p.doubles(tagTiePoint)
	if err != nil {
		return m, 0, err
	}
	matrix, err := p.doubles(tagTransformation)
	if err != nil {
		return m, 0, err
	}
	switch {
	case len(scale) >= 2 && len(tie) >= 6:
		// The scale of y is positive for north up; a few writers give it a sign all the same.
		dx, dy := scale[0], math.Abs(scale[1])
		return affine{x: tie[3] - tie[0]*dx, ax: dx, y: tie[4] + tie[1]*dy, by: -dy}, tagPixelScale, nil
	// row by row, four to a row: x from column, row, height and 1; then y
	case len(matrix) >= 8:
		return affine{matrix[3], matrix[0], matrix[1], matrix[7], matrix[4], matrix[5]}, tagTransformation, nil
	// a scan pinned to the map at some points: no grid without warping it
	case len(tie) >= 12:
		e, _ := p.find(tagTiePoint)
		return m, 0, p.fault(tagTiePoint, e.at, "%d control points without a pixel size are not read; "+
			"bring the raster to a grid along its axes first", len(tie)/6)
	}
	return m, 0, fmt.Errorf("%s: %s is missing: nothing says where the cells lie; write it again as a GeoTIFF with its place",
		p.name, tagName(tagPixelScale))
}
