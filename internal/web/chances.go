package web

import (
	"context"
	"sync"

	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// chances is how sure a run is, worked out when it is first asked for: for a thousand fields in a tenth of a second. The
// seed is that of the command line, so the page says what its files say.
type chances struct {
	study *uncertainty.Study
	zone  map[string]int // place in the study by id
}

func newChances(r *suitability.Result) *chances {
	c := &chances{study: uncertainty.Of(r, uncertainty.Options{Enough: ranking.ProposedRules().Wanted()}), zone: make(map[string]int, len(r.Zones))}
	for i := range r.Zones {
		c.zone[r.Zones[i].ID] = i
	}
	return c
}

// of returns how sure a zone is.
func (c *chances) of(z *suitability.Zone) *uncertainty.Zone { return &c.study.Zones[c.zone[z.ID]] }

// mostBags is how many fields' sampling plans are kept.
const mostPlans = 32

// samplings keeps what tests would settle, by place of the field.
type samplings struct {
	mu    sync.Mutex
	plans map[int]*sampling.Plan
}

// sampling plans the soil tests of one field, without a limit: every bag that is worth taking.
func (l *loaded) sampling(ctx context.Context, place int) (*sampling.Plan, error) {
	l.bags.mu.Lock()
	defer l.bags.mu.Unlock()
	if p := l.bags.plans[place]; p != nil {
		return p, nil
	}
	p, err := sampling.New(ctx, fieldAlone(l.result, place), sampling.Options{})
	if err != nil {
		return nil, err
	}
	if l.bags.plans == nil || len(l.bags.plans) >= mostPlans {
		l.bags.plans = map[int]*sampling.Plan{}
	}
	l.bags.plans[place] = p
	return p, nil
}

// fieldAlone is a run with one of its fields alone. A zone is drawn by what it is made of, so it says what it says among all.
func fieldAlone(r *suitability.Result, place int) *suitability.Result {
	one := *r
	f := r.Fields[place]
	one.Zones = make([]suitability.Zone, 0, len(f.Zones))
	at := make([]int, 0, len(f.Zones))
	for _, i := range f.Zones {
		at = append(at, len(one.Zones))
		one.Zones = append(one.Zones, r.Zones[i])
	}
	f.Zones = at
	one.Fields = []suitability.Field{f}
	return &one
}
