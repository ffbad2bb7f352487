package suitability

import (
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// maybe draws a value that is missing one time in five.
func maybe[T any](t *rapid.T, label string, g *rapid.Generator[T]) unit.Opt[T] {
	if rapid.IntRange(0, 4).Draw(t, label+" recorded") == 0 {
		return unit.None[T]()
	}
	return unit.Some(g.Draw(t, label))
}

// tenths draws a value as surveys print it, so that limits are hit exactly now and then.
func tenths(low, high int) *rapid.Generator[float64] {
	return rapid.Map(rapid.IntRange(low, high), func(n int) float64 { return float64(n) / 10 })
}

// drawHorizons draws horizons that follow on each other, with litter and rock among them and much not recorded.
func drawHorizons(t *rapid.T) []soils.Horizon {
	n := rapid.IntRange(0, 4).Draw(t, "horizons")
	out := make([]soils.Horizon, 0, n)
	top := 0.0
	for range n {
		bottom := top + float64(rapid.IntRange(1, 80).Draw(t, "thickness"))
		ph := maybe(t, "pH", tenths(35, 95))
		h := soils.Horizon{Name: rapid.SampledFrom([]string{"Oi", "A", "Bt", "C", "R", "2Cr"}).Draw(t, "name"),
			Top: depth(top), Bottom: depth(bottom), AWC: maybe(t, "awc", rapid.Float64Range(0, 0.3)),
			SAR: maybe(t, "sar", rapid.Float64Range(0, 30)), Texture: rapid.SampledFrom(append(soils.TextureClasses(), "")).Draw(t, "texture")}
		if v, ok := ph.Get(); ok {
			h.PH = soils.Range[unit.PH]{Low: unit.Some(unit.PH(v - 0.5)), Value: unit.Some(unit.PH(v)), High: unit.Some(unit.PH(v + 0.5))}
		}
		out = append(out, h)
		top = bottom
	}
	return out
}

// drawComponent draws a component in which most fields may be missing, and which may be no soil.
func drawComponent(t *rapid.T) soils.Component {
	c := soils.Component{Name: rapid.SampledFrom([]string{"Able", "Baker", "Charlie"}).Draw(t, "name"),
		Key: rapid.StringMatching(`[0-9]{4}`).Draw(t, "key"), Drainage: soils.DrainageClass(rapid.IntRange(0, 8).Draw(t, "drainage")),
		Slope: soils.Range[float64]{Value: maybe(t, "slope", tenths(0, 400))}, Horizons: drawHorizons(t),
		Kind: rapid.SampledFrom([]string{"Series", "Series", "Series", "", "Miscellaneous area"}).Draw(t, "kind")}
	if p, ok := maybe(t, "percent", rapid.IntRange(0, 60)).Get(); ok {
		c.Percent = unit.Some(unit.Percent(p))
	}
	if rapid.IntRange(0, 3).Draw(t, "restricted") == 0 {
		c.Restrictions = []soils.Restriction{{Kind: rapid.SampledFrom([]string{"Fragipan", "Plinthite", "Lithic bedrock"}).Draw(t, "kind of restriction"),
			Top: depth(float64(rapid.IntRange(0, 200).Draw(t, "restriction")))}}
	}
	for m := 1; m <= 12; m += 3 {
		c.Months = append(c.Months, soils.Month{Month: m, Flooding: soils.Frequency(rapid.IntRange(0, 7).Draw(t, "flooding")),
			Ponding: soils.Frequency(rapid.IntRange(0, 2).Draw(t, "ponding")), Layers: []soils.MoistureLayer{{
				Top: depth(float64(rapid.IntRange(0, 200).Draw(t, "wet"))), Status: rapid.SampledFrom([]string{"", "Moist", "Wet"}).Draw(t, "status")}}})
	}
	return c
}

// drawUnit draws a map unit whose percents sum to anything from nothing to far over a hundred.
func drawUnit(t *rapid.T) soils.MapUnit {
	u := unitOf()
	for range rapid.IntRange(0, 5).Draw(t, "components") {
		u.Components = append(u.Components, drawComponent(t))
	}
	return u
}

// Shares are shares: they sum to the rated share, which is at most the whole; classes and codes agree with them.
func TestSharesAreShares(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		r := p.RateUnit(drawUnit(t), RateOptions{Drained: rapid.Bool().Draw(t, "drained")})
		for _, s := range []Shares{r.Shares, r.SharesToday} {
			if !near(s.Suited+s.Marginal+s.Unsuited, s.Rated) || s.Rated > 100 || min(s.Suited, s.Marginal, s.Unsuited) < 0 {
				t.Fatalf("shares %+v", s)
			}
		}
		if (r.Class == NotRated) != (r.Shares.Rated < 50) || (r.Class == NotRated) == r.Score.Has() {
			t.Fatalf("%v with %v rated and score %v", r.Class, r.Shares.Rated, r.Score)
		}
		if (r.Limiting == "") != (r.Class <= Suited) || (r.Correctable == NotLimited) != (r.Limiting == "") {
			t.Fatalf("%v limited by %q, correctable %q", r.Class, r.Limiting, r.Correctable)
		}
		for _, c := range r.Components {
			if c.Class != NotRated && (classOf(c.Score.Or(0)) != c.Class || c.ClassToday < c.Class) {
				t.Fatalf("component %v, today %v, score %v", c.Class, c.ClassToday, c.Score)
			}
		}
	})
}

// The order of the records, and the keys that change every year, change nothing.
func TestOrderOfComponentsChangesNothing(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t)
		want := p.RateUnit(u, RateOptions{})
		seed := rapid.Uint64().Draw(t, "seed")
		u.Components = slices.Clone(u.Components)
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(u.Components), func(i, j int) {
			u.Components[i], u.Components[j] = u.Components[j], u.Components[i]
		})
		for i := range u.Components {
			u.Components[i].Key = ""
		}
		if got := p.RateUnit(u, RateOptions{}); !reflect.DeepEqual(got, want) {
			t.Fatalf("shuffled: %+v\nwant %+v", got, want)
		}
	})
}

// A rating is read back from its JSON exactly: later steps work from the file.
func TestRatingRoundTrip(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		want := p.RateUnit(drawUnit(t), RateOptions{Target: p.TargetOf("KY")})
		b, err := json.Marshal(want)
		if err != nil {
			t.Fatal(err)
		}
		var got UnitRating
		if err := json.Unmarshal(b, &got); err != nil || !reflect.DeepEqual(got, want) {
			t.Fatalf("%v\n%s\nread back %+v", err, b, got)
		}
	})
}

// The profile too goes through JSON whole.
func TestProfileRoundTrip(t *testing.T) {
	want := DefaultProfile()
	b, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	got := new(Profile)
	if err := json.Unmarshal(b, got); err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("%v; read back %+v", err, got)
	}
}

// Making the ground better in one respect never makes its class or score worse.
func TestBetterGroundIsNotRatedWorse(t *testing.T) {
	p := DefaultProfile()
	rapid.Check(t, func(t *rapid.T) {
		ph := func(label string) float64 { return tenths(40, 78).Draw(t, label) }
		from, to := ph("subsoil"), ph("better subsoil")
		from, to = min(from, to), max(from, to)
		rest := acid(ph("surface"), 0)
		a := p.RateUnit(unitOf(good(100, rest, func(c *soils.Component) { c.Horizons[1].PH.Value = unit.Some(unit.PH(from)) })), RateOptions{})
		b := p.RateUnit(unitOf(good(100, rest, func(c *soils.Component) { c.Horizons[1].PH.Value = unit.Some(unit.PH(to)) })), RateOptions{})
		if b.Class > a.Class || b.Score.Or(0) < a.Score.Or(0)-1e-9 {
			t.Fatalf("subsoil %v: %v %v; %v: %v %v", from, a.Class, a.Score, to, b.Class, b.Score)
		}
	})
}

// A unit of four components, with something of every kind of limit.
func BenchmarkRateUnit(b *testing.B) {
	p, u := DefaultProfile(), madeUnit()
	b.ReportAllocs()
	for b.Loop() {
		p.RateUnit(u, RateOptions{})
	}
}
