package main

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/export/money"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/season"
)

// priced opens --prices, where they were given: costs then count in money.
func (w *rankWork) priced(path string) (err error) {
	if path == "" {
		return nil
	}
	if w.prices, err = openPrices(path); err != nil {
		return err
	}
	w.options.Basis, w.choice.Basis = ranking.ByMoney, ranking.ByMoney
	w.choice.Currency = w.prices.Currency
	// Name and place come from the user's file and stand in a sentence, so they are cut and made fit to print.
	w.choice.Prices = fmt.Sprintf("%s, %s, %s", words.Shown(w.prices.Name, 60), words.Shown(w.prices.Place, 60), words.Date(season.Day(w.prices.Date)))
	return nil
}

// money is what the prices make of the fields of a run; nil without prices.
func (w *rankWork) money(r *suitability.Result) []ranking.Money {
	if w.prices == nil {
		return nil
	}
	// No draws: the ranking draws from low, likely and high by itself.
	s := economics.Of(r, w.prices, economics.Options{})
	out := make([]ranking.Money, len(r.Fields))
	for i := range r.Fields {
		// The cost of an acre is known for the ground that the prices cover. Where that is less than half of what is suited, it speaks for too
		// little of the field, and the cost counts as not known.
		if cost, ok := s.Fields[i].PerSuited.Get(); ok && 2*s.Fields[i].Suited >= suitedOf(r, &r.Fields[i]) {
			out[i].Cost = ranking.Between(float64(cost.Low), float64(cost.Likely), float64(cost.High))
		}
		out[i].Value = valueOf(&s.Fields[i])
	}
	// What the prices lack may show in one run and not in another: all of it is told.
	w.left, w.wants = eitherOf(w.left, s.Left), eitherOf(w.wants, s.Wants)
	w.choice.Unpriced = costNames(w.left)
	return out
}

// costNames lists those items that are a cost of sowing as a sentence names them.
func costNames(items []economics.Item) (names []string) {
	for _, x := range items {
		if x.Part() == economics.Once {
			n := money.ItemName(x)
			names = append(names, strings.ToLower(n[:1])+n[1:])
		}
	}
	return names
}

// eitherOf is what stands in either list, in the order of the items and each once.
func eitherOf(a, b []economics.Item) []economics.Item {
	out := slices.Concat(a, b)
	slices.Sort(out)
	return slices.Compact(out)
}

// suitedOf is the ground of a field that is suited once limed.
func suitedOf(r *suitability.Result, f *suitability.Field) (a unit.Area) {
	for _, k := range f.Zones {
		if r.Zones[k].Rating.Class == suitability.Suited {
			a += r.Zones[k].Area
		}
	}
	return a
}

// valueOf is what the ground worth sowing may bring; where none is, what all suited ground would, which then is a loss with the cost of the
// field. Missing where some of it has no value.
func valueOf(f *economics.Field) ranking.Measure {
	v, ok := f.Value.Get()
	if !ok {
		// A sum with a hole in it would make a field look poor for want of a price; there is none of such ground.
		if v, ok = f.ValueSuited.Get(); !ok {
			return ranking.Measure{}
		}
	}
	return ranking.Between(float64(v.Low), float64(v.Likely), float64(v.High))
}

// itemNames lists items by their names in the file.
func itemNames(items []economics.Item) string {
	out := make([]string, len(items))
	for i, x := range items {
		out[i] = x.String()
	}
	return words.Listed(out)
}
