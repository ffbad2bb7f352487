package overlay

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
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
	// Each goroutine fills slabs of its own with a stretch of about as many points as the others.
	stretches := split(shapes, workers)
	base := len(c.polygons)
	c.polygons = slices.Grow(c.polygons, len(shapes))
	polygons, wide := c.polygons[base:base+len(shapes)], make([]*mended, len(shapes))
	errs := make([]error, len(stretches))
	var wg sync.WaitGroup
	for k, s := range stretches {
		wg.Go(func() {
			f := filler{expect: s.points}
			for i := s.from; i < s.to && errs[k] == nil; i++ {
				var err error
				if polygons[i], wide[i], err = f.add(keys[i], shapes[i]); err != nil {
					errs[k] = fmt.Errorf("polygon %d: %w", i, err)
				}
			}
		})
	}
	wg.Wait()
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	for i, m := range wide {
		if m != nil {
			c.mended[uint32(base+i)] = m
		}
	}
	c.polygons = c.polygons[:base+len(shapes)]
	c.tree.Store(nil)
	return nil
}

// stretch is shapes from … to-1, with that many points to fill slabs with.
type stretch struct{ from, to, points int }

// split cuts shapes into at most n stretches of about the same number of points.
func split(shapes []orb.MultiPolygon, n int) (out []stretch) {
	total := 0
	for _, s := range shapes {
		total += paddedPoints(s)
	}
	from, before, points := 0, 0, 0
	for i, s := range shapes {
		points += paddedPoints(s)
		if points*n >= total*(len(out)+1) || i == len(shapes)-1 {
			out = append(out, stretch{from, i + 1, points - before})
			from, before = i+1, points
		}
	}
	return out
}
