package proj

import "fmt"

// mostForLines is how far off in metres a system may put what lines cut: more than the 4 m that EPSG gives for NAD83 as of
// 1986, which soil surveys and boundaries are drawn on, and less than the 10 m of the best single shift of NAD27, which is
// a spreader's swath. Common practice, no source.
const mostForLines = 5

// Accuracy returns how far off in metres a place may lie when this system is used as longitude and latitude on WGS 84, and
// by whose word; 0 and "" for WGS 84 itself and for the zero value. It speaks of the datum, not of the care that a file was
// made with.
func (c CRS) Accuracy() (metres float64, source string) {
	d, ok := datumByCode(c.datum)
	if !ok {
		return 0, ""
	}
	return d.tie.metres, d.tie.by
}

// FitForLines returns nil for a system that is good enough for lines by which ground is cut: boundaries, soil polygons,
// the cells of soil rasters. For any other it returns the one sentence that says why not and what to do. Whatever ends in
// zones or in a spreader asks it; where a few metres to the side change little, such as under heights, the answer is left
// unasked and [CRS.Note] is told.
func (c CRS) FitForLines() error {
	metres, source := c.Accuracy()
	if metres <= mostForLines {
		return nil
	}
	named := quote(c.name)
	if c.code != 0 {
		named += fmt.Sprintf(" (EPSG:%d)", c.code)
	}
	d, _ := datumByCode(c.datum)
	return fmt.Errorf("coordinate system %s stands on %s, which this program brings to WGS 84 only to about %g m (%s): too far off for "+
		"lines that cut ground; convert the file to EPSG:4326 by a transformation with a grid of shifts (NADCON) first",
		named, d.name, metres, source)
}
