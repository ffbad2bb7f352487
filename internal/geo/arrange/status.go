package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// blockSize is how many edges a block of the status holds before it is cut in two. Moving 256 numbers costs less than
// one cache miss, and a comb of 100,000 teeth still needs only a few hundred blocks.
const blockSize = 256

// status holds the edges that the sweep line crosses, from the lowest to the highest, in blocks none of which is
// empty.
type status struct {
	*lines
	blocks [][]int32
}

// spot is a place between two edges of the status: before blocks[block][index]. A block number past the last means
// the top.
type spot struct{ block, index int }

// side says where point v lies to edge e: 1 above it, -1 below, 0 on its line.
func (s *status) side(e, v int32) int {
	a, b := s.ends(e)
	return geo.Orient(a, b, s.points[v])
}

// place finds the spot of v, above all edges strictly below it. The next `ends` edges must be just those that end in v,
// and the one after them strictly above v; else ok is false: an edge runs through v.
func (s *status) place(v int32, ends int) (at spot, ok bool) {
	lo, hi := 0, len(s.blocks)
	for lo < hi { // the first block whose last edge is not below v
		mid := (lo + hi) / 2
		if b := s.blocks[mid]; s.side(b[len(b)-1], v) > 0 {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	at.block = lo
	if lo < len(s.blocks) {
		b := s.blocks[lo]
		from, to := 0, len(b)-1
		for from < to {
			mid := (from + to) / 2
			if s.side(b[mid], v) > 0 {
				from = mid + 1
			} else {
				to = mid
			}
		}
		at.index = from
	}
	next := at
	for range ends {
		e := s.at(next)
		if e < 0 || s.edges[e].b != v {
			return at, false
		}
		next = s.step(next)
	}
	if e := s.at(next); e >= 0 && s.side(e, v) >= 0 {
		return at, false
	}
	return at, true
}

// at returns the edge above the spot, -1 at the top.
func (s *status) at(p spot) int32 {
	if p.block >= len(s.blocks) {
		return -1
	}
	return s.blocks[p.block][p.index]
}

// step moves a spot up over one edge.
func (s *status) step(p spot) spot {
	if p.index++; p.index >= len(s.blocks[p.block]) {
		p = spot{p.block + 1, 0}
	}
	return p
}

// before returns the edge below the spot, -1 at the bottom.
func (s *status) before(p spot) int32 {
	switch {
	case p.index > 0:
		return s.blocks[p.block][p.index-1]
	case p.block > 0:
		b := s.blocks[p.block-1]
		return b[len(b)-1]
	}
	return -1
}

// after returns the edge n above the spot, -1 if there is none.
func (s *status) after(p spot, n int) int32 {
	for ; n > 0; n-- {
		p = s.step(p)
	}
	return s.at(p)
}

// remove takes out the n edges above the spot, which stays valid or moves to the equal spot at the next block.
func (s *status) remove(p spot, n int) {
	for n > 0 {
		b := s.blocks[p.block]
		k := min(n, len(b)-p.index)
		b = slices.Delete(b, p.index, p.index+k)
		n -= k
		switch {
		case len(b) == 0:
			s.blocks = slices.Delete(s.blocks, p.block, p.block+1)
		case n > 0:
			s.blocks[p.block] = b
			p = spot{p.block + 1, 0}
		default:
			s.blocks[p.block] = b
		}
	}
}

// insert puts edges in at the spot, which after a removal may lie just past the end of its block or of all blocks, and
// returns the spot just below them.
func (s *status) insert(p spot, edges []int32) spot {
	if len(edges) == 0 {
		return s.tidy(p)
	}
	if p.block >= len(s.blocks) {
		if len(s.blocks) == 0 {
			s.blocks = append(s.blocks, nil)
		}
		p = spot{len(s.blocks) - 1, len(s.blocks[len(s.blocks)-1])}
	}
	b := slices.Insert(s.blocks[p.block], p.index, edges...)
	s.blocks[p.block] = b
	if len(b) > blockSize {
		half := len(b) / 2
		s.blocks[p.block] = slices.Clone(b[:half])
		s.blocks = slices.Insert(s.blocks, p.block+1, slices.Clone(b[half:]))
		if p.index >= half {
			p = spot{p.block + 1, p.index - half}
		}
	}
	return p
}

// tidy moves a spot at the end of a block to the start of the next.
func (s *status) tidy(p spot) spot {
	if p.block < len(s.blocks) && p.index == len(s.blocks[p.block]) {
		return spot{p.block + 1, 0}
	}
	return p
}

// clear says whether two neighbours, e below f, stay apart up to the end of the shorter one or end in one point. They
// are in right order where the sweep stands, so only the side of the nearer end can tell of a crossing.
func (s *status) clear(e, f int32) bool {
	if e < 0 || f < 0 {
		return true
	}
	switch p, q := s.edges[e].b, s.edges[f].b; { // points are numbered in order
	case p == q:
		return true
	case p < q:
		return s.side(f, p) < 0
	default:
		return s.side(e, q) > 0
	}
}
