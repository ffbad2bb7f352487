package words

import (
	"fmt"
	"io"
	"slices"

	"rootworthy/export"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// LimeChoice prints which lime to buy: what the magnesium of the samples asks for, where a region was named, and the
// offers by the price of what works as a ton of pure lime.
func LimeChoice(w io.Writer, rows []export.LimeSample, region *lime.MagnesiumRegion, offers []lime.Offer) error {
	l := &sampleList{page: page{w: w, width: defaultWidth}, rows: rows}
	// What counts as low depends on the region, so nothing is said without one.
	if region != nil {
		l.line("")
		l.text("", "  ", fmt.Sprintf("Magnesium, %s: low up to %s mg/kg (%s).", region.Name, plain(float64(region.LowMost), 0), region.Source))
		l.told("Which lime", func(s *export.LimeSample) []string { return []string{magnesiumText(s, region)} })
	}
	if len(offers) > 0 {
		l.offers(offers)
	}
	return l.err
}

// magnesiumText says what the magnesium of a sample means for the choice of lime.
func magnesiumText(s *export.LimeSample, region *lime.MagnesiumRegion) string {
	n, ok := s.Sample.Nutrient(lab.Magnesium, lab.Mehlich1)
	mg, has := n.ByMass.Value.Get()
	switch {
	// Ratings hold for one extractant; figures by another cannot be turned into it.
	case !ok || !has || n.ByMass.Bound == lab.Above:
		return "magnesium by Mehlich-1 not measured: no advice"
	case n.ByMass.Bound == lab.Below && mg > region.LowMost:
		return "magnesium under the laboratory's limit, which is no answer here: no advice"
	// Which lime to buy is a question only where there is lime to spread.
	case s.Answer.Refusal != nil:
		return "no lime figure, so no advice"
	}
	switch region.Advise(mg, s.Answer.Need.Rate.Amount() > 0) {
	case lime.Dolomitic:
		return "magnesium is low and lime is needed: dolomitic lime"
	case lime.ByPrice:
		return "magnesium is not low: the cheapest effective ton"
	case lime.MagnesiumOnly:
		return fmt.Sprintf("magnesium is low and no lime is needed: %s lb/ac of magnesium", plain(lime.MagnesiumWithoutLime.PoundsPerAcre(), 0))
	}
	return "neither lime nor magnesium is needed"
}

// offers prints limes by the price of an effective ton.
func (l *sampleList) offers(offers []lime.Offer) {
	l.line("")
	l.line("Limes by what a ton of effective material costs, delivered and spread")
	l.line(left("Lime", 26) + right("Price", 9) + right("ECCE %", 9) + right("Water %", 9) + right("Effective", 12) + "  Kind")
	for _, o := range lime.Cheapest(offers) {
		kind := "calcitic"
		if o.Dolomite {
			kind = "dolomitic"
		}
		l.line(left(printable(o.Name), 26) + right(fixed(o.Price, 2), 9) + right(plain(float64(o.Product.ECCE), 1), 9) + right(plain(float64(o.Product.Moisture), 1), 9) +
			right(fixed(o.PerEffectiveTon(), 2), 12) + "  " + kind)
	}
	l.text("", "  ", "Effective: price / (ECCE x (1 - water)). Where magnesium is low, the first dolomitic one.")
}

// GypsumLines puts the question of gypsum for an acid subsoil, findings for and against; none where there is no question.
func GypsumLines(subsoil unit.Opt[unit.PH]) []string {
	findings, ok := lime.GypsumQuestion(subsoil)
	if !ok {
		return nil
	}
	out := []string{fmt.Sprintf("Surface lime does not repair the subsoil (pH %s). Gypsum? A question for your local adviser, not a rate: research does not agree.", plain(float64(subsoil.Or(0)), 2))}
	slices.SortStableFunc(findings, func(a, b lime.Finding) int { // for before against
		switch {
		case a.Favour == b.Favour:
			return 0
		case a.Favour:
			return -1
		}
		return 1
	})
	for _, f := range findings {
		side := "Against"
		if f.Favour {
			side = "For"
		}
		out = append(out, fmt.Sprintf("%s: %s (%s).", side, f.Text, f.Source))
	}
	return out
}
