package raster

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// leastShare is the share of a cell under which it is not touched: rounding of coordinates in cells of some 1e6 leaves
// 1e-10.
const leastShare = 1e-9

// stripCells bounds the memory for shares: 8 MB.
const stripCells = 1 << 20

// Coverage calls visit for every cell of the frame that a polygon covers, by rows, with the share of the cell that lies
// inside: over 0, up to 1, exact but for rounding. Rings may turn either way; the first of each polygon is its shell, and
// parts do not overlap. It returns the area of the whole polygon in cells, what lies beyond the frame included. An error
// means a corner that is no number.
//
// It is the signed-area method of drawing fonts: each edge adds what lies east of it, row by row, so a cell in the middle
// costs one addition.
func Coverage(f Frame, mp orb.MultiPolygon, visit func(col, row int, share float64)) (area float64, err error) {
	if err := f.Check(); err != nil {
		return 0, err
	}
	// In cells from here on: a cell is a square of 1 by 1, whatever its size on the ground.
	edges, area, err := edgesOf(f, mp)
	if err != nil || len(edges) == 0 {
		return 0, err
	}
	// Only the window is swept. What lies west of it still counts in its first column, see piece.
	w := f.Covering(mp.Bound())
	if w.Empty() {
		return area, nil
	}
	// As many rows at once as the memory allows, one at least.
	height := min(w.Rows, max(1, stripCells/(w.Cols+1)))
	s := strip{cols: w.Cols, sums: make([]float64, height*(w.Cols+1))}
	for row := w.Row; row < w.Row+w.Rows; row += height {
		s.rows = min(height, w.Row+w.Rows-row)
		clear(s.sums)
		// every edge for every strip: a field has one strip, larger ground a few
		for _, e := range edges {
			s.add(e.u0-float64(w.Col), e.v0-float64(row), e.u1-float64(w.Col), e.v1-float64(row))
		}
		s.visit(func(c, r int, share float64) { visit(w.Col+c, row+r, share) })
	}
	return area, nil
}

// edge is a side of a ring in cells from the north-west corner, turned so that the ground inside counts positive.
type edge struct{ u0, v0, u1, v1 float64 }

// edgesOf returns the sides of a polygon and its area in cells.
func edgesOf(f Frame, mp orb.MultiPolygon) (edges []edge, area float64, err error) {
	for _, poly := range mp {
		for k, ring := range poly {
			start, size := len(edges), 0.0
			for i := range ring {
				u0, v0 := f.place(ring[i])
				// a ring that is not closed is closed here; the doubled corner of one that is adds nothing
				u1, v1 := f.place(ring[(i+1)%len(ring)])
				if !finite(u0, v0) {
					return nil, 0, fmt.Errorf("corner %v has no place in the grid; repair the polygon", ring[i])
				}
				edges = append(edges, edge{u0, v0, u1, v1})
				// from the ring's own corner, or large coordinates cost digits
				a0, b0 := f.place(ring[0])
				size += ((u0-a0)*(v1-b0) - (u1-a0)*(v0-b0)) / 2
			}
			if (size < 0) != (k > 0) { // rows count down, so a shell that turns clockwise on the map adds up positive
				for i := start; i < len(edges); i++ {
					e := edges[i]
					edges[i] = edge{e.u1, e.v1, e.u0, e.v0}
				}
			}
			// Holes are taken off whichever way they turn.
			if k > 0 {
				size = -math.Abs(size)
			}
			area += math.Abs(size) * sign(k == 0)
		}
	}
	return edges, area, nil
}

func sign(plus bool) float64 {
	if plus {
		return 1
	}
	return -1
}

// strip holds, for some rows, how the covered share changes from each cell to the next.
type strip struct {
	cols, rows int
	sums       []float64 // rows × (cols+1)
}

// add takes in an edge, row by row.
func (s *strip) add(u0, v0, u1, v1 float64) {
	// along a row nothing lies east of it that did not before
	if v0 == v1 {
		return
	}
	dir := 1.0
	if v0 > v1 {
		u0, v0, u1, v1, dir = u1, v1, u0, v0, -1
	}
	if v1 <= 0 || v0 >= float64(s.rows) {
		return
	}
	// columns for each row
	slope := (u1 - u0) / (v1 - v0)
	// held within the edge: a steep one could round past its own ends
	at := func(v float64) float64 {
		return math.Max(math.Min(u0+(v-v0)*slope, math.Max(u0, u1)), math.Min(u0, u1))
	}
	top, bottom := math.Max(v0, 0), math.Min(v1, float64(s.rows))
	uTop := at(top)
	for r := int(top); r < s.rows && float64(r) < bottom; r++ {
		v := math.Min(float64(r+1), bottom)
		u := at(v)
		// to its own end exactly, so that edges that share a corner leave no crack
		if v == v1 {
			u = u1
		}
		// dir is +1 where the ground lies on the one side and -1 on the other, so that two sides of a polygon cancel east of
		// both.
		s.piece(r, uTop, u, (v-top)*dir)
		top, uTop = v, u
	}
}

// piece takes in the part of an edge within one row: from ua to ub, dv high with its sign.
func (s *strip) piece(r int, ua, ub, dv float64) {
	line := s.sums[r*(s.cols+1) : (r+1)*(s.cols+1)]
	if ua > ub {
		ua, ub = ub, ua
	}
	east := float64(s.cols)
	// what lies east of the window changes no share in it
	if ua >= east {
		return
	}
	// west of the window all of the row lies east of the edge
	if ub <= 0 {
		line[0] += dv
		return
	}
	if ua < 0 || ub > east { // split at the sides of the window
		lo, hi, run := math.Max(ua, 0), math.Min(ub, east), ub-ua
		line[0] += dv * (lo - ua) / run
		dv *= (hi - lo) / run
		ua, ub = lo, hi
	}
	// An edge that ends on the east side of the window belongs to its last cell.
	first, last := int(ua), min(int(ub), s.cols-1)
	if first >= s.cols {
		return
	}
	if first == last {
		// of the cell the edge crosses, what lies east of it, as a trapezium; the rest of the height goes on to the next
		mean := (ua+ub)/2 - float64(first)
		line[first] += dv * (1 - mean)
		line[first+1] += dv * mean
		return
	}
	// Cell by cell: each gets the part of the height that the edge has within it.
	run, from := ub-ua, ua
	for c := first; c <= last; c++ {
		to := math.Min(float64(c+1), ub)
		d := dv * (to - from) / run
		mean := (from+to)/2 - float64(c)
		line[c] += d * (1 - mean)
		line[c+1] += d * mean
		from = to
	}
}

// visit sums up the shares. Shares within leastShare of whole are whole.
func (s *strip) visit(do func(col, row int, share float64)) {
	for r := range s.rows {
		sum := 0.0
		for c, d := range s.sums[r*(s.cols+1) : (r+1)*(s.cols+1)-1] {
			// From west to east, each cell has what the one before has and the change.
			sum += d
			switch share := math.Abs(sum); {
			case share > 1-leastShare:
				do(c, r, 1)
			case share > leastShare:
				do(c, r, share)
			}
		}
	}
}
