package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// connected looks whether rings touch so that they cut the ground in two. Take rings and the points where they
// touch as the nodes of a graph, each point joined to the rings it is on: the ground is cut if and only if there is a
// circle in it. Rings that cross each other in vertices only do so at least twice, and so are found here too.
func (c *Checker) connected() {
	if len(c.touches) == 0 {
		return
	}
	slices.SortFunc(c.touches, func(t, u touch) int {
		switch {
		case t.at != u.at:
			return t.at.Compare(u.at)
		case t.ring != u.ring:
			return int(t.ring - u.ring)
		}
		return int(t.with - u.with)
	})
	c.parent = c.parent[:0]
	for i := range c.rings {
		c.parent = append(c.parent, int32(i))
	}
	var here []int32
	for i := 0; i < len(c.touches); {
		at, part := c.touches[i].at, c.rings[c.touches[i].ring].part
		here = here[:0]
		for ; i < len(c.touches) && c.touches[i].at == at && c.rings[c.touches[i].ring].part == part; i++ {
			here = append(here, c.touches[i].ring, c.touches[i].with)
		}
		slices.Sort(here)
		here = slices.Compact(here)
		for _, r := range here[1:] {
			if !c.join(here[0], r) {
				c.fault(Disconnected, r, at)
			}
		}
	}
}

// join joins the groups of two rings. It returns false if they were one already.
func (c *Checker) join(r, s int32) bool {
	r, s = c.root(r), c.root(s)
	c.parent[max(r, s)] = min(r, s)
	return r != s
}

// root returns the ring that stands for the group of r.
func (c *Checker) root(r int32) int32 {
	for c.parent[r] != r {
		c.parent[r] = c.parent[c.parent[r]]
		r = c.parent[r]
	}
	return r
}

// nesting looks whether each hole is inside its outer ring and inside no other hole. Rings do not cross here, so one
// point of a hole tells, if it is not on the other ring.
func (c *Checker) nesting() {
	c.odd = append(c.odd[:0], make([]bool, len(c.rings))...)
	var crossed []int32
	for h := range c.rings {
		hole := &c.rings[h]
		if hole.index == 0 {
			continue
		}
		outer := int32(h) - hole.index
		if at, ok := c.freePoint(int32(h)); ok {
			crossed = c.ray(at, hole.part, crossed[:0])
			for _, r := range crossed {
				if c.odd[r] && r != outer && r != int32(h) {
					c.fault(NestedHole, int32(h), at)
				}
			}
			if !c.odd[outer] {
				c.fault(HoleOutside, int32(h), at)
			}
			for _, r := range crossed {
				c.odd[r] = false
			}
		} else {
			c.nestingByPairs(int32(h), outer)
		}
		if c.done() {
			return
		}
	}
}

// freePoint returns a point of a ring that is on no other ring of its part.
func (c *Checker) freePoint(ring int32) (at geo.Pt, ok bool) {
	for _, p := range c.rings[ring].points {
		k, _ := slices.BinarySearchFunc(c.touches, p, func(t touch, p geo.Pt) int { return t.at.Compare(p) })
		free := true
		for ; k < len(c.touches) && c.touches[k].at == p; k++ {
			free = free && c.touches[k].ring != ring && c.touches[k].with != ring
		}
		if free {
			return p, true
		}
	}
	return at, false
}

// ray sets odd for the rings of a part that a line straight up from a point meets an odd number of times, and returns
// all rings it meets.
func (c *Checker) ray(at geo.Pt, part int32, met []int32) []int32 {
	top := len(c.levels)
	for k := range c.width(top) {
		met = c.rayNode(top, k, at, part, met)
	}
	return met
}

func (c *Checker) rayNode(depth, k int, at geo.Pt, part int32, met []int32) []int32 {
	if b := c.boxAt(depth, k); at.X < b.X0 || at.X > b.X1 || at.Y > b.Y1 {
		return met
	}
	if depth > 0 {
		for i := k * treeFan; i < min((k+1)*treeFan, c.width(depth-1)); i++ {
			met = c.rayNode(depth-1, i, at, part, met)
		}
		return met
	}
	ch := &c.chains[k]
	r := &c.rings[ch.ring]
	if r.part != part {
		return met
	}
	for i := ch.start; i < ch.start+ch.n; i++ {
		if under(at, r.points[i], r.points[after(i, r.points)]) {
			c.odd[ch.ring] = !c.odd[ch.ring]
			met = append(met, ch.ring)
		}
	}
	return met
}

// under says whether a line straight up from p meets the edge a-b. An end on the line counts as left of it, so where
// the line goes through a vertex it meets one of its two edges if the ring passes from side to side, else none or both.
func under(p, a, b geo.Pt) bool {
	if (a.X > p.X) == (b.X > p.X) {
		return false
	}
	if b.X > a.X {
		return geo.Orient(a, b, p) < 0
	}
	return geo.Orient(b, a, p) < 0
}

// nestingByPairs is nesting for a hole whose every point is on some other ring. It has at least three points and no
// ring touches it in two of them, so for each other ring some point of the hole is off it.
func (c *Checker) nestingByPairs(h, outer int32) {
	hole := &c.rings[h]
	for r := outer; int(r) < len(c.rings) && c.rings[r].part == hole.part; r++ {
		if r == h {
			continue
		}
		at := c.pointOff(h, r)
		inside := false
		for i, p := range c.rings[r].points {
			if under(at, p, c.rings[r].points[after(int32(i), c.rings[r].points)]) {
				inside = !inside
			}
		}
		switch {
		case r == outer && !inside:
			c.fault(HoleOutside, h, at)
		case r != outer && inside:
			c.fault(NestedHole, h, at)
		}
	}
}

// pointOff returns a point of ring h that is not on ring r.
func (c *Checker) pointOff(h, r int32) geo.Pt {
	points := c.rings[h].points
	for _, t := range c.touches {
		if t.ring == min(h, r) && t.with == max(h, r) && t.at == points[0] {
			return points[1]
		}
	}
	return points[0]
}
