package mapdraw

import "math"

// gridSteps is how many places on a side the search for a label looks at, at first and in each refinement.
const gridSteps, finerSteps, refinements = 14, 5, 4

// roomiest returns the place in a part that is farthest from all its rings, holes too, and that distance: the largest
// inscribed circle, by a grid that is refined around its best place. The centroid may lie in a hole or outside.
//
// Stretch measures lengths up and down that many times as long, so that the circle becomes as wide as the label it is
// for; 1 is a circle.
// The answer is a place and a radius in units of the sheet; for a stretched search the radius is in stretched units, fit only to compare
// places of one label.
func roomiest(p part, stretch float64) (at Point, radius float64) {
	// Stretched upwards, a circle of room is a flat ellipse of it on the sheet: labels are wider than they are high.
	scaled := make(part, len(p))
	for i, r := range p {
		scaled[i] = make([]Point, len(r))
		for k, q := range r {
			scaled[i][k] = Point{q.X, q.Y * stretch}
		}
	}
	low, high := bounds(scaled)
	radius = math.Inf(-1)
	look := func(low, high Point, steps int) {
		dx, dy := (high.X-low.X)/float64(steps), (high.Y-low.Y)/float64(steps)
		for j := range steps {
			for i := range steps {
				q := Point{low.X + (float64(i)+0.5)*dx, low.Y + (float64(j)+0.5)*dy}
				if c := clearanceOver(scaled, q, radius); c > radius {
					at, radius = q, c
				}
			}
		}
	}
	look(low, high, gridSteps)
	w, h := (high.X-low.X)/gridSteps, (high.Y-low.Y)/gridSteps
	for range refinements {
		// Each time around the best place so far, one step of the last grid to either side.
		look(Point{at.X - w, at.Y - h}, Point{at.X + w, at.Y + h}, finerSteps)
		w, h = w*2/finerSteps, h*2/finerSteps
	}
	return Point{at.X, at.Y / stretch}, radius
}

// boxFits says whether a box around a place lies wholly in a part: its middle does, and no ring enters it.
func boxFits(p part, at Point, w, h float64) bool {
	// Without this a box that lies wholly in a hole, or wholly outside, would pass: no ring enters it.
	if clearance(p, at) <= 0 {
		return false
	}
	for _, r := range p {
		for i, a := range r {
			if entersBox(a, r[(i+1)%len(r)], at, w/2, h/2) {
				return false
			}
		}
	}
	return true
}

// entersBox says whether a line meets the box at ± (w, h): it is cut back to the box side by side until nothing is left
// or all sides are passed (Liang and Barsky 1984).
func entersBox(a, b, at Point, w, h float64) bool {
	from, to := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, side := range [...][2]float64{{-dx, a.X - (at.X - w)}, {dx, at.X + w - a.X}, {-dy, a.Y - (at.Y - h)}, {dy, at.Y + h - a.Y}} {
		p, q := side[0], side[1]
		switch {
		// The line runs along this side and lies beyond it.
		case p == 0 && q < 0:
			return false
		case p < 0:
			from = max(from, q/p)
		case p > 0:
			to = min(to, q/p)
		}
	}
	return from <= to
}

// label is a text that belongs to a place.
type label struct {
	text string
	at   Point // middle of its box, or the place it is called out from
	out  bool  // there is no room at the place
	size float64
}

// Sizes of the white box around a label, in parts of the text.
const boxHeight, boxPad, textDrop = 1.3, 0.35, 0.36

// boxSize returns the size of the box around a label.
func boxSize(text string, size float64) (w, h float64) {
	return TextWidth(text, size, true) + 2*boxPad*size, boxHeight * size
}

// mostLabelled is how many parts of one zone may carry its label.
const mostLabelled = 4

// labelsFor places the label of one thing: in each of its largest parts that has room, else called out from the roomiest.
func labelsFor(parts []part, text string, size float64) []label {
	w, h := boxSize(text, size)
	var out []label
	best, most := Point{}, math.Inf(-1)
	for _, p := range largest(parts, mostLabelled) {
		at, radius := roomiest(p, w/h)
		if radius > most {
			best, most = at, radius
		}
		// A unit to spare on every side, so that the box's rim does not lie on a line.
		if boxFits(p, at, w+2, h+2) {
			out = append(out, label{text, at, false, size})
		}
	}
	if len(out) == 0 && !math.IsInf(most, 0) {
		at := best
		out = append(out, label{text, at, true, size})
	}
	return out
}

// largest returns the n largest parts, in their order.
func largest(parts []part, n int) []part {
	if len(parts) <= n {
		return parts
	}
	areas := make([]float64, len(parts))
	for i, p := range parts {
		areas[i] = p.area()
	}
	var out []part
	for i := range parts {
		bigger := 0
		for k := range parts {
			// Of equal parts the earlier counts as larger, so that exactly n are left.
			if areas[k] > areas[i] || areas[k] == areas[i] && k < i {
				bigger++
			}
		}
		if bigger < n {
			out = append(out, parts[i])
		}
	}
	return out
}
