package economics

import (
	"slices"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability/nutrientplan"
)

// feed is what a nutrient plan makes of a zone.
type feed struct {
	money   Range[PerArea]
	unknown []nutrient.Nutrient // that the plan has no rate of
}

// feeds prices a nutrient plan by zone: every product, and every nutrient without a product. A zone without a rate of phosphate or potash, and
// one of which something has no price, is not in the map: a small part of its fertilizer would pass for the whole. Other nutrients without a rate
// are told.
func feeds(p *Prices, plan *nutrientplan.Plan) map[string]feed {
	if plan == nil {
		return nil
	}
	out := map[string]feed{}
	for i := range plan.Zones {
		// a zone that the plan leaves out has no rates to price
		z := &plan.Zones[i]
		if z.Why != "" || !(z.Area > 0) {
			continue
		}
		f, whole := feed{unknown: unknown(z)}, true
		add := func(name string, m unit.Mass) {
			x, ok := p.Product(name)
			// One product without a price leaves the zone to the flat price of the file: half a sum would look cheap.
			whole = whole && ok
			f.money = f.money.Add(perAreaOf(x.Value.Times(float64(m) / float64(z.Area))))
		}
		for _, a := range z.Products {
			add(a.Product, a.Mass)
		}
		for _, n := range z.Unmet() {
			// what no product of the plan brings is priced as the nutrient itself, where the file has a price of it
			add(n.Nutrient.Sold(), n.Mass)
		}
		if whole && !slices.Contains(f.unknown, nutrient.Phosphorus) && !slices.Contains(f.unknown, nutrient.Potassium) {
			out[z.ID] = f
		}
	}
	return out
}

// unknown lists the nutrients that the plan has no rate of though it was asked for one.
func unknown(z *nutrientplan.ZonePlan) []nutrient.Nutrient {
	var out []nutrient.Nutrient
	for _, r := range z.Rates {
		if r.Refusal != nil {
			out = append(out, r.Nutrient)
		}
	}
	return out
}
