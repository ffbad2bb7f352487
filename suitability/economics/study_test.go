package economics_test

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

type money = economics.Range[economics.Money]

// fixed is a figure that its giver is sure of.
func fixed(v float64) economics.Range[float64] { return economics.One(v) }

// simple prices a stand whose value can be worked out by hand.
func simple() map[economics.Item]economics.Range[float64] {
	return map[economics.Item]economics.Range[float64]{
		economics.Lime: fixed(50), economics.Drilling: fixed(40), economics.SoilSampling: fixed(5), economics.Hay: fixed(180), economics.Harvest: fixed(60),
		economics.Yield: fixed(4), economics.YieldMarginal: fixed(3), economics.SodAfterNitrogen: fixed(200), economics.Upkeep: fixed(80), economics.DiscountRate: fixed(5),
		economics.LifeSuited: fixed(6), economics.LifeMarginal: fixed(4), economics.Insects: fixed(10),
	}
}

// By hand: lime 2 tons at 50 today; sampling 5 today; drilling 40 after a year; then six years of 4 × (180 - 60) - 80 - 10 - 200 = 190.
func TestValueByHand(t *testing.T) {
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 2, 2, 2, 12)), prices(simple()), economics.Options{})
	once := 10 * (100 + 5 + 40.0)
	value := -100 - 5 - 40/1.05
	for k := 1; k <= 6; k++ {
		value += 190 / math.Pow(1.05, float64(1+k))
	}
	f := s.Fields[0]
	near(t, "once", float64(f.Once.Or(money{}).Likely), once, 1e-6)
	near(t, "gain", float64(f.Gain.Or(money{}).Likely), 1900, 1e-6)
	near(t, "value", float64(f.Value.Or(money{}).Likely), 10*value, 1e-6)
	if r := f.Value.Or(money{}); r.Low != r.Likely || r.High != r.Likely {
		t.Errorf("prices without ranges give %v", r)
	}
	near(t, "an acre of suited ground", f.PerSuited.Or(economics.Range[economics.PerArea]{}).Likely.PerAcre(), 145, 1e-9)
	if !s.Zones[0].Sow || s.Zones[0].Why != "" {
		t.Errorf("%+v is not worth sowing", s.Zones[0])
	}
}

// The payback in the other direction: break-even hay of be-1 (from memory, not checked), by the whole program: 300 a year fixed, 180 - 60 a ton.
func TestBreakEvenOfAStand(t *testing.T) {
	of := map[economics.Item]economics.Range[float64]{economics.Hay: fixed(180), economics.Harvest: fixed(60), economics.Yield: fixed(4), economics.YieldMarginal: fixed(3),
		economics.SodAfterNitrogen: fixed(0), economics.Drilling: fixed(0), economics.Upkeep: fixed(300), economics.DiscountRate: fixed(7)}
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 3, 0, 0, 0, 0)), prices(of), economics.Options{})
	y, _ := s.Farm.BreakEven.Yield.Get()
	_, seed := s.Farm.Once.Get()
	if !seed {
		t.Fatal("no figures")
	}
	near(t, "yield", y.ShortTonsPerAcre(), 2.5, 1e-9)
}

// What has no price is listed as left out, and has no line with a zero.
func TestLeftOutIsNeverZero(t *testing.T) {
	of := simple()
	delete(of, economics.Drilling)
	delete(of, economics.Insects)
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 2, 2, 2, 12)), prices(of), economics.Options{})
	want := []economics.Item{economics.LimeSpreading, economics.Fertilizer, economics.Seed, economics.Inoculant, economics.SodSuppression, economics.Drilling, economics.Quality, economics.Insects}
	if !reflect.DeepEqual(s.Left, want) {
		t.Errorf("left out: %v, want %v", s.Left, want)
	}
	for _, l := range s.Zones[0].Lines {
		if l.Item == economics.Drilling {
			t.Errorf("drilling has a line: %+v", l)
		}
	}
}

// A gain is never assumed: without what the sod earns, or any other of these, there is no value.
func TestNoValueWithout(t *testing.T) {
	r := result(zone("A/1", "A", suitability.Suited, 10, 2, 2, 2, 12))
	for _, i := range []economics.Item{economics.Hay, economics.Harvest, economics.Yield, economics.DiscountRate, economics.SodAfterNitrogen} {
		of := simple()
		delete(of, i)
		s := economics.Of(r, prices(of), economics.Options{Draws: 10})
		if len(s.Wants) != 1 || s.Farm.Value.Has() || s.Fields[0].Value.Has() || s.Fields[0].Spread.Has() || s.Fields[0].BreakEven.Yield.Has() || len(s.Bars) > 0 {
			t.Errorf("without %s: wants %v, farm %+v", i, s.Wants, s.Farm)
		}
		if !s.Fields[0].Once.Has() || !s.Fields[0].PerSuited.Has() {
			t.Errorf("without %s the cost is gone too", i)
		}
	}
	of := simple()
	delete(of, economics.SodAfterNitrogen)
	of[economics.SodBeforeNitrogen] = fixed(300)
	if s := economics.Of(r, prices(of), economics.Options{}); len(s.Wants) != 1 || s.Wants[0] != economics.Nitrogen {
		t.Errorf("the sod's earnings before nitrogen want its price, got %v", s.Wants)
	}
}

// Nitrogen is saved once: where the sod's earnings already pay for it, its price changes nothing.
func TestNitrogenCountsOnce(t *testing.T) {
	r := result(zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0))
	after := simple()
	plain := economics.Of(r, prices(after), economics.Options{}).Farm.Value
	after[economics.Nitrogen] = fixed(0.6)
	if got := economics.Of(r, prices(after), economics.Options{}).Farm.Value; got != plain {
		t.Errorf("after nitrogen: %v, with its price %v", plain, got)
	}
	before := simple()
	delete(before, economics.SodAfterNitrogen)
	before[economics.SodBeforeNitrogen], before[economics.Nitrogen] = fixed(320), fixed(0.6) // 320 less 200 lb at 0.60 is 200
	got := economics.Of(r, prices(before), economics.Options{}).Farm.Value
	near(t, "before nitrogen", float64(got.Or(money{}).Likely), float64(plain.Or(money{}).Likely), 1e-6)
}

// Hay at a price that would pay for anything: unsuited ground shows its value and is still not sown.
func TestUnsuitedIsNeverRecommended(t *testing.T) {
	of := simple()
	of[economics.Hay], of[economics.YieldUnsuited] = fixed(5000), fixed(6)
	s := economics.Of(result(zone("A/1", "A", suitability.Unsuited, 10, 0, 0, 0, 0), zone("A/2", "A", suitability.NotRated, 10, 0, 0, 0, 0)), prices(of), economics.Options{})
	if z := s.Zones[0]; z.Sow || z.Why != economics.WhyUnsuited || !(z.Value.Or(money{}).Likely > 0) || !z.NoLime {
		t.Errorf("unsuited: %+v, want a value that changes nothing", z)
	}
	if z := s.Zones[1]; z.Sow || z.Why != economics.WhyNotRated || z.Once.Has() {
		t.Errorf("not rated: %+v", z)
	}
	if f := s.Fields[0]; f.Why != economics.WhyNoGround || f.Once.Has() || s.Farm.Once.Has() {
		t.Errorf("field: %+v", f)
	}
}

// A small zone that needs two years of lime does not hold up a large one that is ready.
func TestSlowZoneIsLeftOut(t *testing.T) {
	slow := zone("A/2", "A", suitability.Suited, 1, 2, 2, 2, 24)
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 40, 0, 0, 0, 0), slow), prices(simple()), economics.Options{})
	if !s.Zones[0].Sow || s.Zones[1].Sow || s.Zones[1].Why != economics.WhyWaits {
		t.Errorf("%+v\n%+v", s.Zones[0], s.Zones[1])
	}
	slow.Area = unit.Acres(400)
	s = economics.Of(result(zone("A/1", "A", suitability.Suited, 40, 0, 0, 0, 0), slow), prices(simple()), economics.Options{})
	if !s.Zones[0].Sow || !s.Zones[1].Sow || s.Fields[0].Lead.Or(economics.Range[economics.Years]{}).Likely != 2 {
		t.Errorf("%+v\n%+v", s.Zones, s.Fields[0])
	}
}

// One reason a case why ground is not sown.
func TestWhyNot(t *testing.T) {
	poor := simple()
	poor[economics.Hay] = fixed(100)
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0)), prices(poor), economics.Options{})
	if s.Zones[0].Why != economics.WhyLoses || s.Fields[0].Why != economics.WhyLoses {
		t.Errorf("loses: %+v", s.Zones[0])
	}
	dear := simple()
	dear[economics.PerField] = fixed(50000)
	s = economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0)), prices(dear), economics.Options{})
	if s.Fields[0].Why != economics.WhyFieldCost {
		t.Errorf("cost of a field: %+v", s.Fields[0])
	}
	unyielded := simple()
	delete(unyielded, economics.YieldMarginal)
	s = economics.Of(result(zone("A/1", "A", suitability.Marginal, 10, 0, 0, 0, 0)), prices(unyielded), economics.Options{})
	if s.Zones[0].Why != economics.WhyNoYield || s.Zones[0].Value.Has() || !s.Zones[0].Once.Has() {
		t.Errorf("no yield: %+v", s.Zones[0])
	}
	unlimed := zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0)
	unlimed.Lime = suitability.Lime{Why: suitability.WhyNoTexture}
	s = economics.Of(result(unlimed), prices(simple()), economics.Options{})
	if s.Zones[0].Why != economics.WhyNoLime || s.Zones[0].Once.Has() || s.Fields[0].Unpriced != unlimed.Area || s.Fields[0].PerSuited.Has() {
		t.Errorf("no lime figure: %+v, field %+v", s.Zones[0], s.Fields[0])
	}
}

// Farm totals are the sums of fields, and those of the zones sown, but for the cost of a field.
func TestTotalsAreSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := drawnPrices(t)
		delete(of, economics.PerField)
		r := drawnResult(t)
		s := economics.Of(r, prices(of), economics.Options{})
		var farm, area float64
		for i, f := range s.Fields {
			farm, area = farm+float64(f.Once.Or(money{}).High), area+float64(f.Area)
			zones := 0.0
			for _, k := range r.Fields[i].Zones {
				if s.Zones[k].Sow {
					zones += float64(s.Zones[k].Once.Or(money{}).High)
				}
			}
			if got := float64(f.Once.Or(money{}).High); math.Abs(got-zones) > 1e-9*math.Abs(zones) {
				t.Fatalf("field %s costs %v, its zones %v", f.ID, got, zones)
			}
			for _, k := range r.Fields[i].Zones {
				once := 0.0
				for _, l := range s.Zones[k].Lines {
					if l.Item.Part() == economics.Once {
						once += float64(l.Money.Likely.Over(s.Zones[k].Area))
					}
				}
				if got := float64(s.Zones[k].Once.Or(money{}).Likely); math.Abs(got-once) > 1e-9*(1+once) {
					t.Fatalf("zone %s costs %v, its lines %v", s.Zones[k].ID, got, once)
				}
			}
		}
		if got := float64(s.Farm.Once.Or(money{}).High); math.Abs(got-farm) > 1e-9*farm || math.Abs(float64(s.Farm.Area)-area) > 1e-9*area {
			t.Fatalf("farm %v, fields %v", got, farm)
		}
	})
}

// Low ≤ likely ≤ high, and no draw lies outside: low and high are extremes.
func TestDrawsLieWithinExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := again(prices(drawnPrices(t)))
		if err != nil {
			t.Fatal(err)
		}
		s := economics.Of(drawnResult(t), p, economics.Options{Draws: 60, Seed: rapid.Uint64().Draw(t, "seed")})
		check := func(what string, f economics.Figures) {
			v, ok := f.Value.Get()
			if !ok {
				return
			}
			slack := economics.Money(1e-9 * (math.Abs(float64(v.Low)) + math.Abs(float64(v.High))))
			if v.Low > v.Likely+slack || v.Likely > v.High+slack {
				t.Fatalf("%s: value %v is out of order", what, v)
			}
			if d, ok := f.Spread.Get(); ok && (d.P10 < v.Low-slack || d.P90 > v.High+slack || d.P10 > d.P50 || d.P50 > d.P90) {
				t.Fatalf("%s: draws %+v, extremes %v", what, d, v)
			}
		}
		for _, z := range s.Zones {
			check(z.ID, z.Figures)
		}
		for _, f := range s.Fields {
			check(f.ID, f.Figures)
		}
		check("farm", s.Farm)
	})
}

// The dearer an item that is paid, the higher the cost; the dearer hay, the higher the value of a zone.
func TestDearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of, r := drawnPrices(t), drawnResult(t)
		before := economics.Of(r, prices(of), economics.Options{})
		i := rapid.SampledFrom([]economics.Item{economics.Lime, economics.LimePass, economics.Fertilizer, economics.Seed, economics.Drilling}).Draw(t, "item")
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		old := of[i]
		of[i] = old.Times(more)
		dear := economics.Of(r, prices(of), economics.Options{})
		for k, z := range dear.Zones {
			a, b := before.Zones[k].Once.Or(money{}), z.Once.Or(money{})
			if b.Low < a.Low*(1-1e-12) || b.Likely < a.Likely*(1-1e-12) || b.High < a.High*(1-1e-12) {
				t.Fatalf("%s: %s times %v costs %v, before %v", z.ID, i, more, b, a)
			}
		}
		of[i] = old
		of[economics.Hay] = of[economics.Hay].Times(more)
		better := economics.Of(r, prices(of), economics.Options{})
		for k, z := range better.Zones {
			a, b := before.Zones[k].Value.Or(money{}), z.Value.Or(money{})
			slack := economics.Money(1e-9 * math.Abs(float64(a.Likely)))
			if b.Likely < a.Likely-slack || b.Low < a.Low-economics.Money(1e-9*math.Abs(float64(a.Low))) {
				t.Fatalf("%s: hay times %v is worth %v, before %v", z.ID, more, b, a)
			}
		}
	})
}

// With the yield, the hay price or the life of its break-even, a zone is worth nothing.
func TestBreakEvenIsWorthNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := drawnPrices(t)
		r := result(zone("A/1", "A", suitability.Suited, 20, 1, 2, 4, 12))
		z := economics.Of(r, prices(of), economics.Options{}).Zones[0]
		scale := float64(z.Once.Or(money{}).Likely) + math.Abs(float64(z.Value.Or(money{}).Likely))
		try := func(i economics.Item, v float64) {
			of2 := map[economics.Item]economics.Range[float64]{}
			for k, x := range of {
				of2[k] = x
			}
			of2[i] = fixed(v)
			got := float64(economics.Of(r, prices(of2), economics.Options{}).Zones[0].Value.Or(money{}).Likely)
			if math.Abs(got) > 1e-6*scale {
				t.Fatalf("%s %v is worth %v, want 0", i, v, got)
			}
		}
		if y, ok := z.BreakEven.Yield.Get(); ok {
			try(economics.Yield, y.ShortTonsPerAcre())
		}
		if h, ok := z.BreakEven.Hay.Get(); ok {
			try(economics.Hay, h.PerShortTon())
		}
		if n, ok := z.BreakEven.Life.Get(); ok && n > 0 && n < 1000 {
			try(economics.LifeSuited, float64(n))
		}
	})
}

// No choice of zones of a field is worth more than ours, by trying all.
func TestChoiceIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := prices(drawnPrices(t))
		r := drawnResult(t)
		s := economics.Of(r, of, economics.Options{})
		for i, f := range r.Fields {
			if len(f.Zones) > 4 {
				continue
			}
			got := float64(s.Fields[i].Value.Or(money{}).Likely)
			for set := 1; set < 1<<len(f.Zones); set++ {
				var zones []suitability.Zone
				may := true
				for k, n := range f.Zones {
					if set>>k&1 == 1 {
						z := r.Zones[n]
						may = may && z.Lime.Likely.Has()
						zones = append(zones, z)
					}
				}
				if !may {
					continue
				}
				// Ground that waits as long as the slowest of the set, zone by zone.
				slowest := 0
				for _, z := range zones {
					slowest = max(slowest, z.Lime.WaitMonths)
				}
				sum := 0.0
				for k := range zones {
					zones[k].Lime.WaitMonths = slowest
					one := result(zones[k])
					sum += float64(economics.Of(one, without(of, economics.PerField), economics.Options{}).Zones[0].Value.Or(money{}).Likely)
				}
				whole, _ := of.Of(economics.PerField)
				rate, _ := of.Of(economics.DiscountRate)
				sum -= whole.Value.Likely * economics.Discount(rate.Value.Likely, float64(slowest)/12)
				if sum > got+1e-6*(1+math.Abs(got)) {
					t.Fatalf("field %s: ours %v, zones %b together %v", f.ID, got, set, sum)
				}
			}
		}
	})
}

// without returns the prices but for an item.
func without(p *economics.Prices, i economics.Item) *economics.Prices {
	out := *p
	out.Given = nil
	for _, x := range p.Given {
		if x.Item != i {
			out.Given = append(out.Given, x)
		}
	}
	return &out
}

// Bars are the inputs that have a range, the widest first, and their ends follow from the annuity by hand.
func TestSensitivity(t *testing.T) {
	of := simple()
	of[economics.Hay] = economics.Range[float64]{Low: 150, Likely: 180, High: 200}
	of[economics.Drilling] = economics.Range[float64]{Low: 30, Likely: 40, High: 60}
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 1, 2, 3, 12)), prices(of), economics.Options{})
	if len(s.Bars) != 3 || s.Bars[0].Input != economics.Hay {
		t.Fatalf("bars %+v, want hay, lime need and drilling", s.Bars)
	}
	// Hay 150 instead of 180 on 4 tons for six years from the second on.
	a := economics.Annuity(0.05, 6) / 1.05
	likely := s.Farm.ValuePerArea().Or(economics.Range[economics.PerArea]{}).Likely
	near(t, "hay low", (s.Bars[0].Low - likely).PerAcre(), -30*4*a, 1e-9)
	near(t, "hay high", (s.Bars[0].High - likely).PerAcre(), 20*4*a, 1e-9)
	for k := 1; k < len(s.Bars); k++ {
		if math.Abs(float64(s.Bars[k].High-s.Bars[k].Low)) > math.Abs(float64(s.Bars[k-1].High-s.Bars[k-1].Low)) {
			t.Errorf("bars are not sorted: %+v", s.Bars)
		}
	}
}

// The seed decides the draws.
func TestSameSeedSameStudy(t *testing.T) {
	p := invented(t)
	r := result(zone("A/1", "A", suitability.Suited, 10, 1, 2, 3, 12), zone("B/1", "B", suitability.Marginal, 30, 0, 0, 0, 0))
	a, b := economics.Of(r, p, economics.Options{Draws: 500, Seed: 4}), economics.Of(r, p, economics.Options{Draws: 500, Seed: 4})
	if !reflect.DeepEqual(a, b) {
		t.Error("the same seed gives another study")
	}
	if c := economics.Of(r, p, economics.Options{Draws: 500, Seed: 5}); reflect.DeepEqual(a.Farm.Spread, c.Farm.Spread) {
		t.Error("another seed gives the same draws")
	}
}

// am-1 by the whole program (from memory, not checked): 250 at 6 % over 4 years is 72.15 a year.
func TestCostByYear(t *testing.T) {
	of := map[economics.Item]economics.Range[float64]{economics.OtherOnce: fixed(250), economics.DiscountRate: {Low: 0, Likely: 6, High: 6}, economics.LifeSuited: {Low: 4, Likely: 4, High: 5}}
	z := economics.Of(result(zone("A/1", "A", suitability.Suited, 3, 0, 0, 0, 0)), prices(of), economics.Options{}).Zones[0]
	y, ok := z.ByYear.Get()
	if !ok {
		t.Fatal("no cost by year")
	}
	near(t, "likely", y.Likely.PerAcre(), 72.148, 1e-3)
	near(t, "low: no interest over five years", y.Low.PerAcre(), 50, 1e-9)
	near(t, "high", y.High.PerAcre(), 72.148, 1e-3)
}

// One input alone in its range: the tenths of the draws are those of its triangle.
// Source: textbook, quantiles of the triangular distribution.
func TestDrawsFollowTheTriangle(t *testing.T) {
	of := simple()
	of[economics.OtherOnce] = economics.Range[float64]{Low: 100, Likely: 150, High: 300}
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 1, 0, 0, 0, 0)), prices(of), economics.Options{Draws: 20000, Seed: 7})
	d, ok := s.Zones[0].Spread.Get()
	if !ok {
		t.Fatal("no draws")
	}
	at := func(cost float64) float64 { return float64(s.Zones[0].Value.Or(money{}).Likely) + 150 - cost }
	const off = 2.5 // money: three standard errors of a tenth of 20,000 draws is 1.9
	near(t, "a tenth lies under", float64(d.P10), at(300-math.Sqrt(0.1*200*150)), off)
	near(t, "half", float64(d.P50), at(300-math.Sqrt(0.5*200*150)), off)
	near(t, "nine tenths", float64(d.P90), at(100+math.Sqrt(0.1*200*50)), off)
}

// A file without any cost makes no field look free.
func TestNoCostIsNotFree(t *testing.T) {
	of := simple()
	for _, i := range economics.Items() {
		if i.Part() == economics.Once {
			delete(of, i)
		}
	}
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 2, 2, 2, 12)), prices(of), economics.Options{Draws: 10})
	if f := s.Fields[0]; f.Once.Has() || f.PerSuited.Has() || f.Value.Has() || len(s.Wants) != 1 {
		t.Errorf("wants %v, field %+v", s.Wants, f)
	}
}

// What all suited ground would bring is told with the cost of the field, whether or not it is worth sowing: a field that its own cost sinks
// is a loss, and not the gain of its zones. By hand: 10 acres sown at once, so that the cost is paid today.
func TestSuitedGroundIsValuedWithTheCostOfItsField(t *testing.T) {
	for _, cost := range []float64{100, 50000} {
		of := simple()
		of[economics.PerField] = fixed(cost)
		s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0)), prices(of), economics.Options{})
		f, z := &s.Fields[0], s.Zones[0].Value.Or(money{})
		got, ok := f.ValueSuited.Get()
		if want := float64(z.Likely) - cost; !ok || math.Abs(float64(got.Likely)-want) > 1e-6*cost {
			t.Errorf("cost %g: %v, want %v", cost, got.Likely, want)
		}
		if v, ok := f.Value.Get(); ok && v != got {
			t.Errorf("cost %g: all suited ground is worth sowing, yet worth %v and %v", cost, v, got)
		}
		if f.Value.Has() != (cost < float64(z.Likely)) {
			t.Errorf("cost %g: value %v", cost, f.Value)
		}
	}
	unlimed := zone("A/2", "A", suitability.Suited, 10, 0, 0, 0, 0)
	unlimed.Lime = suitability.Lime{Why: suitability.WhyNoTexture}
	s := economics.Of(result(zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0), unlimed), prices(simple()), economics.Options{})
	if s.Fields[0].ValueSuited.Has() {
		t.Error("a value of suited ground without the part that nobody can price")
	}
}
