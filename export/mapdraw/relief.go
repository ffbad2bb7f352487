package mapdraw

import "github.com/paulmach/orb"

// reliefStep is the distance of the marks of a shaded relief, in units.
const reliefStep = 6

// relief marks the lie of the land over the fills: where ground is in shade a small dark dot, the larger the darker.
// Dots rather than a veil of grey, so that the fills keep the colours of the legend.
func (m *sheet) relief(v view, f frame) {
	if m.o.Shade == nil {
		return
	}
	for y := f.y + reliefStep/2; y < f.y+f.h; y += reliefStep {
		for x := f.x + reliefStep/2; x < f.x+f.w; x += reliefStep {
			if light, ok := m.o.Shade(v.back(Point{x, y})); ok && light < 0.5 {
				m.d.add(Dot{At: Point{x, y}, Radius: 0.25 + (0.5-light)*reliefStep/5, Color: grey()})
			}
		}
	}
}

// back returns the place that stands at a point of the sheet.
func (v view) back(p Point) orb.Point {
	return orb.Point{v.origin[0] + (p.X-v.middle.X)/(v.perLon*v.scale), v.origin[1] - (p.Y-v.middle.Y)/(v.perLat*v.scale)}
}
