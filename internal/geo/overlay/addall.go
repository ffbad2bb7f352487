package overlay

import (
	"fmt"
	"runtime"
	"sync"

	"github.com/paulmach/orb"
)

// AddAll appends shapes[i] with keys[i], for all i, as Add would one after the other, on several goroutines (0 means
// one per CPU). If a shape is refused the error names its index, and none of them is added.
func (c *Coverage) AddAll(keys []uint32, shapes []orb.MultiPolygon, workers int) error {
	if c.file != nil {
		return errFromFile
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	// Each goroutine fills a coverage of its own with a stretch of about as many points as the others, so the order
	// stays that of the shapes when they are joined.
	stretches := split(shapes, workers)
	parts, errs := make([]*Coverage, len(stretches)), make([]error, len(stretches))
	var wg sync.WaitGroup
	for k, s := range stretches {
		wg.Go(func() {
			parts[k] = New()
			for i := s.from; i < s.to && errs[k] == nil; i++ {
				if err := parts[k].Add(keys[i], shapes[i]); err != nil {
					errs[k] = fmt.Errorf("polygon %d: %w", i, err)
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	for _, p := range parts {
		c.append(p)
	}
	return nil
}

// append moves all polygons of d to the end of c.
func (c *Coverage) append(d *Coverage) {
	for id, m := range d.mended {
		c.mended[uint32(len(c.polygons))+id] = m
	}
	c.polygons = append(c.polygons, d.polygons...)
	c.slabs = append(c.slabs, d.slabs...)
	c.tree.Store(nil)
}

type stretch struct{ from, to int }

// split cuts shapes into at most n stretches of about the same number of points.
func split(shapes []orb.MultiPolygon, n int) (out []stretch) {
	total := 0
	for _, s := range shapes {
		total += countPoints(s)
	}
	from, points := 0, 0
	for i, s := range shapes {
		points += countPoints(s)
		if points*n >= total*(len(out)+1) || i == len(shapes)-1 {
			out = append(out, stretch{from, i + 1})
			from = i + 1
		}
	}
	return out
}

func countPoints(shape orb.MultiPolygon) (n int) {
	for _, part := range shape {
		for _, ring := range part {
			n += len(ring)
		}
	}
	return n
}
