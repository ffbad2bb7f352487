package overlay

import (
	"context"
	"iter"
	"runtime"
	"sync"

	"github.com/paulmach/orb"
)

// batch is how many fields a worker takes at once: enough that handing over costs nothing, few enough that little waits
// to be emitted.
const batch = 32

// Run cuts every field and calls emit in the order of the fields, from one goroutine, whatever the number of workers.
// Memory does not grow with the number of fields. It stops within about 100 ms of the context being done and returns
// its cause, or the first error of emit.
func (c *Coverage) Run(ctx context.Context, fields iter.Seq2[int, orb.MultiPolygon], opt Options, emit func(Cut) error) error {
	tree := c.prepare()
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	done := 0
	give := func(cut Cut) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if err := emit(cut); err != nil {
			return err
		}
		done++
		if opt.Progress != nil {
			opt.Progress(done)
		}
		return nil
	}
	if workers == 1 { // nothing is handed over, and a field is emitted before the next one is read
		w := &worker{cov: c, tree: tree, opt: opt, build: &builder{}}
		for number, shape := range fields {
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
			w.build.recycle()
			cut, err := w.cut(number, shape)
			if err == nil {
				err = give(cut)
			}
			if err != nil {
				return err
			}
		}
		return nil
	}
	return c.runParallel(ctx, fields, opt, workers, give)
}

// job is a batch of fields on its way to a worker, and back.
type job struct {
	numbers []int
	shapes  []orb.MultiPolygon
	cuts    []Cut
	build   builder
	ready   chan struct{} // closed when cuts are there
}

// newJob returns a job from free, or a new one.
func newJob(free chan *job) *job {
	select {
	case j := <-free:
		clear(j.shapes)
		j.numbers, j.shapes, j.cuts = j.numbers[:0], j.shapes[:0], j.cuts[:0]
		j.build.recycle()
		j.ready = make(chan struct{})
		return j
	default:
		return &job{ready: make(chan struct{})}
	}
}

// runParallel reads fields in one goroutine, cuts them in others, and emits in this one. Batches wait for their turn
// in a queue of bounded length, so a slow emit holds up the reading.
func (c *Coverage) runParallel(ctx context.Context, fields iter.Seq2[int, orb.MultiPolygon], opt Options, workers int, give func(Cut) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	var wg sync.WaitGroup
	defer wg.Wait()
	defer stop(nil)
	// All channels are of bounded length, and with them the number of fields in memory.
	todo := make(chan *job, workers)    // to whichever worker is free
	queue := make(chan *job, 4*workers) // the same jobs, in order
	free := make(chan *job, 4*workers)  // emitted, to be used again
	wg.Go(func() {
		defer close(queue)
		defer close(todo)
		readBatches(ctx, fields, free, func(j *job) bool {
			select {
			case queue <- j:
			case <-ctx.Done():
				return false
			}
			select {
			case todo <- j:
				return true
			case <-ctx.Done():
				return false
			}
		})
	})
	for range workers {
		wg.Go(func() {
			w := &worker{cov: c, tree: c.tree.Load(), opt: opt}
			for j := range todo {
				w.build = &j.build
				for i := range j.shapes {
					if ctx.Err() != nil {
						return
					}
					cut, err := w.cut(j.numbers[i], j.shapes[i])
					if err != nil {
						stop(err)
						return
					}
					j.cuts = append(j.cuts, cut)
				}
				close(j.ready)
			}
		})
	}
	for j := range queue {
		select {
		case <-j.ready:
		case <-ctx.Done():
			return context.Cause(ctx)
		}
		for _, cut := range j.cuts {
			if err := give(cut); err != nil {
				return err
			}
		}
		if opt.Reuse {
			select {
			case free <- j:
			default:
			}
		}
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	return nil
}

// readBatches gathers fields into jobs until send refuses one.
func readBatches(ctx context.Context, fields iter.Seq2[int, orb.MultiPolygon], free chan *job, send func(*job) bool) {
	j := newJob(free)
	for number, shape := range fields {
		if ctx.Err() != nil {
			return
		}
		j.numbers, j.shapes = append(j.numbers, number), append(j.shapes, shape)
		if len(j.shapes) == batch {
			if !send(j) {
				return
			}
			j = newJob(free)
		}
	}
	if len(j.shapes) > 0 {
		send(j)
	}
}
