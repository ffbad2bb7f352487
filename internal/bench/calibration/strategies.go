package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// bags is how many bags of topsoil and subsoil a zone gets, and whether their cores stand around one point.
type bags struct {
	top, deep int
	point     bool
}

// strategy spends n bags on the zones of a farm.
// Budgets are in bags for the laboratory, of topsoil or subsoil alike: that is what costs.
type strategy struct {
	name  string
	fixed bool // the same plan every time
	spend func(r *estate, n int, random *rand.Rand) []bags
}

// strategies are in the order of the table, the program's own first.
func strategies() []strategy {
	return []strategy{
		{"by value", true, byValue},
		{"where it hinges, largest", true, func(r *estate, n int, _ *rand.Rand) []bags { return hinged(r, n) }},
		{"largest zones", true, func(r *estate, n int, _ *rand.Rand) []bags { return largest(r, n) }},
		{"random zones", false, func(r *estate, n int, q *rand.Rand) []bags { return randomly(r, n, 1, 0, q) }},
		// Half as many places, two bags at each.
		{"random zones, both depths", false, func(r *estate, n int, q *rand.Rand) []bags { return randomly(r, n/2, 1, 1, q) }},
		{"grid", false, func(r *estate, n int, q *rand.Rand) []bags { return grid(r, n, 1, 0, q) }},
		{"grid, both depths", false, func(r *estate, n int, q *rand.Rand) []bags { return grid(r, n/2, 1, 1, q) }},
	}
}

// byValue is the plan that the program itself proposes.
func byValue(r *estate, n int, _ *rand.Rand) []bags {
	p, err := sampling.New(context.Background(), r.Result, sampling.Options{Samples: n, SetBack: 5})
	if err != nil {
		panic(err) // the options are ours
	}
	out := make([]bags, len(r.Zones))
	for _, z := range p.Zones {
		for i := range r.Zones {
			if z.Zone == &r.Zones[i] {
				out[i] = bags{top: z.Top, deep: z.Deep}
			}
		}
	}
	return out
}

// bySize returns the zones, largest first.
func bySize(r *estate) []int {
	order := make([]int, len(r.Zones))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(r.Zones[b].Area, r.Zones[a].Area) })
	return order
}

// largest takes topsoil of the zones with most ground.
func largest(r *estate, n int) []bags {
	out := make([]bags, len(r.Zones))
	for _, i := range bySize(r)[:min(n, len(r.Zones))] {
		out[i].top = 1
	}
	return out
}

// hinged takes subsoil where a rating hinges on it, largest zones first, then topsoil of the largest: what somebody would
// do who reads the reports and has no program for sampling.
func hinged(r *estate, n int) []bags {
	out := make([]bags, len(r.Zones))
	for _, i := range bySize(r) {
		if n > 0 && slices.Contains(r.Zones[i].Rating.HingesOn, suitability.SubsoilPH) {
			out[i].deep = 1
			n--
		}
	}
	for _, i := range bySize(r) {
		if n > 0 {
			out[i].top = 1
			n--
		}
	}
	return out
}

// randomly takes bags of zones drawn blindly, none twice.
func randomly(r *estate, n, top, deep int, q *rand.Rand) []bags {
	out := make([]bags, len(r.Zones))
	for _, i := range q.Perm(len(r.Zones))[:min(n, len(r.Zones))] {
		out[i] = bags{top: top, deep: deep}
	}
	return out
}

// grid takes a bag at every so many acres, its cores around the point.
func grid(r *estate, n, top, deep int, q *rand.Rand) []bags {
	all := 0.0
	for _, z := range r.Zones {
		all += float64(z.Area)
	}
	out := make([]bags, len(r.Zones))
	// The zones stand in a row, acre after acre, and every so many acres there is a point, from a random beginning: a
	// systematic sample by area.
	every := all / float64(n)
	next, at := q.Float64()*every, 0.0
	for i, z := range r.Zones {
		at += float64(z.Area)
		for ; next < at; next += every {
			// A large zone may hold several points.
			out[i] = bags{out[i].top + top, out[i].deep + deep, true}
		}
	}
	return out
}

// loss is what is still wrong on a farm.
// Acres whose class is wrong, and short tons of lime that are spread where they are not needed or missing where they
// are.
type loss struct{ acres, tons float64 }

// weighed is the loss in acres, at the tons that the planning takes for an acre.
func (l loss) weighed() float64 { return l.acres + l.tons/4 }

// after samples a farm and adds up what the program then has wrong of it. The luck of a zone is the same for all plans.
// A zone without bags is wrong by what the survey has wrong of it.
func after(r *estate, truths []*truth, plan []bags, seed uint64) (l loss) {
	for i, t := range truths {
		// One stream a zone: plans are compared on the same truth and the same luck of the laboratory, so that differences are
		// the plans'.
		q := rand.New(rand.NewPCG(seed, uint64(i)))
		z := &r.Zones[i]
		// Without a bag the survey stands. No figure for lime counts as none spread.
		class, rate := z.Rating.Class, float64(z.Lime.Likely.Or(0))
		if plan[i] != (bags{}) {
			class, rate = sampled(r, i, t, plan[i], q)
		}
		if class != t.class {
			l.acres += z.Area.Acres()
		}
		if need, ok := t.need.Get(); ok {
			l.tons += unit.Mass(math.Abs(put(class, rate)-put(t.class, need)) * float64(z.Area)).ShortTons()
		}
	}
	return l
}

// put is what is spread on ground of a class.
func put(c suitability.Class, rate float64) float64 {
	if c == suitability.Suited || c == suitability.Marginal {
		return rate
	}
	return 0
}

// sampled rates a zone again with its bags, by the program's own rating of tested ground.
func sampled(r *estate, i int, t *truth, b bags, q *rand.Rand) (suitability.Class, float64) {
	var tested suitability.Tested
	// 10 and 5 are the cores of a bag.
	if ph, ok := t.read(b.top, 10, b.point, false, q); ok {
		tested.Surface = &suitability.TestedPH{PH: unit.PH(ph), Samples: b.top, Age: suitability.AgeFresh}
	}
	if ph, ok := t.read(b.deep, 5, b.point, true, q); ok {
		tested.Subsoil = &suitability.TestedPH{PH: unit.PH(ph), Samples: b.deep, Age: suitability.AgeFresh}
	}
	again := r.Profile.RateUnit(r.units[i], suitability.RateOptions{Tested: tested})
	// By percent of the soils, as the plan of the program weighs them.
	need, weight := 0.0, 0.0
	for _, c := range again.Components {
		if x, ok := c.Lime.Figure.Get(); ok {
			need, weight = need+float64(x)*float64(c.Percent.Or(0)), weight+float64(c.Percent.Or(0))
		}
	}
	rate := need / max(weight, 1e-9)
	if tested.Surface != nil {
		// A tested zone has its lime by a buffer test, which sees the need itself and not the table's; the test has its own
		// error.
		rate = float64(uncertainty.BufferTest(unit.AreaRate(rate*t.factor), q))
	}
	return again.Class, rate
}

// read is the mean reading of bags of n cores; ok is false without one.
func (t *truth) read(bags, n int, point, deep bool, q *rand.Rand) (ph float64, ok bool) {
	sum, read := 0.0, 0.0
	for range bags {
		one, cores := 0.0, 0
		// A bag at a point keeps the one place for all its cores; else each core is dug elsewhere in the zone.
		at := t.at[q.IntN(len(t.at))]
		for range n {
			if !point {
				at = t.at[q.IntN(len(t.at))]
			}
			// Ground that the survey does not describe has no pH here.
			if at.soil < 0 {
				continue
			}
			v := t.soils[at.soil].top[at.step]
			if deep {
				v = t.soils[at.soil].deep[at.step]
			}
			if x, ok := v.Get(); ok {
				one, cores = one+x, cores+1
			}
		}
		if cores > 0 {
			sum, read = sum+one/float64(cores)+uncertainty.BagSD(cores)*q.NormFloat64(), read+1
		}
	}
	return sum / max(1, read), read > 0
}

// contest spends the same bags by every strategy on the same farms, made many times over.
func contest(out io.Writer, w world, r *estate, budgets []int, times int, seed uint64) {
	fmt.Fprintln(out, "| bags | placed | acres of wrong class | tons of lime astray | acres weighed | put right of what can be said |")
	fmt.Fprintln(out, "| --- | --- | --- | --- | --- | --- |")
	for _, l := range results(w, r, budgets, times, seed) {
		fmt.Fprintf(out, "| %d | %s | %.0f | %.0f | %.0f | %.1f %% |\n", l.bags, l.name, l.acres, l.tons, l.weighed(), 100*l.gain)
	}
}

// result is what a strategy left wrong, the mean over many makings.
type result struct {
	bags int
	name string
	loss
	gain float64 // of the weighed loss without any sample
}

// results plays every budget by every strategy on the same farms, after a row for no sample at all.
func results(w world, r *estate, budgets []int, times int, seed uint64) (out []result) {
	var farms [][]*truth
	random := rand.New(rand.NewPCG(seed, 0x7e57))
	m := newMaker(w, r.Profile, random)
	for range times {
		var truths []*truth
		for i := range r.Zones {
			truths = append(truths, m.make(&r.Zones[i], nil))
		}
		farms = append(farms, truths)
	}
	mean := func(plan func() []bags) (l loss) {
		for k, truths := range farms {
			x := after(r, truths, plan(), seed<<20+uint64(k))
			l.acres, l.tons = l.acres+x.acres/float64(times), l.tons+x.tons/float64(times)
		}
		return l
	}
	none := make([]bags, len(r.Zones))
	// What is wrong without any sample, against which every plan is measured.
	before := mean(func() []bags { return none })
	out = append(out, result{0, "none", before, 0})
	for _, n := range budgets {
		for k, s := range strategies() {
			// By budget and strategy, so that adding a strategy leaves the draws of the others as they are.
			q := rand.New(rand.NewPCG(seed, uint64(n*100+k)))
			fixed := s.spend(r, n, q)
			plan := func() []bags { return fixed }
			if !s.fixed {
				plan = func() []bags { return s.spend(r, n, q) }
			}
			l := mean(plan)
			out = append(out, result{n, s.name, l, 1 - l.weighed()/before.weighed()})
		}
	}
	return out
}
