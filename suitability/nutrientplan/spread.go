package nutrientplan

import (
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// bearable is the most of a nutrient that products together may bring: beyond it boron injures the crop and molybdenum what eats it. Of the
// others too much is money.
var bearable = [...]struct {
	nutrient nutrient.Nutrient
	most     unit.AreaRate
}{{nutrient.Boron, nutrient.MostBoron}, {nutrient.Molybdenum, nutrient.MostMolybdenum}}

// harmful says whether so much of a product would bring more than is borne, beside what the products before it bring.
func harmful(p Product, rate unit.AreaRate, brought map[nutrient.Nutrient]unit.AreaRate) bool {
	for _, b := range bearable {
		if brings := rate * unit.AreaRate(p.Share(b.nutrient)/100); brings > 0 && brought[b.nutrient]+brings > b.most {
			return true
		}
	}
	return false
}

// products works out the product of every need, in the order of the options: what a product brings of another nutrient is taken off
// the need of that one. A product that would do harm is left out; the need then stands without one.
func products(z *ZonePlan, o Options) []Amount {
	left := map[nutrient.Nutrient]unit.AreaRate{}
	for _, r := range z.Rates {
		left[r.Nutrient] = r.Rate.Or(0)
	}
	var out []Amount
	brought := map[nutrient.Nutrient]unit.AreaRate{}
	// one pass in the order of the options: the user decides which product is reckoned first by where he writes it
	for _, p := range o.Products {
		rate := Needed(p, p.For, left[p.For])
		if !(rate > 0) {
			continue
		}
		if harmful(p, rate, brought) {
			z.harm = true
			continue
		}
		// nitrogen is not among them: the crop makes its own, so it meets no need
		for _, h := range p.Holds {
			brings := rate * unit.AreaRate(h.Share/100)
			// A millionth of a pound more is rounding, not a product too many.
			z.excess = z.excess || h.Nutrient != p.For && brings > left[h.Nutrient]+1e-6*unit.PoundPerAcre
			left[h.Nutrient] = max(0, left[h.Nutrient]-brings)
			brought[h.Nutrient] += brings
		}
		// Exactly zero: what is left of a division would ask for a pound of the next product.
		left[p.For] = 0
		a := Amount{Product: p.Name, For: p.For, Rate: rate, Mass: rate.Over(z.Area)}
		a.Nitrogen = a.Mass * unit.Mass(p.Nitrogen/100)
		a.When = alike(z.Rates, p.For, rate)
		out = append(out, a)
	}
	for _, n := range nutrient.Nutrients() {
		if left[n] > 0 {
			z.unmet = append(z.unmet, Nutrition{n, left[n].Over(z.Area)})
		}
	}
	return out
}

// alike parts a product's rate as its nutrient is parted. An application keeps its share of the rate.
func alike(rates []Rate, n nutrient.Nutrient, rate unit.AreaRate) []Application {
	for _, r := range rates {
		if r.Nutrient != n || !(r.Rate.Or(0) > 0) {
			continue
		}
		var out []Application
		for _, a := range r.When {
			// the product goes on when its nutrient does, in the same proportions
			out = append(out, Application{a.When, rate * (a.Rate / r.Rate.Or(1))})
		}
		return out
	}
	return nil
}
