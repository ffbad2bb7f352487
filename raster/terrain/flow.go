package terrain

import (
	"context"
	"math"
)

// Routing is how water leaves a cell.
type Routing uint8

// The routings; the zero value spreads.
const (
	// Spreading sends it down the steepest of eight triangles around the cell, shared out between the two neighbours at
	// its far side by how near the way points to them (D-infinity).
	// Source: Tarboton, A new method for the determination of flow directions and upslope areas, Water Resources
	// Research 33 (1997).
	Spreading Routing = iota
	// Single sends all of it to the steepest of eight neighbours (D8).
	// Source: O'Callaghan and Mark, The extraction of drainage networks, Computer Vision 28 (1984).
	Single
)

// outflow is where the water of a cell goes: a share to one direction of [around] and the rest to another.
type outflow struct {
	first, second int8 // -1 for none
	share         float32
}

// outflow finds the way of a cell down a surface of levels without hollows.
func (s *surface) outflow(level []float64, i int, how Routing) outflow {
	var near [8]float64
	var there [8]bool
	for k, step := range around() {
		j, ok := s.neighbour(i, step)
		if there[k] = ok; ok {
			near[k] = level[j]
		}
	}
	dx, dy := s.dx[i/s.cols], s.dy[i/s.cols]
	// best is the steepest drop found so far, as rise over run; without any the water stays, as at the raster's edge.
	out, best := outflow{-1, -1, 1}, 0.0
	single := func(k int) {
		d := math.Hypot(float64(around()[k][0])*dx, float64(around()[k][1])*dy)
		// Strictly more: of two equal ways the first by around counts, so that water goes the same way every time.
		if drop := (level[i] - near[k]) / d; there[k] && drop > best {
			out, best = outflow{int8(k), -1, 1}, drop
		}
	}
	for k := range near {
		single(k)
	}
	if how == Single {
		return out
	}
	for k := 0; k < 8; k += 2 { // a side, and the corner on either hand
		// d1 is the way to the side, d2 from there to the corner.
		d1, d2 := dx, dy
		if k%4 == 2 {
			d1, d2 = dy, dx
		}
		for _, corner := range [2]int{(k + 1) % 8, (k + 7) % 8} {
			if !there[k] || !there[corner] {
				continue
			}
			s1, s2 := (level[i]-near[k])/d1, (near[k]-near[corner])/d2
			// s1 is the fall to the side, s2 from there to the corner: the steepest way lies between the two neighbours only if both
			// fall and it points no further than the corner.
			if !(s1 > 0 && s2 > 0 && s2*d1 < s1*d2) {
				continue // the way lies along a side of the triangle, seen above
			}
			if drop := math.Hypot(s1, s2); drop > best {
				out, best = outflow{int8(k), int8(corner), float32(1 - math.Atan2(s2, s1)/math.Atan2(d2, d1))}, drop
			}
		}
	}
	return out
}

// each calls do for the cells that water goes to, with their share.
func (s *surface) each(i int, o outflow, do func(j int, share float64)) {
	if o.first >= 0 {
		j, _ := s.neighbour(i, around()[o.first])
		do(j, float64(o.share))
	}
	if o.second >= 0 {
		j, _ := s.neighbour(i, around()[o.second])
		do(j, 1-float64(o.share))
	}
}

// gather returns for every cell the ground in square metres that drains through it, its own included, and whether some of
// it may lie beyond the raster.
func (s *surface) gather(ctx context.Context, how Routing) (area []float64, cut []bool, err error) {
	level, err := s.flood(ctx, true)
	if err != nil {
		return nil, nil, err
	}
	ways := make([]outflow, len(level))
	waiting := make([]uint8, len(level)) // neighbours that have not handed on yet
	area, cut = make([]float64, len(level)), make([]bool, len(level))
	for i := range level {
		if i%(1<<16) == 0 && ctx.Err() != nil {
			return nil, nil, context.Cause(ctx)
		}
		if s.gone[i] {
			continue
		}
		// A cell at the rim may get water from beyond it, and so may all below.
		area[i], cut[i] = s.area(i), s.rim(i)
		ways[i] = s.outflow(level, i, how)
		s.each(i, ways[i], func(j int, _ float64) { waiting[j]++ })
	}
	// From cell to cell, each once all above it have handed on. Levels fall along every way, so none waits for ever.
	var ready []int32
	for start := range level {
		if s.gone[start] || waiting[start] != 0 {
			continue
		}
		// Marks a cell as done; no cell has more than eight neighbours to wait for.
		waiting[start] = math.MaxUint8
		for ready = append(ready[:0], int32(start)); len(ready) > 0; {
			i := int(ready[len(ready)-1])
			ready = ready[:len(ready)-1]
			s.each(i, ways[i], func(j int, share float64) {
				area[j] += share * area[i]
				cut[j] = cut[j] || cut[i]
				if waiting[j]--; waiting[j] == 0 {
					waiting[j] = math.MaxUint8 // done; the loop over starts passes it by
					ready = append(ready, int32(j))
				}
			})
		}
	}
	return area, cut, nil
}
