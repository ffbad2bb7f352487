package overlay

import "rootworthy/internal/geo"

// nest tests, of rings without contact, that those that run counterclockwise are outer rings (an even number of rings
// around them) and the others holes, and finds the ring directly around each.
func (c *checker) nest() verdict {
	n := len(c.rings)
	c.parent = c.parent[:0]
	if n == 1 {
		c.parent = append(c.parent, -1)
		if c.areas[0].Sign() < 0 {
			return misplaced
		}
		return clean
	}
	for i := range n {
		around, depth := int32(-1), 0
		for j := range n {
			if i == j || !c.surrounds(j, i) {
				continue
			}
			depth++
			if around < 0 || c.inside(c.boxes[j], c.boxes[around]) {
				around = int32(j)
			}
		}
		if outer := c.areas[i].Sign() > 0; outer != (depth%2 == 0) {
			return misplaced
		}
		c.parent = append(c.parent, around)
	}
	return clean
}

// inside compares the boxes of two rings that both go round a third: one then lies inside the other, and so does its
// box. Rings without contact cannot have equal boxes that nest, so this decides.
func (c *checker) inside(a, b geo.Box) bool {
	return a.X0 >= b.X0 && a.X1 <= b.X1 && a.Y0 >= b.Y0 && a.Y1 <= b.Y1
}

// surrounds says whether ring j goes round ring i. They have no contact, so one point of i tells; it is not on j.
func (c *checker) surrounds(j, i int) bool {
	p := c.pts[c.rings[i].start]
	if b := &c.boxes[j]; !c.inside(c.boxes[i], *b) || !b.Holds(p) {
		return false
	}
	in := false
	for k := range c.chunks {
		r, box := &c.chunks[k], &c.around[k]
		if r.ring != int32(j) || box.Y1 <= p.Y || box.Y0 > p.Y || box.X1 < p.X {
			continue
		}
		for e := r.first; e < r.first+r.n; e++ {
			a, b := c.pts[e], c.pts[e+1]
			if up := b.Y > p.Y; a.Y > p.Y != up {
				in = in != (orient(a, b, p, c.wide) > 0 == up)
			}
		}
	}
	return in
}
