package mapdraw

import (
	"math"
	"slices"
)

// Pattern is drawn over a fill, so that colour never stands alone.
type Pattern uint8

// The patterns.
const (
	Plain  Pattern = iota
	Dotted         // marginal: dots
	Lined          // unsuited: white lines at 45 degrees
	Dashed         // nothing known: sparse short dashes
)

// Patterns lists those that draw something.
func Patterns() []Pattern { return []Pattern{Dotted, Lined, Dashed} }

// color returns the colour of a pattern.
func (p Pattern) color() Color {
	switch p {
	case Dotted:
		return hex("3a3a3a")
	case Lined:
		return white()
	}
	return hex("666666")
}

// cut returns what of a pattern lies inside a shape: centres of dots, or lines. It is cut by geometry, line by line,
// because clip paths and tiling patterns differ from viewer to viewer and from printer to printer.
// Places hang on the origin of the drawing and not on the shape, so that the pattern runs on from one zone to the next.
func (p Pattern) cut(rings [][]Point, s Style) (dots []Point, lines [][]Point) {
	switch p {
	case Dotted:
		dots = cutDots(rings, s.DotPitch, s.DotRadius)
	case Lined:
		lines = shortened(cutSlanted(rings, s.LinePitch), s.LineWidth/2)
	case Dashed:
		lines = shortened(cutDashes(rings, s), s.DashWidth/2)
	}
	return dots, lines
}

// shortened takes a length off both ends of lines, for the round ends they are drawn with.
func shortened(lines [][]Point, by float64) [][]Point {
	out := lines[:0]
	for _, l := range lines {
		dx, dy := l[1].X-l[0].X, l[1].Y-l[0].Y
		length := math.Hypot(dx, dy)
		// The two ends would meet: nothing is left but a blot.
		if length <= 2*by {
			continue
		}
		dx, dy = dx/length*by, dy/length*by
		out = append(out, []Point{{l[0].X + dx, l[0].Y + dy}, {l[1].X - dx, l[1].Y - dy}})
	}
	return out
}

// cutDots returns the dots that lie wholly inside: a dot whose edge crosses a ring is dropped.
func cutDots(rings [][]Point, pitch, radius float64) []Point {
	var out []Point
	low, high := bounds(rings)
	for j := math.Floor(low.Y / pitch); j*pitch <= high.Y; j++ {
		// Half a pitch off, as in the pattern of an SVG, whose dots stand in the middle of their tiles.
		y := (j + 0.5) * pitch
		for _, span := range crossings(rings, y) {
			for i := math.Ceil(span[0]/pitch - 0.5); (i+0.5)*pitch < span[1]; i++ {
				if at := (Point{(i + 0.5) * pitch, y}); clearance(rings, at) > radius {
					out = append(out, at)
				}
			}
		}
	}
	return out
}

// cutSlanted returns lines that rise to the right at 45 degrees: in a frame turned by that much they are level.
func cutSlanted(rings [][]Point, pitch float64) [][]Point {
	turned := make([][]Point, len(rings))
	for i, r := range rings {
		turned[i] = make([]Point, len(r))
		for k, p := range r {
			turned[i][k] = Point{(p.X - p.Y) * (math.Sqrt2 / 2), (p.X + p.Y) * (math.Sqrt2 / 2)}
		}
	}
	var out [][]Point
	low, high := bounds(turned)
	for k := math.Ceil(low.Y / pitch); k*pitch <= high.Y; k++ {
		for _, span := range crossings(turned, k*pitch) {
			back := func(u float64) Point {
				return Point{(u + k*pitch) * (math.Sqrt2 / 2), (k*pitch - u) * (math.Sqrt2 / 2)}
			}
			out = append(out, []Point{back(span[0]), back(span[1])})
		}
	}
	return out
}

// cutDashes returns short level dashes, every other row set off by half a pitch.
func cutDashes(rings [][]Point, s Style) [][]Point {
	var out [][]Point
	low, high := bounds(rings)
	row := s.DashPitch / 2
	for j := math.Floor(low.Y / row); j*row <= high.Y; j++ {
		y := (j + 0.5) * row
		shift := math.Mod(math.Abs(j), 2) * s.DashPitch / 2
		for _, span := range crossings(rings, y) {
			first := math.Floor((span[0] - shift) / s.DashPitch)
			for x := first*s.DashPitch + shift; x < span[1]; x += s.DashPitch {
				from, to := max(x, span[0]), min(x+s.DashLength, span[1])
				// A dash shorter than it is wide would look like a dot, which is another class.
				if to-from > s.DashWidth {
					out = append(out, []Point{{from, y}, {to, y}})
				}
			}
		}
	}
	return out
}

// crossings returns the spans of the level line y that lie inside the rings by the even-odd rule. A corner on the line
// counts with the edge below it only, so that spans always pair up.
func crossings(rings [][]Point, y float64) [][2]float64 {
	var xs []float64
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a.Y > y) != (b.Y > y) {
				xs = append(xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
	}
	slices.Sort(xs)
	out := make([][2]float64, 0, len(xs)/2)
	for i := 0; i+1 < len(xs); i += 2 {
		out = append(out, [2]float64{xs[i], xs[i+1]})
	}
	return out
}

// bounds returns the least box around rings; nothing for no points.
func bounds(rings [][]Point) (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, r := range rings {
		for _, p := range r {
			low = Point{min(low.X, p.X), min(low.Y, p.Y)}
			high = Point{max(high.X, p.X), max(high.Y, p.Y)}
		}
	}
	return low, high
}

// clearance returns how far the nearest ring is: positive inside by the even-odd rule, negative outside.
func clearance(rings [][]Point, at Point) float64 {
	return clearanceOver(rings, at, math.Inf(-1))
}

// clearanceOver is the clearance where that is more than so much, else anything that is not: a search for the roomiest
// place need not look at the rest of a ring that comes too near.
func clearanceOver(rings [][]Point, at Point, so float64) float64 {
	least, inside, enough := math.Inf(1), false, math.Inf(-1)
	if so > 0 {
		enough = so * so
	}
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a.Y > at.Y) != (b.Y > at.Y) && at.X < a.X+(at.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				inside = !inside
			}
			if least = min(least, toSegment(at, a, b)); least <= enough {
				return so
			}
		}
	}
	if inside {
		return math.Sqrt(least)
	}
	return -math.Sqrt(least)
}

// toSegment returns the square of the distance from p to the line a-b.
func toSegment(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := 0.0
	if d := dx*dx + dy*dy; d > 0 {
		t = max(0, min(1, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/d))
	}
	x, y := a.X+t*dx-p.X, a.Y+t*dy-p.Y
	return x*x + y*y
}
