package sampling

import (
	"cmp"
	"container/heap"
	"math"
	"slices"
)

// queue holds the best step of every prospect, the most for its cost first; of equals the earlier zone. It is a heap of package
// container/heap, so that handing out one bag does not look at every zone of a county again.
type queue []queued

// place is that of the prospect in the list, which settles equals.
type queued struct {
	step
	place int
}

// Len, Swap, Less, Push and Pop are what package container/heap asks for.
func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q queue) Less(i, j int) bool {
	// What is gained for the cost, without dividing: multiplied out, equal quotients compare equal.
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

// purse is what may still be spent.
type purse struct {
	options Options
	samples int
	money   float64
}

// newPurse is what the options allow in all.
func newPurse(o Options) *purse {
	p := &purse{o, o.Samples, o.Money}
	// No limit on bags; money may still set one.
	if p.samples == 0 {
		p.samples = math.MaxInt
	}
	return p
}

// pays says whether so many bags at so much are within what is left.
func (w *purse) pays(bags int, cost float64) bool {
	// 1e-9: a budget that is just enough stays so after prices were taken off it one by one.
	return bags <= w.samples && (w.options.Money == 0 || cost <= w.money*(1+1e-9))
}

// pay takes bags and money off what is left.
func (w *purse) pay(bags int, cost float64) {
	// without a budget of money nothing is counted down, or a purse of none would go below zero
	w.samples -= bags
	if w.options.Money > 0 {
		w.money -= cost
	}
}

// choose hands out bags until samples or money are spent, or nothing is worth a bag; what is left then goes to zones whose
// lime nobody should spread untested. fits says whether a zone has room for a number of bags; one that has none gets none.
func choose(all []*prospect, o Options, fits func(p *prospect, bags int) bool) {
	w := newPurse(o)
	q := &queue{}
	for i, p := range all {
		if s, ok := p.best(w); ok {
			*q = append(*q, queued{s, i})
		}
	}
	heap.Init(q)
	for q.Len() > 0 {
		s := heap.Pop(q).(queued)
		p := s.prospect
		// what was left when the step was thought of may be spent by now
		if now, ok := p.best(w); !ok {
			continue
		} else if now.top != s.top || now.deep != s.deep {
			heap.Push(q, queued{now, s.place})
			continue
		}
		// A topsoil and a subsoil bag are dug at the same stops, so room is needed for the larger number of the two. a zone without room
		// is dropped for good: more bags would need more room still
		if !fits(p, max(p.top+s.top, p.deep+s.deep)) {
			continue
		}
		p.top, p.deep = p.top+s.top, p.deep+s.deep
		w.pay(s.bags, s.cost)
		// the next bag of a zone is worth another sum than the last one, so it is weighed anew
		if next, ok := p.best(w); ok {
			heap.Push(q, queued{next, s.place})
		}
	}
	testLime(all, w, fits)
}

// testLime gives a bag of topsoil to zones whose lime is a budget, most lime first.
func testLime(all []*prospect, w *purse, fits func(p *prospect, bags int) bool) {
	var asking []*prospect
	for _, p := range all {
		if p.asks() {
			asking = append(asking, p)
		}
	}
	tons := func(p *prospect) float64 { return float64(p.zone.Lime.Likely.Or(0).Over(p.zone.Area)) }
	slices.SortStableFunc(asking, func(a, b *prospect) int { return cmp.Compare(tons(b), tons(a)) })
	for _, p := range asking {
		// One bag each: it makes a rate of the budget, and a second would only make it a little better.
		if cost := w.options.costOf(1, 0); w.pays(1, cost) && fits(p, max(1, p.deep)) {
			p.top = 1
			w.pay(1, cost)
		}
	}
}
