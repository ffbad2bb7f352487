package raster

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"
)

// Zone is all ground of one key.
type Zone[K Integer] struct {
	Key   K
	Shape orb.MultiPolygon // in the grid's system; shells counter-clockwise, holes clockwise, rings closed
}

// OutlineOptions tunes Polygonise; the zero value suits surveys.
type OutlineOptions struct {
	// MaxCorners bounds the corners of all rings; 0 means 50 million (0.8 GB). A map of units stays far below; noise
	// needs four and more for each cell.
	MaxCorners int
}

// Polygonise turns cells into zones, the smallest key first. The zones cover exactly the cells that hold a key:
//
//   - Cells hang together by their sides (4-connected). Each patch is one polygon, valid in the sense of OGC Simple
//     Features; two that meet in a corner stay two, and a hole may touch its shell there.
//   - Neighbours have their common border with the same corners, bit for bit. Corners are kept where a border turns and
//     where three patches or more meet, so borders stay common when they are projected corner by corner, or by a rule
//     that looks at one side alone such as proj.Densify.
//   - Polygons of a zone come in the order of their first cell by rows.
//
// Time and memory grow with the number of cells and corners and with nothing else. An error means that ctx ended or
// that there were too many corners.
func Polygonise[K Integer](ctx context.Context, g *Grid[K], opt OutlineOptions) ([]Zone[K], error) {
	l, err := label(ctx, g)
	if err != nil {
		return nil, err
	}
	t := tracer{l: l, frame: g.frame, seen: make([]uint64, (len(l.of)+63)/64), left: opt.MaxCorners}
	if t.left == 0 {
		t.left = 50e6
	}
	// by number of the patch; 0 is missing ground and stays empty
	polygons := make([]orb.Polygon, l.n+1)
	keys := make([]K, l.n+1)
	// By rows, so that a patch's first ring is the one round its northernmost cell: its shell.
	for row := range l.rows {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		for col := range l.cols {
			p := l.of[row*l.cols+col]
			// A ring is begun at a top side only: every ring, holes included, has one.
			if p == 0 || l.at(col, row-1) == p || t.met(col, row) {
				continue
			}
			ring, ok := t.ring(col, row)
			if !ok {
				return nil, fmt.Errorf("the outlines of %d × %d cells have too many corners; these cells look like noise, not like "+
					"map units: check that the raster holds keys, or read a smaller part of it", l.cols, l.rows)
			}
			polygons[p] = append(polygons[p], ring) // the first is the shell: it holds the top side of the first cell
			keys[p], _ = g.At(col, row)
		}
	}
	return gather(polygons[1:], keys[1:]), nil
}

// gather puts the patches of each key together.
func gather[K Integer](polygons []orb.Polygon, keys []K) []Zone[K] {
	order := make([]int32, len(keys))
	for i := range order {
		order[i] = int32(i)
	}
	// stable: the patches of a key stay in the order of their first cells
	slices.SortStableFunc(order, func(a, b int32) int { return cmp.Compare(keys[a], keys[b]) })
	var zones []Zone[K]
	for from := 0; from < len(order); {
		key, to := keys[order[from]], from
		for to < len(order) && keys[order[to]] == key {
			to++
		}
		shape := make(orb.MultiPolygon, 0, to-from)
		for _, i := range order[from:to] {
			shape = append(shape, polygons[i])
		}
		zones = append(zones, Zone[K]{key, shape})
		from = to
	}
	return zones
}

// tracer walks along the borders of patches, the patch on its left hand.
type tracer struct {
	l     *labels
	frame Frame
	seen  []uint64 // a bit for each cell whose top side was walked
	left  int      // corners that may still be made
	// of the ring at hand, used again for the next
	walk  []orb.Point
	store []orb.Point // what rings are cut from
}

// met says whether the top side of a cell was walked already, as part of a ring.
func (t *tracer) met(col, row int) bool {
	i := row*t.l.cols + col
	return t.seen[i/64]&(1<<(i%64)) != 0
}

// heading is a direction along the lines between cells; turning left adds one.
type heading int

const (
	west heading = iota
	south
	east
	north
)

// step returns the way to the next crossing of lines.
func (h heading) step() (dc, dr int) {
	// Rows count southward, so south is +1.
	return [...]int{-1, 0, 1, 0}[h], [...]int{0, 1, 0, -1}[h]
}

// ahead returns the cells left and right of the way from a crossing of lines, relative to it: crossing c, r is the
// north-west corner of cell c, r.
func (h heading) ahead() (leftCol, leftRow, rightCol, rightRow int) {
	a := [...][4]int{{-1, 0, -1, -1}, {0, 0, -1, 0}, {0, -1, 0, 0}, {-1, -1, 0, -1}}[h]
	return a[0], a[1], a[2], a[3]
}

// ring walks along the border that holds the top side of a cell, westward first. A corner is kept where the border turns,
// and where what lies on the right hand changes: there a third patch begins.
//
// Where two cells of one patch meet in a corner only, the way turns right, which keeps the ground on either side in
// rings of its own; the patch hangs together elsewhere, so no ring comes through such a corner twice.
func (t *tracer) ring(col, row int) (orb.Ring, bool) {
	patch := t.l.at(col, row)
	c, r, h := col+1, row, west
	t.walk = t.walk[:0]
	// The number of what lies on the right hand, 0 for nothing.
	right := t.l.at(col, row-1)
	for {
		// walking west with the patch on the left means along the top of its cells
		if h == west {
			i := r*t.l.cols + c - 1
			t.seen[i/64] |= 1 << (i % 64)
		}
		dc, dr := h.step()
		c, r = c+dc, r+dr
		lc, lr, rc, rr := h.ahead()
		aheadLeft, aheadRight := t.l.at(c+lc, r+lr), t.l.at(c+rc, r+rr)
		corner := true
		switch {
		// the border turns right, round a corner that is the patch's own
		case aheadRight == patch:
			h = (h + 3) % 4 // and the right hand keeps what it had
		// straight on
		case aheadLeft == patch:
			corner = right != aheadRight
			right = aheadRight
		default:
			h = (h + 1) % 4
			right = aheadLeft
		}
		if corner {
			if t.left--; t.left < 0 {
				return nil, false
			}
			t.walk = append(t.walk, orb.Point{t.frame.X(c), t.frame.Y(r)})
		}
		// back at the first crossing, headed the first way; the place alone would end at a corner passed twice
		if c == col+1 && r == row && h == west {
			return t.keep(), true
		}
	}
}

// keep closes the ring and stores it with others in one block.
func (t *tracer) keep() orb.Ring {
	n := len(t.walk) + 1
	if cap(t.store)-len(t.store) < n {
		// A hundred thousand small rings would be as many allocations; the old block stays with the rings cut from it.
		t.store = make([]orb.Point, 0, max(n, 1<<12))
	}
	from := len(t.store)
	t.store = append(append(t.store, t.walk...), t.walk[0])
	return orb.Ring(t.store[from:len(t.store):len(t.store)])
}
