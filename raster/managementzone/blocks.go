package managementzone

import (
	"math"
	"slices"

	"rootworthy/raster"
)

// unit is a block, together with the scraps at the edge that go with it: what is never parted.
type unit struct {
	sum   float64
	cells int
	label int32   // 1…
	next  []int32 // units it touches, ascending
}

func (u *unit) mean() float64 { return u.sum / float64(u.cells) }

// blocks is ground cut into blocks.
type blocks struct {
	least         float64 // width of a block on the ground, the shorter way
	width, height int     // of a block in cells
	across        int     // blocks
	of            []int32 // unit of each block, -1 for none
	units         []unit
}

// block returns the index of the block of a cell.
func (b *blocks) block(col, row int) int { return row/b.height*b.across + col/b.width }

// cut makes the blocks of a surface.
func cut(g *raster.Grid[float64], width float64) *blocks {
	f := g.Frame()
	b := &blocks{width: whole(width/f.DX, f.Cols), height: whole(width/f.DY, f.Rows)}
	// Cells need not be square, so the two ways may be rounded up by different amounts; the narrower one is what is
	// promised.
	b.least = math.Min(roundUp(width/f.DX)*f.DX, roundUp(width/f.DY)*f.DY)
	b.across = (f.Cols + b.width - 1) / b.width
	raw := make([]unit, b.across*((f.Rows+b.height-1)/b.height))
	touching := make(map[[2]int32]bool)
	// Contact is by sides of cells that hold a value: across a gap no machine drives in one pass.
	touch := func(i, j int) {
		if i != j {
			touching[[2]int32{int32(min(i, j)), int32(max(i, j))}] = true
		}
	}
	for row := range f.Rows {
		for col := range f.Cols {
			v, ok := g.At(col, row)
			if !ok {
				continue
			}
			i := b.block(col, row)
			raw[i].sum += v
			raw[i].cells++
			// only cells on the west and north side of a block can touch another that was not looked at
			if col > 0 && col%b.width == 0 {
				if _, ok := g.At(col-1, row); ok {
					touch(i, b.block(col-1, row))
				}
			}
			if row > 0 && row%b.height == 0 {
				if _, ok := g.At(col, row-1); ok {
					touch(i, b.block(col, row-1))
				}
			}
		}
	}
	link(raw, touching)
	b.host(raw)
	return b
}

// whole returns a width in whole cells, no wider than all.
func whole(cells float64, all int) int { return int(math.Min(roundUp(cells), float64(all))) }

// roundUp rounds up but for the noise of division.
func roundUp(cells float64) float64 { return math.Max(1, math.Ceil(cells-1e-9)) }

// link notes who touches whom.
func link(units []unit, touching map[[2]int32]bool) {
	for pair := range touching {
		units[pair[0]].next = append(units[pair[0]].next, pair[1])
		units[pair[1]].next = append(units[pair[1]].next, pair[0])
	}
	for i := range units {
		// pairs come out of a map in any order, and the results must not
		slices.Sort(units[i].next)
	}
}

// host gives every block a unit. Blocks at least half full are their own; scraps go, from the full ones outward, with
// the touching one whose mean is nearest theirs. Ground without any full block is hosted by its fullest.
func (b *blocks) host(raw []unit) {
	host := make([]int32, len(raw))
	for i := range host {
		host[i] = -1
		// Half: a block cut by the fence is worth a zone of its own as long as most of it is there.
		if 2*raw[i].cells >= b.width*b.height {
			host[i] = int32(i)
		}
	}
	for b.spread(raw, host) {
	}
	for {
		// an island, or ground narrower than a block throughout
		fullest := -1
		for i := range raw {
			if host[i] < 0 && raw[i].cells > 0 && (fullest < 0 || raw[i].cells > raw[fullest].cells) {
				fullest = i
			}
		}
		if fullest < 0 {
			break
		}
		host[fullest] = int32(fullest)
		for b.spread(raw, host) {
		}
	}
	b.gather(raw, host)
}

// spread lets scraps beside hosted blocks join them, all at once; false when none did.
func (b *blocks) spread(raw []unit, host []int32) bool {
	// All at once, so that who joins whom does not depend on the order of the blocks: a scrap taken in this turn draws
	// no other before the next.
	joins := map[int]int32{}
	for i := range raw {
		if host[i] >= 0 || raw[i].cells == 0 {
			continue
		}
		best := int32(-1)
		for _, j := range raw[i].next {
			// Compared with the host alone and not with what has joined it, which would let a chain of scraps drift
			// away.
			if h := host[j]; h >= 0 && (best < 0 || apart(&raw[i], &raw[h]) < apart(&raw[i], &raw[best])) {
				best = h
			}
		}
		if best >= 0 {
			joins[i] = best
		}
	}
	for i, h := range joins {
		host[i] = h
	}
	return len(joins) > 0
}

func apart(a, b *unit) float64 { return math.Abs(a.mean() - b.mean()) }

// gather makes one unit of each host and its scraps.
func (b *blocks) gather(raw []unit, host []int32) {
	number := make([]int32, len(raw))
	for i := range raw {
		if host[i] == int32(i) {
			number[i] = int32(len(b.units))
			b.units = append(b.units, unit{})
		}
	}
	b.of = make([]int32, len(raw))
	touching := map[[2]int32]bool{}
	for i := range raw {
		if host[i] < 0 {
			b.of[i] = -1
			continue
		}
		u := number[host[i]]
		b.of[i] = u
		b.units[u].sum += raw[i].sum
		b.units[u].cells += raw[i].cells
		for _, j := range raw[i].next {
			// each pair once; a unit does not touch itself. A block with a value always has a host by now.
			if v := number[host[j]]; u < v {
				touching[[2]int32{u, v}] = true
			}
		}
	}
	link(b.units, touching)
}
