package sampling_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/tidwall/geodesic"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
)

// plan is a plan that must come about.
func plan(t testing.TB, r *suitability.Result, o sampling.Options) *sampling.Plan {
	t.Helper()
	p, err := sampling.New(context.Background(), r, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// metres is the distance on the ellipsoid: Karney's geodesics, which share no formula with the planning.
func metres(a, b orb.Point) (d float64) {
	geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0], &d, nil, nil)
	return d
}

// fromEdge is the distance from a point to the nearest of many points on the edge of a shape.
func fromEdge(shape orb.MultiPolygon, p orb.Point) float64 {
	best := math.Inf(1)
	for _, polygon := range shape {
		for _, r := range polygon {
			for i := 1; i < len(r); i++ {
				n := int(metres(r[i-1], r[i])/4) + 1 // a point every 4 m
				for k := range n {
					t := float64(k) / float64(n)
					best = min(best, metres(p, orb.Point{r[i-1][0] + t*(r[i][0]-r[i-1][0]), r[i-1][1] + t*(r[i][1]-r[i-1][1])}))
				}
			}
		}
	}
	return best
}

// Every core lies in its zone and in its field, off the set-back and the headland, and every bag has the cores it says.
func TestCoresLieWhereTheyMay(t *testing.T) {
	for name, c := range map[string]struct {
		r *suitability.Result
		o sampling.Options
	}{
		"farm":             {tarnHollow(t), sampling.Options{}},
		"farm, headland":   {tarnHollow(t), sampling.Options{SetBack: 5, Headland: 36}},
		"farm, three bags": {tarnHollow(t), sampling.Options{Samples: 3, Cores: 15}},
	} {
		p := plan(t, c.r, c.o)
		cores := make([]int, len(p.Bags))
		for _, f := range p.Fields {
			for i, s := range f.Stops {
				if s.Number != i+1 || len(s.Bags) == 0 {
					t.Errorf("%s, field %s: stop %d: %+v", name, f.Field.ID, i, s)
				}
				for _, b := range s.Bags {
					cores[b]++
					if !planar.MultiPolygonContains(p.Bags[b].Zone.Shape, s.At) || p.Bags[b].Zone.FieldID != f.Field.ID {
						t.Errorf("%s, field %s, stop %d lies outside zone %s", name, f.Field.ID, s.Number, p.Bags[b].Zone.ID)
					}
				}
				if d := fromEdge(f.Field.Shape, s.At); !planar.MultiPolygonContains(f.Field.Shape, s.At) || d < float64(c.o.Clear())*0.999 {
					t.Errorf("%s, field %s, stop %d lies %.2f m from the edge, should be %.0f", name, f.Field.ID, s.Number, d, float64(c.o.Clear()))
				}
			}
		}
		for i, b := range p.Bags {
			if cores[i] != b.Cores || b.Cores == 0 {
				t.Errorf("%s, bag %s: %d stops for %d cores", name, b.ID, cores[i], b.Cores)
			}
			if hinges := slices.Contains(b.Zone.Rating.HingesOn, suitability.SubsoilPH); b.Deep && !hinges {
				t.Errorf("%s: subsoil is asked for in zone %s, which does not hinge on it", name, b.Zone.ID)
			}
		}
		if len(p.Bags) == 0 || c.o.Samples > 0 && len(p.Bags) > c.o.Samples {
			t.Errorf("%s: %d bags of %d", name, len(p.Bags), c.o.Samples)
		}
		zones := 0
		for _, f := range c.r.Fields {
			zones += len(f.Zones)
		}
		if len(p.Zones)+len(p.Left) != zones {
			t.Errorf("%s: %d zones with bags and %d without make not %d", name, len(p.Zones), len(p.Left), zones)
		}
	}
}

// A zone that was sure becomes one that its subsoil decides, by a wider range of the survey alone: then a deep bag is worth its price.
func TestSubsoilIsAskedForWhereARatingHingesOnIt(t *testing.T) {
	r := tarnHollow(t)
	z := &r.Zones[0] // suited by a subsoil of pH 6.2; from now on the survey knows it less well
	z.Rating.Components = slices.Clone(z.Rating.Components)
	for i := range z.Rating.Components {
		c := &z.Rating.Components[i]
		c.Horizons = slices.Clone(c.Horizons)
		for k := range c.Horizons {
			h := &c.Horizons[k]
			h.PHLow, h.PHHigh = unit.Some(h.PH.Or(6)-1.8), unit.Some(h.PH.Or(6)+0.5)
		}
	}
	z.Rating = r.Profile.Again(z.Rating, suitability.RateOptions{})
	if !slices.Contains(z.Rating.HingesOn, suitability.SubsoilPH) {
		t.Fatalf("the zone hinges on %v", z.Rating.HingesOn)
	}
	for _, x := range plan(t, r, sampling.Options{}).Zones {
		if x.Zone == z && x.Deep > 0 && x.Worth.WrongThen < x.Worth.WrongNow-0.1 {
			return
		}
	}
	t.Error("nobody asks for the subsoil of a zone that hinges on it")
}

// More samples never put less right, and no bag is worse spent than the next.
func TestMoreSamplesPutMoreRight(t *testing.T) {
	r := chicot(t, 60)
	before, bags := 0.0, 0
	for _, n := range []int{1, 2, 4, 8, 16, 32, 64} {
		p := plan(t, r, sampling.Options{Samples: n})
		right := 0.0
		for _, z := range p.Zones {
			right += (z.Worth.WrongNow-z.Worth.WrongThen)*z.Zone.Area.Acres() + (z.Worth.AstrayNow-z.Worth.AstrayThen).ShortTons()/p.Options.Tons
		}
		if right < before || len(p.Bags) > n || len(p.Bags) < bags {
			t.Errorf("%d samples: %d bags put %.3f right; fewer put %.3f", n, len(p.Bags), right, before)
		}
		before, bags = right, len(p.Bags)
	}
}

// Budgets that are enough for one bag, for a few, and for many.
func TestMoneyIsNotOverspent(t *testing.T) {
	r := tarnHollow(t)
	for _, money := range []float64{20, 55, 90, 1000} {
		o := sampling.Options{Money: money, Price: 18, DeepPrice: 31}
		p := plan(t, r, o)
		cost := 0.0
		for _, b := range p.Bags {
			if b.Deep {
				cost += 31
			} else {
				cost += 18
			}
		}
		if cost != p.Cost || cost > money || len(p.Bags) == 0 {
			t.Errorf("%d bags cost %g (plan says %g) of %g", len(p.Bags), cost, p.Cost, money)
		}
	}
}

// Made twice from the start, since maps and heaps could differ from run to run.
func TestSameSeedSamePlan(t *testing.T) {
	a, b := plan(t, tarnHollow(t), sampling.Options{Seed: 3}), plan(t, tarnHollow(t), sampling.Options{Seed: 3})
	if !reflect.DeepEqual(a.Fields, b.Fields) || !reflect.DeepEqual(a.Bags, b.Bags) || !reflect.DeepEqual(a.Zones, b.Zones) || !reflect.DeepEqual(a.Left, b.Left) {
		t.Error("the same input and seed gave another plan")
	}
}

// A zone that has been tested at both depths lately needs no bag.
func TestTestedZonesAreLeft(t *testing.T) {
	r := tarnHollow(t)
	for i := range r.Zones {
		r.Zones[i].Rating.Tested = suitability.Tested{Surface: &suitability.TestedPH{PH: 6, Samples: 1, Age: suitability.AgeFresh}, Subsoil: &suitability.TestedPH{PH: 6, Samples: 1, Age: suitability.AgeFresh}}
	}
	if p := plan(t, r, sampling.Options{}); len(p.Bags) > 0 {
		t.Errorf("%d bags where all is known", len(p.Bags))
	}
}

// A set-back wider than the fields: nothing is dug nearer to the edge, and the reason is told.
func TestNoRoomIsToldNotForced(t *testing.T) {
	p := plan(t, tarnHollow(t), sampling.Options{SetBack: 500})
	if len(p.Bags) != 0 || len(p.Fields) != 0 {
		t.Fatalf("%d bags with a set-back of 500 m", len(p.Bags))
	}
	if !slices.ContainsFunc(p.Left, func(l sampling.Left) bool { return l.Why == sampling.NoRoom }) {
		t.Errorf("nobody says why: %v", p.Left)
	}
}

// Each option out of range alone, and a plan that was called off.
func TestOptionsOutOfRange(t *testing.T) {
	for name, o := range map[string]sampling.Options{"samples": {Samples: -1}, "money without price": {Money: 100}, "too little": {Money: 5, Price: 10},
		"cores": {Cores: 51}, "set-back": {SetBack: unit.Length(math.NaN())}, "headland": {Headland: 2000}, "tons": {Tons: math.Inf(1)}, "field": {Fields: []string{"none"}}} {
		if _, err := sampling.New(context.Background(), tarnHollow(t), o); err == nil {
			t.Errorf("%s: %+v was taken", name, o)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := sampling.New(ctx, tarnHollow(t), sampling.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A thousand invented fields on a real survey.
func BenchmarkPlan(b *testing.B) {
	r := chicot(b, 1000)
	for _, n := range []int{100, 1000} {
		b.Run(map[int]string{100: "samples=100", 1000: "samples=1000"}[n], func(b *testing.B) {
			for b.Loop() {
				plan(b, r, sampling.Options{Samples: n})
			}
		})
	}
}
