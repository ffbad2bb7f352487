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
		if t.meets(around(l.at, 0, 0)) {
			own = t // the field itself
			break
		}
	}
	middle := Point{(own.low.X + own.high.X) / 2, (own.low.Y + own.high.Y) / 2}
	for _, p := range []Point{{own.high.X + gap + w/2, middle.Y}, {own.low.X - gap - w/2, middle.Y}, {middle.X, own.low.Y - gap - h/2}, {middle.X, own.high.Y + gap + h/2}} {
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
