package lime

import (
	"cmp"
	"slices"
)

// Offer is a product at a price, delivered and spread. The currency is the user's; it is only compared.
type Offer struct {
	Name     string
	Product  Product
	Price    float64 // of a ton as delivered; short or metric, but the same for all that are compared
	Dolomite bool    // carries magnesium
}

// PerEffectiveTon returns the price of what neutralises as much as a ton of pure calcium carbonate: the one figure by which
// limes can be compared.
//
//	price / (ECCE/100 × (1 - moisture/100))
//
// Source: definition of ECCE.
func (o Offer) PerEffectiveTon() float64 { return o.Price / float64(o.Product.Effective()) }

// Cheapest returns the offers, the cheapest effective ton first; equals stay in their order.
func Cheapest(offers []Offer) []Offer {
	out := slices.Clone(offers)
	slices.SortStableFunc(out, func(a, b Offer) int { return cmp.Compare(a.PerEffectiveTon(), b.PerEffectiveTon()) })
	return out
}

// Fitting returns the offers that follow the magnesium advice, the cheapest effective ton first: only dolomitic ones where
// magnesium is low, all where it is not; none where no lime is needed.
func Fitting(offers []Offer, advice MagnesiumAdvice) []Offer {
	switch advice {
	case Dolomitic:
		// Cheapest returns a list of its own, which may be cut down in place
		return slices.DeleteFunc(Cheapest(offers), func(o Offer) bool { return !o.Dolomite })
	case ByPrice:
		return Cheapest(offers)
	}
	return nil
}
