package taskdata

import (
	"cmp"
	"container/heap"
	"context"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// fit chooses the cells of every task, so that the lime of the cells is that of the polygons: within 1 % for each task,
// and as far as it can be within 0.1 % for all together. Cells start at half the working width, at least 5 m, and
// shrink to 1 m at the least.
func (p *Plan) fit(ctx context.Context) error {
	// Polygons hold their lime to the last digit; there is nothing to fit.
	if p.options.Form == Polygons {
		for _, t := range p.Tasks {
			t.Spread, t.Cells = t.Set, t.Set
		}
		return nil
	}
	// Each task first for itself, side by side; then all together, one after the other, since which one shrinks depends on all.
	fits := make([]*fitting, len(p.Tasks))
	err := p.eachTask(ctx, func(i int) error {
		fits[i] = p.newFitting(p.Tasks[i])
		return fits[i].settle()
	})
	if err != nil {
		return err
	}
	if err := balance(ctx, fits); err != nil {
		return err
	}
	return p.eachTask(ctx, func(i int) error {
		fits[i].keep()
		p.Tasks[i].layHeadland(p.options.Machine)
		return nil
	})
}

// eachTask calls f for every task on several goroutines; the first error by number wins.
func (p *Plan) eachTask(ctx context.Context, f func(i int) error) error {
	workers := p.options.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	errs := make([]error, len(p.Tasks))
	var next atomic.Int64
	var wg sync.WaitGroup
	// Workers take the next task each, since fields differ much in size.
	for range min(workers, len(p.Tasks)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(p.Tasks) && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				errs[i] = f(i)
			}
		})
	}
	wg.Wait()
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// fitting is the search for the cells of one task.
type fitting struct {
	task     *Task
	whole    orb.Bound // of the boundary
	limed    orb.Bound // of the ground that gets lime
	maxCells int
	cell     float64 // size tried last, m, where no side had too many cells
	best     Frame
	cells    unit.Mass // lime by the best frame
}

// newFitting tries the first frame: square cells over the whole field, as small as the spreader can follow and the number of cells allows.
func (p *Plan) newFitting(t *Task) *fitting {
	f := &fitting{task: t, whole: t.Boundary.Bound(), maxCells: p.options.MaxCells}
	for i, g := range t.limed() {
		if b := g.Bound(); i == 0 {
			f.limed = b
		} else {
			f.limed = f.limed.Union(b)
		}
	}
	// Half the width: a spreader cannot follow anything much finer, and coarser cells cut the corners of zones.
	start := max(float64(p.options.Machine.Width)/2, defaultLeastCell)
	// Cells begin as squares of the larger side that the limit allows.
	c := f.sides(f.whole, start)
	f.cell = max(c.east, c.north)
	f.try(f.whole, square(f.cell), 0, 0)
	return f
}

// shapes returns the shape of every ground.
func (t *Task) shapes() []orb.MultiPolygon {
	out := make([]orb.MultiPolygon, len(t.grounds))
	for i, g := range t.grounds {
		out[i] = g.shape
	}
	return out
}

// limed returns the shapes of the ground that gets lime.
func (t *Task) limed() (out []orb.MultiPolygon) {
	for _, g := range t.grounds {
		if g.rate > 0 {
			out = append(out, g.shape)
		}
	}
	return out
}

// limedArea is how much ground gets lime.
func (t *Task) limedArea() (sum unit.Area) {
	for _, g := range t.grounds {
		if g.rate > 0 {
			sum += g.area
		}
	}
	return sum
}

// sides grows the sides of a square cell, each for itself, until a box has no more cells a side than allowed. One cell
// is set aside for shifting.
// A thousandth is added, so that rounding to whole cells does not end one over the limit.
func (f *fitting) sides(box orb.Bound, cell float64) cellSize {
	frame, most := frameOver(box, square(cell), 0, 0), float64(f.maxCells)-1
	grow := func(cells int) float64 { return cell * max(1, 1.001*float64(cells)/most) }
	c := square(cell)
	if frame.Columns >= f.maxCells {
		c.east = grow(frame.Columns)
	}
	if frame.Rows >= f.maxCells {
		c.north = grow(frame.Rows)
	}
	return c
}

// try computes the lime of a frame and keeps the frame if it is the best so far.
func (f *fitting) try(box orb.Bound, cell cellSize, shiftNorth, shiftEast float64) {
	// A copy: the task itself gets its frame when the search is over.
	t := *f.task
	t.Frame = frameOver(box, cell, shiftNorth, shiftEast)
	// The lime of a frame is counted cell by cell, as the controller will read it; no formula knows how edges fall on cells.
	mass := t.mass()
	if f.best.Rows == 0 || math.Abs(float64(mass-t.Set)) < math.Abs(f.miss()) {
		f.best, f.cells = t.Frame, mass
	}
}

// miss is the lime that the best cells have too much or too little, in kg.
func (f *fitting) miss() float64 { return float64(f.cells - f.task.Set) }

func (f *fitting) share() float64 { return math.Abs(share(f.cells, f.task.Set)) }

// finer tries smaller cells once; false when there are none. Where the whole field would have too many of them, the grid
// covers only the ground that gets lime (outside a grid nothing is spread), and then cells grow along its long side.
func (f *fitting) finer() bool {
	if f.cell <= leastCell {
		return false
	}
	// A tenth smaller each time: how far cells miss changes by jumps with their size, so many sizes are tried.
	f.cell = max(leastCell, 0.9*f.cell)
	box := f.whole
	if f.sides(box, f.cell) != square(f.cell) {
		box = f.limed
	}
	f.try(box, f.sides(box, f.cell), 0, 0)
	return true
}

// shifts is how many places, each way, a grid of the smallest cells is tried at.
const shifts = 4

// settle shrinks the cells until the task is within 1 %, and at last moves small ones about by parts of a cell.
func (f *fitting) settle() error {
	for f.share() > mostDifference && f.finer() {
	}
	for i := 0; i < 3*shifts*shifts && f.share() > mostDifference; i++ {
		// Three sizes, each at sixteen places of the grid.
		cell := leastCell * (1 + 0.1*float64(i/(shifts*shifts)))
		f.try(f.limed, f.sides(f.limed, cell), float64(i%shifts)/shifts, float64(i/shifts%shifts)/shifts)
	}
	if f.share() > mostDifference {
		return fmt.Errorf("%s: the smallest cells hold %.1f kg of lime and the zones ask for %.1f kg, more than 1 %% apart; "+
			"allow more cells (--max-cells), use --zones polygons, or leave the field out with --field", names(f.task), float64(f.cells), float64(f.task.Set))
	}
	return nil
}

// keep puts the best frame into the task.
func (f *fitting) keep() {
	f.task.Frame, f.task.Cells, f.task.Spread = f.best, f.cells, f.cells
}

// balance shrinks the cells of the tasks that miss most, until all together are within 0.1 % or nothing helps.
// miss is signed, in kg: tasks that put on too much and tasks that put on too little make up for each other in the sum.
func balance(ctx context.Context, fits []*fitting) error {
	var miss, all float64
	h := &byMiss{}
	for i, f := range fits {
		miss += f.miss()
		all += float64(f.task.Set)
		*h = append(*h, missing{i, math.Abs(f.miss())})
	}
	heap.Init(h)
	for h.Len() > 0 && math.Abs(miss) > wantedFarmDifference*all {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		top := (*h)[0]
		f := fits[top.fit]
		before := f.miss()
		if before*miss <= 0 || !f.finer() { // one that errs the other way helps where it is
			heap.Pop(h)
			continue
		}
		// The task stays on the heap and may come first again; it leaves when its cells cannot get smaller.
		miss += f.miss() - before
		(*h)[0].by = math.Abs(f.miss())
		heap.Fix(h, 0)
	}
	return nil
}

// byMiss is a heap of tasks, that which misses most on top.
type byMiss []missing

// missing is a task by its index, and by how much its cells miss its zones.
type missing struct {
	fit int
	by  float64
}

// The methods of container/heap. Of equal misses the first task comes first, so that a plan does not hang on the order of the heap.
func (h byMiss) Len() int { return len(h) }
func (h byMiss) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[j].by, h[i].by), cmp.Compare(h[i].fit, h[j].fit)) < 0
}
func (h byMiss) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *byMiss) Push(x any)   { *h = append(*h, x.(missing)) }
func (h *byMiss) Pop() any {
	last := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return last
}
