package geojson

import (
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// coords gathers a "coordinates" member before its geometry type is known, since members come in any order. Lists
// are told by their height: a position has 0, a ring 1, a polygon 2, a multipolygon 3.
type coords struct {
	// All positions in one list, with marks of where rings and polygons end: no list of lists is built while the type is
	// unknown, and the memory is used again for the next feature.
	points  []orb.Point
	rings   []int  // number of points up to the end of each ring
	polys   []int  // number of rings up to the end of each polygon
	height  int    // of the whole; empty when nothing was in it
	problem string // why the coordinates cannot be used
}

// empty is the height of a list that holds nothing.
const empty = -1

func (c *coords) reset() {
	// Kept for the next feature, since a file has thousands; [coords.shape] copies what leaves here.
	*c = coords{points: c.points[:0], rings: c.rings[:0], polys: c.polys[:0], height: empty}
}

// spoil notes the first problem; reading goes on, to find the end of the value.
func (c *coords) spoil(what string) {
	if c.problem == "" {
		c.problem = what
	}
}

// read takes the member's value.
func (c *coords) read(x *lexer) error {
	c.reset()
	b, err := x.peek()
	if err != nil {
		return err
	}
	if b != '[' {
		c.spoil("its coordinates are no list")
		return x.value(0)
	}
	c.height, err = c.list(x, 0)
	return err
}

// list takes a list at the given depth and returns its height.
// Lists of lists are taken whatever they hold, so that reading goes on behind coordinates that make no sense; what is
// wrong is kept in problem.
func (c *coords) list(x *lexer, depth int) (int, error) {
	// Positions, rings, polygons, multipolygon: four levels, counted from 0.
	if depth > 3 {
		c.spoil("its coordinates are nested deeper than those of a MultiPolygon")
		return empty, x.value(depth)
	}
	if err := x.expect('['); err != nil {
		return 0, err
	}
	height := empty
	for n := 0; ; n++ {
		more, err := x.more(n, ']')
		if err != nil {
			return 0, err
		}
		if !more {
			return c.close(height), nil
		}
		b, err := x.peek()
		if err != nil {
			return 0, err
		}
		// A list that begins with a number is a position, and position takes it to its end.
		if n == 0 && numeric(b) {
			return 0, c.position(x)
		}
		if b != '[' {
			c.spoil("its coordinates hold something else than lists of numbers")
			if err := x.value(depth); err != nil {
				return 0, err
			}
			continue
		}
		h, err := c.list(x, depth+1)
		if err != nil {
			return 0, err
		}
		if h != empty && height != empty && h != height {
			c.spoil("its coordinates are nested unevenly")
		}
		// Empty lists have no height of their own and fit anywhere.
		height = max(height, h)
	}
}

// numeric tells whether a value that begins with b is a number or a word that stands for none.
// N and I begin NaN and Infinity, which are no JSON, but are written.
func numeric(b byte) bool {
	return b >= '0' && b <= '9' || b == '-' || b == '+' || b == 'N' || b == 'I' || b == 'i'
}

// close ends a list whose items have the given height.
func (c *coords) close(height int) int {
	switch height {
	case empty:
		return empty
	case 0:
		c.rings = append(c.rings, len(c.points))
	case 1:
		c.polys = append(c.polys, len(c.rings))
	}
	// Heights over 3 cannot come here: list stops before.
	return height + 1
}

// position takes the numbers of a position up to its end; a height or more behind the first two is passed over.
// The bracket before it has been taken by list, which looked one byte ahead.
func (c *coords) position(x *lexer) error {
	var p orb.Point
	for n := 0; ; n++ {
		more, err := x.more(n, ']')
		if err != nil {
			return err
		}
		if !more {
			if n < 2 {
				c.spoil("a position has fewer than two numbers")
			}
			c.points = append(c.points, p)
			return nil
		}
		v, err := c.coordinate(x)
		if err != nil {
			return err
		}
		if n < 2 {
			p[n] = v
		}
	}
}

// coordinate takes one number. Words like NaN, and numbers too large to hold, become NaN or an infinity, which the
// repair of rings takes out and tells of.
func (c *coords) coordinate(x *lexer) (float64, error) {
	b, err := x.peek()
	if err != nil {
		return 0, err
	}
	if !numeric(b) {
		c.spoil("a position holds something else than numbers")
		return 0, x.value(0)
	}
	ok, err := x.number()
	if err != nil || !ok {
		return math.NaN(), err
	}
	v, _ := strconv.ParseFloat(string(x.text), 64) // a number out of range is ±Inf
	return v, nil
}

// shape builds the polygons, as they are nested; the type said is compared by the caller.
func (c *coords) shape() orb.MultiPolygon {
	// A lone position, or nothing: there is no ring.
	if c.height < 1 {
		return nil
	}
	points := make([]orb.Point, len(c.points)) // one block for all rings
	copy(points, c.points)
	rings := make(orb.Polygon, 0, len(c.rings))
	from := 0
	for _, to := range c.rings {
		// With its capacity cut off, so that whoever appends to a ring does not write into the next one.
		rings = append(rings, orb.Ring(points[from:to:to]))
		from = to
	}
	if c.height < 3 {
		return orb.MultiPolygon{rings}
	}
	out := make(orb.MultiPolygon, 0, len(c.polys))
	from = 0
	for _, to := range c.polys {
		// An empty polygon within a MultiPolygon has no ground, and is left out.
		if to > from {
			out = append(out, rings[from:to:to])
		}
		from = to
	}
	return out
}
