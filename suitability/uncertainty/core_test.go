package uncertainty_test

import (
	"math"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// A ground that nobody samples is rated as it is; one that is sampled, as the rating of tests itself would.
func TestAfterIsTheRating(t *testing.T) {
	none := unit.None[float64]()
	for name, s := range surveys(t) {
		r := resultOf(s.Units, false)
		grounds := uncertainty.NewGrounds(r, uncertainty.Options{})
		for i := range r.Zones {
			z := &r.Zones[i]
			g := grounds.Of(z)
			if got := g.After(none, none); got != z.Rating.Class {
				t.Errorf("%s, map unit %s: %v, rated %v", name, z.MapUnitKey, got, z.Rating.Class)
			}
			if likely, ok := z.Lime.Likely.Get(); ok && math.Abs(float64(g.Table(none).Or(-1)-likely)) > 1e-12 {
				t.Errorf("%s, map unit %s: need %v, planned %v", name, z.MapUnitKey, g.Table(none), likely)
			}
			for _, ph := range [][2]float64{{6.4, 5.2}, {5.1, 6.1}, {6.9, 4.8}} {
				want := r.Profile.RateUnit(s.Units[i], suitability.RateOptions{Tested: suitability.Tested{
					Surface: &suitability.TestedPH{PH: unit.PH(ph[0])}, Subsoil: &suitability.TestedPH{PH: unit.PH(ph[1])}}})
				if got := g.After(unit.Some(ph[0]), unit.Some(ph[1])); got != want.Class {
					t.Errorf("%s, map unit %s at %v: %v, rated %v", name, z.MapUnitKey, ph, got, want.Class)
				}
			}
		}
	}
}

// The bag of a zone reads its pH, give or take what a bag misses.
func TestBagReadsTheZone(t *testing.T) {
	r := resultOf([]soils.MapUnit{{Key: "1", Components: []soils.Component{soil(50, 5, 0), soil(50, 7, 0)}}}, false)
	g := uncertainty.NewGrounds(r, uncertainty.Options{AsMapped: true}).Of(&r.Zones[0])
	random := g.Rand(9)
	var d uncertainty.Draw
	const n = 4000
	sum, square := 0.0, 0.0
	for range n {
		g.Draw(&d, random)
		top, _ := g.Bag(&d, 10, random)
		x, ok := top.Get()
		if !ok {
			t.Fatal("a bag without a reading")
		}
		sum, square = sum+x/n, square+x*x/n
	}
	// ten cores of two soils two units apart, and what a bag misses of one soil: by hand √(1²/10 + 0.3²/10 + 0.1²)
	want := math.Sqrt(0.1 + 0.009 + 0.01)
	if sd := math.Sqrt(square - sum*sum); math.Abs(sum-6) > 0.03 || math.Abs(sd-want) > 0.02 {
		t.Errorf("mean %.3f, want 6; standard deviation %.3f, want %.3f", sum, sd, want)
	}
}
