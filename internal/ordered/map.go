// Package ordered runs work in parallel and hands the results back in the order of the input, so that sums over
// them and files written from them do not depend on timing.
package ordered

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Map calls f(i) for i in 0…n-1 on the given number of goroutines (0 means one per CPU) and returns the results by
// index. The first error by index wins; after an error or a cancelled context no new index is started.
func Map[T any](ctx context.Context, n, workers int, f func(i int) (T, error)) ([]T, error) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, n)
	out, errs := make([]T, n), make([]error, n)
	// Indexes are handed out rising, so whoever fails, all before it were begun and are finished: the first error by index
	// is the same whatever the timing.
	var next atomic.Int64
	var stop atomic.Bool
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for !stop.Load() && ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				// No lock: every index is one goroutine's, and Wait stands between writing and reading.
				if out[i], errs[i] = f(i); errs[i] != nil {
					stop.Store(true)
				}
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	// After the errors of f, which say more; the results are incomplete, and none is handed out.
	if ctx.Err() != nil {
		return nil, context.Cause(ctx)
	}
	return out, nil
}
