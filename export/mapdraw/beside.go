package mapdraw

// mostBeside is how many labels are tried beside their fields: on a map of more nobody could read them.
const mostBeside = 300

// rect is a box on the sheet.
type rect struct{ low, high Point }

// meets says whether two boxes overlap or touch.
func (r rect) meets(o rect) bool {
	return r.low.X <= o.high.X && o.low.X <= r.high.X && r.low.Y <= o.high.Y && o.low.Y <= r.high.Y
}

// within says whether a box lies in a frame.
func (r rect) within(f frame) bool {
	return r.low.X > f.x && r.low.Y > f.y && r.high.X < f.x+f.w && r.high.Y < f.y+f.h
}

// around returns the box of a given size around a place.
func around(at Point, w, h float64) rect {
	return rect{Point{at.X - w/2, at.Y - h/2}, Point{at.X + w/2, at.Y + h/2}}
}

// beside moves labels that found no room in their field to its right, left, top or bottom, where they hide no other
// field and no other label. It returns those that found no place there either.
func (m *sheet) beside(f frame, fields [][]part, labels []label) (placed, rest []label) {
	if len(labels) > mostBeside {
		return nil, labels
	}
	taken := make([]rect, 0, len(fields)+len(labels))
	for _, parts := range fields {
		// A field without a shape has a box that is inside out.
		if low, high := bounds(rings(parts)); low.X <= high.X {
			taken = append(taken, rect{low, high})
		}
	}
	for _, l := range labels {
		if !l.out {
			w, h := boxSize(l.text, l.size)
			taken = append(taken, around(l.at, w, h))
		}
	}
	for _, l := range labels {
		if !l.out {
			placed = append(placed, l)
			continue
		}
		if at, box, ok := freeBeside(f, l, taken); ok {
			l.at, l.out = at, false
			taken = append(taken, box)
			placed = append(placed, l)
		} else {
			rest = append(rest, l)
		}
	}
	return placed, rest
}

// freeBeside looks for room on the four sides of the box that a label points into.
func freeBeside(f frame, l label, taken []rect) (at Point, box rect, ok bool) {
	const gap = 3
	w, h := boxSize(l.text, l.size)
	own := around(l.at, 0, 0)
	for _, t := range taken {
		// Fields come first in the list, so the first box that holds the place is the field's.
		if t.meets(around(l.at, 0, 0)) {
			own = t // the field itself
			break
		}
	}
	middle := Point{(own.low.X + own.high.X) / 2, (own.low.Y + own.high.Y) / 2}
	for _, p := range sidesOf(own, middle, w, h, gap) {
		box = around(p, w, h)
		free := box.within(f)
		for i := 0; free && i < len(taken); i++ {
			free = !box.meets(taken[i])
		}
		if free {
			return p, box, true
		}
	}
	return Point{}, rect{}, false
}

// sidesOf lists places for a label beside a box, the best first: at its right, left, top and bottom, then at the same
// sides moved along by half a label and by a whole one.
func sidesOf(own rect, middle Point, w, h, gap float64) (out []Point) {
	for _, k := range []float64{0, 0.5, -0.5, 1, -1} {
		out = append(out, Point{own.high.X + gap + w/2, middle.Y + k*h}, Point{own.low.X - gap - w/2, middle.Y + k*h},
			Point{middle.X + k*w, own.low.Y - gap - h/2}, Point{middle.X + k*w, own.high.Y + gap + h/2})
	}
	return out
}

// columnsFree says whether labels that are called out to the edges of the frame hide none of those that stand in it.
// A label that stands where a column would run is in its way.
func columnsFree(f frame, standing, out []label) bool {
	wide := 0.0
	for _, l := range out {
		w, _ := boxSize(l.text, l.size)
		wide = max(wide, w)
	}
	if len(out) == 0 {
		return true
	}
	const edge = 8 // what a column keeps off the frame, and off what stands beside it
	if 2*(wide+edge) > f.w {
		return false // the two columns would meet
	}
	west := rect{Point{f.x, f.y}, Point{f.x + wide + edge, f.y + f.h}}
	east := rect{Point{f.x + f.w - wide - edge, f.y}, Point{f.x + f.w, f.y + f.h}}
	for _, l := range standing {
		w, h := boxSize(l.text, l.size)
		if box := around(l.at, w, h); box.meets(west) || box.meets(east) {
			return false
		}
	}
	return true
}
