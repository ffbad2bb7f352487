package soildata

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// ask asks until there is an answer, at most three times, and checks that it has the columns asked for.
func (s *service) ask(ctx context.Context, q question) (*answer, []byte, error) {
	wait := s.opt.Wait
	for try := 1; ; try++ {
		a, raw, err := s.attempt(ctx, q)
		// An error that will not pass is returned at once: asking again would only load the service.
		if err == nil || !is(err, passing) {
			return a, raw, err
		}
		if try == tries {
			return nil, nil, fmt.Errorf("%w; asked %d times, try again later: what was fetched so far is kept", err, tries)
		}
		pause := wait
		if f := (*failure)(nil); errors.As(err, &f) {
			// the service knows best when it will be back
			pause = max(pause, f.after)
		}
		s.opt.Tell(fmt.Sprintf("%v; asking again in %s", err, pause))
		if err := sleep(ctx, pause); err != nil {
			return nil, nil, err
		}
		// Twice as long each time: a service in trouble is not helped by being asked.
		wait *= 2
	}
}

// attempt asks once and reads the answer.
func (s *service) attempt(ctx context.Context, q question) (*answer, []byte, error) {
	raw, err := s.once(ctx, q.text)
	if err != nil {
		return nil, nil, err
	}
	a, err := q.read(raw, s.opt.limits)
	return a, raw, err
}

// sleep waits, or returns the cause of a cancelled context at once.
func sleep(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}
