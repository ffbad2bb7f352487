package economics

import (
	"math"
	"testing"
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Over several fields and classes: at each break-even of the farm the same ground together is worth nothing.
func TestFarmBreaksEven(t *testing.T) {
	zone := func(id, field string, c suitability.Class, acres float64, months int) suitability.Zone {
		rate := unit.Some(unit.ShortTonsPerAcre(1.5))
		return suitability.Zone{ID: id, FieldID: field, Area: unit.Acres(acres), Rating: suitability.UnitRating{Class: c},
			Lime: suitability.Lime{Low: rate, Likely: rate, High: rate, Product: rate, Passes: 1, WaitMonths: months}}
	}
	r := &suitability.Result{Zones: []suitability.Zone{zone("A/1", "A", suitability.Suited, 30, 12), zone("A/2", "A", suitability.Marginal, 20, 12), zone("B/1", "B", suitability.Suited, 10, 24)},
		Fields: []suitability.Field{{ID: "A", Zones: []int{0, 1}}, {ID: "B", Zones: []int{2}}}, Profile: suitability.DefaultProfile()}
	p := &Prices{Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)}
	for i, v := range map[Item]float64{Lime: 50, Drilling: 60, PerField: 300, Hay: 190, Harvest: 65, Yield: 5, YieldMarginal: 4, SodAfterNitrogen: 180, Upkeep: 90, DiscountRate: 6} {
		u := i.Units()[0]
		p.Given = append(p.Given, Price{Item: i, Value: One(v * u.Scale), Unit: u})
	}
	b := newBook(r, p, Options{})
	s := Of(r, p, Options{})
	if s.Farm.Area != unit.Acres(60) {
		t.Fatalf("%v acres are worth sowing, want all 60", s.Farm.Area.Acres())
	}
	scale := float64(s.Farm.Once.Or(Range[Money]{}).Likely)
	worth := func(items []Item, v float64) float64 {
		in := *b.in
		for _, i := range items {
			in.base[i] = One(v)
		}
		at, sum := in.at(&picks{}), 0.0
		for k := range b.plots {
			sum += b.plots[k].valueAt(&at)
		}
		return sum
	}
	y, okY := s.Farm.BreakEven.Yield.Get()
	h, okH := s.Farm.BreakEven.Hay.Get()
	n, okN := s.Farm.BreakEven.Life.Get()
	if !okY || !okH || !okN {
		t.Fatalf("%+v", s.Farm.BreakEven)
	}
	for name, got := range map[string]float64{"yield": worth([]Item{Yield, YieldMarginal}, float64(y)), "hay": worth([]Item{Hay}, float64(h)), "life": worth([]Item{LifeSuited, LifeMarginal}, float64(n))} {
		if math.Abs(got) > 1e-9*scale {
			t.Errorf("at the break-even of %s the farm is worth %v", name, got)
		}
	}
}

// Fertilizer of a plan and that of the prices move together in draws, each within its own range.
func TestPicksStayInRange(t *testing.T) {
	r := Range[float64]{2, 3, 7}
	for _, c := range []struct {
		p    pick
		want float64
	}{{pick{}, 3}, {pick{level: atLow}, 2}, {pick{level: atHigh}, 7}, {pick{level: atDrawn, q: 0}, 2}, {pick{level: atDrawn, q: 1}, 7},
		{pick{level: atDrawn, q: 0.2}, 3}} { // a fifth of the triangle lies left of its top
		if got := c.p.of(r); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v = %v, want %v", c.p, got, c.want)
		}
	}
}
