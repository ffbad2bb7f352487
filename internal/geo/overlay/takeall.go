package overlay

import (
	"cmp"
	"fmt"
	"runtime"
	"slices"
	"sync"

	"github.com/paulmach/orb"
)

// TakeAll appends shapes[i] with keys[i], for all i, as Take would one after the other, on several goroutines (0 means
// one per CPU). If a shape is refused the error names its index, and none of them is added.
func (c *Coverage) TakeAll(keys []uint32, shapes []orb.MultiPolygon, workers int) error {
	if c.file != nil {
		return errFromFile
	}
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	// Each goroutine takes a stretch of about as many points as the others: polygons differ a hundredfold. All write to their own
	// places of one slice, so the order of polygons is that of shapes for any number of goroutines.
	stretches := split(shapes, workers)
	base := len(c.polygons)
	c.polygons = slices.Grow(c.polygons, len(shapes))
	polygons, wide := c.polygons[base:base+len(shapes)], make([]*mended, len(shapes))
	errs := make([]error, len(stretches))
	var wg sync.WaitGroup
	for k, s := range stretches {
		wg.Go(func() {
			var f filler
			for i := s.from; i < s.to && errs[k] == nil; i++ {
				var err error
				if polygons[i], wide[i], err = f.take(keys[i], shapes[i]); err != nil {
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

// stretch is shapes from … to-1.
type stretch struct{ from, to int }

// split cuts shapes into at most n stretches of about the same number of points.
func split(shapes []orb.MultiPolygon, n int) (out []stretch) {
	if n == 1 {
		return []stretch{{0, len(shapes)}}
	}
	total := 0
	for _, s := range shapes {
		n, _ := paddedPoints(s)
		total += n
	}
	from, points := 0, 0
	for i, s := range shapes {
		n, _ := paddedPoints(s)
		points += n
		if points*n >= total*(len(out)+1) || i == len(shapes)-1 {
			out = append(out, stretch{from, i + 1})
			from = i + 1
		}
	}
	return out
}
