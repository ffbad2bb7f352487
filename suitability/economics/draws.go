package economics

import (
	"math"
	"math/rand/v2"
	"slices"

	"rootworthy/soils/unit"
)

// mostDraws bounds the work; beyond, the tenths no longer move.
const mostDraws = 100000

// draw works out the spread of zones, fields and farm. One draw puts every input somewhere in its range, the same for all ground.
func (b *book) draw(s *Study, o Options) {
	n := min(o.Draws, mostDraws)
	if n <= 0 {
		return
	}
	drawn := b.drawn(n, o.Seed)
	farm := make([]float64, n)
	one := make([]float64, n)
	for i := range b.plots {
		p := &b.plots[i]
		if len(p.grounds) == 0 {
			continue
		}
		// within one draw all plots take the same values, so that the farm's spread holds what is common to its fields; independent ones
		// would level out and look surer than they are
		for d := range drawn {
			one[d] = p.valueAt(&drawn[d])
			farm[d] += one[d]
		}
		s.Fields[i].Spread = unit.Some(spreadOf(one))
	}
	if s.Farm.Area > 0 {
		s.Farm.Spread = unit.Some(spreadOf(farm))
	}
	// Zones by themselves, each as soon as it is ready: the table of zones shows them alone, the field waits for the slowest.
	for i := range b.grounds {
		g := &b.grounds[i]
		// without a yield or a need there is no value to spread
		if g.bare || !g.paid {
			continue
		}
		for d := range drawn {
			v := &drawn[d]
			one[d] = g.sow(v, g.lead(v.need.of(g.need))).value() * float64(g.zone.Area)
		}
		s.Zones[i].Spread = unit.Some(spreadOf(one))
	}
}

// drawn puts every input by itself somewhere in a triangle over its range, n times.
func (b *book) drawn(n int, seed uint64) []values {
	// The second number only keeps these draws apart from those of other packages with the same seed.
	random := rand.New(rand.NewPCG(seed, 0x6d6f6e6579))
	out := make([]values, n)
	for d := range out {
		var c picks
		for i := range c { // only what has a range is drawn: an item that the file does not give must not move the others
			if b.in.base[i].Spread() || Item(i) == LimeNeed || Item(i) == Fertilizer {
				c[i] = pick{level: atDrawn, q: random.Float64()}
			}
		}
		out[d] = b.in.at(&c)
	}
	return out
}

// spreadOf sorts a copy of values by nearest rank. x is not empty; it is used again for the next ground and so is not sorted itself.
func spreadOf(x []float64) Spread {
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	at := func(share float64) Money { return Money(sorted[max(0, int(math.Ceil(share*float64(len(sorted))))-1)]) }
	above := 0
	for _, v := range sorted {
		if v > 0 {
			above++
		}
	}
	return Spread{P10: at(0.1), P50: at(0.5), P90: at(0.9), Above: float64(above) / float64(len(sorted)), Draws: len(sorted)}
}
