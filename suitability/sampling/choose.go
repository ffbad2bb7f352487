package sampling

import (
	"container/heap"
	"math"
)

// queue holds the best step of every prospect, the most for its cost first; of equals the earlier zone.
type queue []queued

type queued struct {
	step
	place int
}

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q queue) Less(i, j int) bool {
	a, b := q[i].adds*q[j].cost, q[j].adds*q[i].cost
	if a != b {
		return a > b
	}
	return q[i].place < q[j].place
}
func (q *queue) Push(x any) { *q = append(*q, x.(queued)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}

// choose hands out bags until samples or money are spent, or nothing is worth a bag. fits says whether a zone has room for
// a number of bags; one that has none gets none.
func choose(all []*prospect, o Options, fits func(p *prospect, bags int) bool) {
	samples, money := o.Samples, o.Money
	if samples == 0 {
		samples = math.MaxInt
	}
	q := &queue{}
	for i, p := range all {
		if s, ok := p.best(o, samples, money); ok {
			*q = append(*q, queued{s, i})
		}
	}
	heap.Init(q)
	for q.Len() > 0 {
		s := heap.Pop(q).(queued)
		p := s.prospect
		// what was left when the step was thought of may be spent by now
		if now, ok := p.best(o, samples, money); !ok {
			continue
		} else if now.top != s.top || now.deep != s.deep {
			heap.Push(q, queued{now, s.place})
			continue
		}
		if !fits(p, max(p.top+s.top, p.deep+s.deep)) {
			continue
		}
		p.top, p.deep = p.top+s.top, p.deep+s.deep
		samples -= s.bags
		if o.Money > 0 {
			money -= s.cost
		}
		if next, ok := p.best(o, samples, money); ok {
			heap.Push(q, queued{next, s.place})
		}
	}
}
