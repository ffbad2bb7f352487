package economics_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// The slow, obvious way: every payment and gain of a zone written down year by year from its lines, and each discounted. Lives and
// waits are whole years here, where the closed form and the series must agree.
func TestValueIsItsFlows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		of := drawnPrices(t)
		for i, r := range of {
			of[i] = fixed(r.Likely)
		}
		life := rapid.IntRange(1, 12).Draw(t, "life")
		of[economics.LifeSuited] = fixed(float64(life))
		need := rapid.Float64Range(0, 9).Draw(t, "lime")
		wait := rapid.IntRange(0, 4).Draw(t, "wait")
		r := result(zone("A/1", "A", suitability.Suited, 1, need, need, need, 12*wait))
		z := economics.Of(r, prices(of), economics.Options{}).Zones[0]
		var flows []economics.Flow
		put := func(year int, p economics.PerArea, sign float64) {
			flows = append(flows, economics.Flow{Years: float64(year), Money: economics.Money(sign) * p.Over(unit.Acres(1))})
		}
		passes := r.Zones[0].Lime.Passes
		for _, l := range z.Lines {
			m := l.Money.Likely
			switch l.Item {
			case economics.Lime, economics.LimeSpreading, economics.LimePass:
				for pass := range passes {
					put(pass, m/economics.PerArea(passes), -1)
				}
				continue
			case economics.SoilSampling:
				put(0, m, -1)
				continue
			}
			if l.Item.Part() == economics.Once {
				put(wait, m, -1)
				continue
			}
			sign := -1.0
			if l.Item.Part() == economics.Gain {
				sign = 1
			}
			for k := 1; k <= life; k++ {
				put(wait+k, m, sign)
			}
		}
		want := float64(economics.PresentValue(of[economics.DiscountRate].Likely/100, flows))
		got := float64(z.Value.Or(money{}).Likely)
		scale := 0.0
		for _, f := range flows {
			scale += math.Abs(float64(f.Money))
		}
		if math.Abs(got-want) > 1e-9*scale {
			t.Fatalf("value %v, its flows %v", got, want)
		}
	})
}
