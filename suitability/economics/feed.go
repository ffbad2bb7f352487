package economics

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability/nutrientplan"
)

// feeds prices a nutrient plan by zone: every product and every nutrient without a product. A zone for which something has no price, or that the plan
// has no rates for, is not in the map: a part of its fertilizer would pass for the whole.
func feeds(p *Prices, plan *nutrientplan.Plan) map[string]Range[PerArea] {
	if plan == nil {
		return nil
	}
	out := map[string]Range[PerArea]{}
	for i := range plan.Zones {
		z := &plan.Zones[i]
		if z.Why != "" || !(z.Area > 0) || refused(z) {
			continue
		}
		sum, whole := Range[PerArea]{}, true
		add := func(name string, m unit.Mass) {
			x, ok := p.Product(name)
			whole = whole && ok
			r := x.Value.Times(float64(m) / float64(z.Area))
			sum = sum.Add(Range[PerArea]{PerArea(r.Low), PerArea(r.Likely), PerArea(r.High)})
		}
		for _, a := range z.Products {
			add(a.Product, a.Mass)
		}
		for _, n := range z.Unmet() {
			add(n.Nutrient.Sold(), n.Mass)
		}
		if whole {
			out[z.ID] = sum
		}
	}
	return out
}

// refused says whether the plan could not tell a rate of some nutrient.
func refused(z *nutrientplan.ZonePlan) bool {
	for _, r := range z.Rates {
		if r.Refusal != nil {
			return true
		}
	}
	return false
}
