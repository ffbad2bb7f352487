package uncertainty_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"rootworthy/soils"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Without any spread the chances are the rating itself and the need is the figure of the plan.
func TestWithoutSpreadItIsTheRating(t *testing.T) {
	for name, s := range surveys(t) {
		r := resultOf(s.Units, true)
		got := uncertainty.Of(r, uncertainty.Options{AsMapped: true, NoSpread: true, Least: 1})
		classes := map[suitability.Class]int{}
		for i, z := range got.Zones {
			want := r.Zones[i]
			classes[want.Rating.Class]++
			if z.Class.Of(want.Rating.Class) != 1 || z.Today.Of(want.Rating.ClassToday) != 1 || z.Error != 0 {
				t.Errorf("%s, map unit %s: %v and %v ± %g, want %v and %v surely", name, want.MapUnitKey, z.Class, z.Today, z.Error, want.Rating.Class, want.Rating.ClassToday)
			}
			likely, ok := want.Lime.Likely.Get()
			need, has := z.Need.Get()
			if ok && (!has || math.Abs(need.Low-float64(likely)) > 1e-12 || need.High != need.Low) {
				t.Errorf("%s, map unit %s: need %v, want %v", name, want.MapUnitKey, z.Need, likely)
			}
			for _, c := range suitability.Classes() {
				if math.Abs(100*z.Spots.Of(c)-want.Rating.Shares.Of(c)) > 1e-5 {
					t.Errorf("%s, map unit %s: %v of a hundred spots %v, rating says %v", name, want.MapUnitKey, 100*z.Spots.Of(c), c, want.Rating.Shares.Of(c))
				}
			}
		}
		if len(classes) < 3 {
			t.Errorf("%s: only %v seen", name, classes)
		}
	}
}

// Whatever is drawn, chances add up to one, intervals are in order, the error is what was asked for, and all is the same again.
func TestChancesAreChances(t *testing.T) {
	for name, s := range surveys(t) {
		r := resultOf(s.Units, true)
		o := uncertainty.Options{Seed: 7}
		got := uncertainty.Of(r, o)
		unsure := 0
		for _, z := range got.Zones {
			for _, c := range []uncertainty.Chances{z.Class, z.Today, z.Spots} {
				if sum := c[0] + c[1] + c[2] + c[3]; math.Abs(sum-1) > 1e-9 || slices.Min(c[:]) < 0 {
					t.Errorf("%s, zone %s: chances %v", name, z.ID, c)
				}
			}
			if n, ok := z.Need.Get(); ok && !(0 <= n.Low && n.Low <= n.Middle && n.Middle <= n.High) {
				t.Errorf("%s, zone %s: need %v", name, z.ID, n)
			}
			if z.Error > 0.02 {
				t.Errorf("%s, zone %s: off by %g after %d draws", name, z.ID, z.Error, z.Draws)
			}
			if z.Class.Of(z.Class.Likeliest()) < 0.95 {
				unsure++
			}
		}
		for i, f := range got.Fields {
			if sum := f.Class[0] + f.Class[1] + f.Class[2] + f.Class[3]; math.Abs(sum-1) > 1e-9 || f.Suited.High > float64(r.Fields[i].Area)*(1+1e-9) {
				t.Errorf("%s, field %s: %+v", name, f.ID, f)
			}
		}
		if unsure == 0 {
			t.Errorf("%s: nothing is unsure, so nothing is shown", name)
		}
		if again := uncertainty.Of(r, o); !reflect.DeepEqual(got, again) {
			t.Errorf("%s: the same seed gave something else", name)
		}
		if other := uncertainty.Of(r, uncertainty.Options{Seed: 8}); reflect.DeepEqual(got, other) {
			t.Errorf("%s: another seed gave the same", name)
		}
	}
}

// A zone's chances do not hang on what else is in the result.
func TestAZoneStandsAlone(t *testing.T) {
	units := surveys(t)["survey"].Units
	all := uncertainty.Of(resultOf(units, false), uncertainty.Options{})
	one := uncertainty.Of(resultOf(units[3:4], false), uncertainty.Options{})
	a, b := all.Zones[3], one.Zones[0]
	if a.Class != b.Class || a.Need != b.Need {
		t.Errorf("alone %v %v, in company %v %v", b.Class, b.Need, a.Class, a.Need)
	}
}

// One soil with pH from 5.0 to 6.0, most often 5.5: subsoil under 5.5 is marginal, else suited. By hand: the triangle is
// even, so the two are as likely. With a body of two soils, 60 and 40 percent, one body is the first in 6 of 10 draws.
func TestChancesByHand(t *testing.T) {
	even := soils.MapUnit{Key: "1", Components: []soils.Component{soil(100, 5.5, 0.5)}}
	mixed := soils.MapUnit{Key: "2", Components: []soils.Component{soil(60, 7, 0), soil(40, 5.2, 0)}}
	part := soils.MapUnit{Key: "3", Components: []soils.Component{soil(70, 7, 0)}}
	r := resultOf([]soils.MapUnit{even, mixed, part}, false)
	for i := range r.Zones {
		r.Zones[i].Area = 1000 // one body
	}
	s := uncertainty.Of(r, uncertainty.Options{Error: 0.005})
	for i, want := range []uncertainty.Chances{{0, 0.5, 0.5, 0}, {0, 0.6, 0.4, 0}, {0.3, 0.7, 0, 0}} {
		for c := range want {
			if got := s.Zones[i].Class[c]; math.Abs(got-want[c]) > 0.008 {
				t.Errorf("zone %d: %v, want %v", i, s.Zones[i].Class, want)
			}
		}
	}
}

// More bodies make a zone more like its map unit.
func TestLargeZonesAreSurer(t *testing.T) {
	u := soils.MapUnit{Key: "1", Components: []soils.Component{soil(65, 7, 0), soil(35, 5.2, 0)}}
	r := resultOf([]soils.MapUnit{u, u, u}, false)
	r.Zones[0].Area, r.Zones[1].Area, r.Zones[2].Area = 1e3, 3e5, 3e6
	s := uncertainty.Of(r, uncertainty.Options{})
	for i := 1; i < 3; i++ {
		if s.Zones[i].Bodies <= s.Zones[i-1].Bodies || s.Zones[i].Class.Of(suitability.Suited) <= s.Zones[i-1].Class.Of(suitability.Suited) {
			t.Errorf("%d bodies: %v; %d bodies: %v", s.Zones[i-1].Bodies, s.Zones[i-1].Class, s.Zones[i].Bodies, s.Zones[i].Class)
		}
	}
}

// The stated error holds 19 times in 20: chances of many seeds about those of a long run.
func TestErrorIsWhatItSays(t *testing.T) {
	u := soils.MapUnit{Key: "1", Components: []soils.Component{soil(60, 5.6, 0.7), soil(40, 5.2, 0.4)}}
	r := resultOf([]soils.MapUnit{u}, false)
	truth := uncertainty.Of(r, uncertainty.Options{Seed: 1, Error: 0.002, Most: 400000}).Zones[0].Class
	const seeds = 300
	out := 0
	for seed := range uint64(seeds) {
		z := uncertainty.Of(r, uncertainty.Options{Seed: 100 + seed, Error: 0.04}).Zones[0]
		if math.Abs(z.Class.Of(suitability.Suited)-truth.Of(suitability.Suited)) > z.Error {
			out++
		}
	}
	// 15 are to be expected; 30 would be four standard deviations off
	if out > 30 {
		t.Errorf("%d of %d runs were off by more than the error they state", out, seeds)
	}
}

// A test takes the place of the survey's range, and leaves its own error.
func TestATestNarrows(t *testing.T) {
	u := soils.MapUnit{Key: "1", Components: []soils.Component{soil(100, 5.5, 0.9)}}
	r := resultOf([]soils.MapUnit{u, u}, false)
	at := func(ph float64, age string) suitability.Tested {
		x := suitability.TestedPH{Age: age, Samples: 1}
		x.PH = 5.9
		return suitability.Tested{Subsoil: &x}
	}
	spread := func(tested suitability.Tested) float64 {
		r.Zones[1].Rating = r.Profile.RateUnit(u, suitability.RateOptions{Tested: tested})
		return uncertainty.Of(r, uncertainty.Options{}).Zones[1].Class.Of(suitability.Suited)
	}
	survey := uncertainty.Of(r, uncertainty.Options{}).Zones[0].Class.Of(suitability.Suited)
	fresh, old := spread(at(5.9, suitability.AgeFresh)), spread(at(5.9, suitability.AgeOld))
	if !(survey < old && old < fresh && fresh > 0.98) {
		t.Errorf("chance of suited by survey %g, by an old test %g, by a fresh one %g", survey, old, fresh)
	}
}

func BenchmarkStudy(b *testing.B) {
	s := surveys(b)["ssurgo-ar017"]
	if s == nil {
		b.Skip("needs the real survey AR017")
	}
	for _, n := range []int{1000, 10000} {
		b.Run(map[int]string{1000: "fields=1000", 10000: "fields=10000"}[n], func(b *testing.B) {
			base := resultOf(s.Units, false)
			r := &suitability.Result{Profile: base.Profile}
			random := rand.New(rand.NewPCG(1, 1))
			for i := range n {
				f := suitability.Field{ID: string(rune('a' + i%26)), Area: 8e4}
				for range 2 {
					z := base.Zones[random.IntN(len(base.Zones))]
					z.Area *= 8 // of 10 acres
					f.Zones = append(f.Zones, len(r.Zones))
					r.Zones = append(r.Zones, z)
				}
				r.Fields = append(r.Fields, f)
			}
			b.ReportAllocs()
			for b.Loop() {
				uncertainty.Of(r, uncertainty.Options{})
			}
		})
	}
}
