package mapdraw

import (
	"math"

	"github.com/paulmach/orb"
)

// How a shaded relief is marked.
const (
	reliefStep  = 6   // distance of the marks, in units
	reliefLong  = 1.2 // length of a mark in full shade, in steps
	reliefWidth = 0.55
	reliefFrom  = 0.6 // light under which ground is marked; level ground has 0.71
)

// strokesMean explains the strokes below a map that has some; no row of the legend does.
const strokesMean = "Small strokes mark slopes in shade, as if light came from the north-west."

// relief marks the lie of the land over the fills: ground in shade by small strokes that fall to the right, the longer the
// darker. Strokes rather than a veil of grey, so that fills keep the colours of the legend, and of a way that no class's
// pattern has: those are dots, lines that rise to the right, and level dashes.
func (m *sheet) relief(v view, f frame) {
	if m.o.Shade == nil {
		return
	}
	var marks [][]Point
	for row, y := 0, f.y+reliefStep/2; y < f.y+f.h; row, y = row+1, y+reliefStep {
		// Every other row is set off by half a step, so that the marks make no columns.
		for x := f.x + reliefStep/4*float64(1+row%2*2); x < f.x+f.w; x += reliefStep {
			light, ok := m.o.Shade(v.back(Point{x, y}))
			if !ok || light >= reliefFrom {
				continue
			}
			// Half the length along each axis, for strokes that fall at 45 degrees: none at the bound, full where there is no light.
			half := (reliefFrom - light) / reliefFrom * reliefLong * reliefStep / 2 * math.Sqrt2 / 2
			marks = append(marks, []Point{{math.Max(f.x, x-half), math.Max(f.y, y-half)}, {math.Min(f.x+f.w, x+half), math.Min(f.y+f.h, y+half)}})
		}
	}
	if len(marks) > 0 {
		m.foot = append([]string{strokesMean}, m.foot...)
		m.d.Notes = m.foot
		m.d.add(Line{Paths: marks, Width: reliefWidth, Color: ink()})
	}
}

// back returns the place that stands at a point of the sheet.
func (v view) back(p Point) orb.Point {
	return orb.Point{v.origin[0] + (p.X-v.middle.X)/(v.perLon*v.scale), v.origin[1] - (p.Y-v.middle.Y)/(v.perLat*v.scale)}
}
