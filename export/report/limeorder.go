package report

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// limeOrder lists the lime of every zone that needs some, with totals.
func (b *book) limeOrder() {
	b.add(Heading{Level: 2, Text: "Lime to order", ID: "lime", Running: b.Title})
	t := Table{Caption: "Lime by zone", Columns: []Column{{"Zone", 0.14, false}, {"Acres", 0.09, true}, {"Lime, short tons an acre", 0.17, true}, {"The same, t/ha", 0.1, true},
		{"In all, short tons", 0.12, true}, {"Product to order, short tons", 0.14, true}, {"Yearly passes", 0.1, true}, {"Rests on", 0.14, false}}}
	var area unit.Area
	var lime, product unit.Mass
	has, tested, budget := false, false, false
	for _, z := range export.Zones(b.r) {
		// A list to order from holds what is ordered; the technician's list has every zone.
		likely := z.Lime.Likely.Or(0)
		if likely <= 0 {
			continue
		}
		// Lime may be known where the product is not: the total of product is a dash only when no zone has one.
		mass, ok := z.Lime.ProductMass.Get()
		has = has || ok
		area, lime, product = area+z.Area, lime+likely.Over(z.Area), product+mass
		t.Rows = append(t.Rows, []string{zoneName(z), words.Acres(z.Area), band(&z.Lime), words.Fixed(likely.TonnesPerHectare(), 1),
			words.Tons(likely.Over(z.Area).ShortTons()), orderText(z), passesText(z), restsOn(&z.Lime)})
		tested, budget = tested || words.ByTest(&z.Lime), budget || !words.ByTest(&z.Lime)
	}
	if len(export.Zones(b.r)) == 0 {
		b.add(Para{Text: "There is no lime figure, because no field has an answer."})
		return
	}
	// No need by the survey is not no need: it knows nothing of the nitrogen that the grass got.
	if len(t.Rows) == 0 {
		b.add(Para{Text: "No zone has a lime figure above zero. That is what the soil survey says; sod that got nitrogen may be more acid, so test the soil."})
		return
	}
	total := "–"
	if has {
		total = words.Tons(product.ShortTons())
	}
	t.Rows = append(t.Rows, []string{"Total", words.Acres(area), "", "", words.Tons(lime.ShortTons()), total, "", ""})
	t.Total = true
	t.Note = "Zone F1/2 is zone 2 of field F1. In brackets stand the low and the high end. Lime is pure lime, of 100 % calcium carbonate equivalent (CCE), unless the last column says as sold. " +
		"The product is as spread, all passes together, rounded to what a spreader can be set to. Rows are rounded, so they may not add up to the last digit."
	if budget {
		b.add(Para{Text: "Figures from the soil survey are a budget, not a rate: order nothing before a soil test. Your soil laboratory's advice comes first."})
	}
	if tested {
		b.add(Para{Text: "Figures by soil test follow from the samples of this run. Your soil laboratory's advice comes first."})
	}
	b.add(t)
}

// restsOn says what a figure rests on and, where it is not pure lime, what it is.
func restsOn(l *suitability.Lime) string {
	s := "survey: a budget"
	if words.ByTest(l) {
		s = "soil test"
	}
	if l.AsSold {
		s += ", lime as sold"
	}
	return s
}

// band prints "1.4 (0.7 to 2.7)", with which way it errs.
func band(l *suitability.Lime) string {
	likely := l.Likely.Or(0)
	s := words.Tons(likely.ShortTonsPerAcre())
	if low, high := l.Low.Or(likely), l.High.Or(likely); low != high {
		s += fmt.Sprintf(" (%s to %s)", words.Tons(low.ShortTonsPerAcre()), words.Tons(high.ShortTonsPerAcre()))
	}
	if w := words.Bound(l.Bound, words.Landowner); w != "" {
		s += " " + w
	}
	return s
}

// orderText is what to order for a zone; a missing figure is not zero.
func orderText(z *suitability.Zone) string {
	if m, ok := z.Lime.ProductMass.Get(); ok {
		return words.Tons(m.ShortTons())
	}
	return "–"
}

// passesText counts yearly passes; a dash where no lime goes.
func passesText(z *suitability.Zone) string {
	if z.Lime.Passes == 0 {
		return "–"
	}
	return words.Decimal(float64(z.Lime.Passes), 0)
}

// sowing is ground that comes ready together.
// Window and ready are dates of the run, "" for none; it is the key by which areas are added up.
type sowing struct {
	window, ready string
	passes        int
}

// calendar says when the lime has worked and when which ground can be sown first.
func (b *book) calendar() {
	b.add(Heading{Level: 2, Text: "Calendar", ID: "calendar"})
	areas := map[sowing]unit.Area{}
	for _, z := range export.Zones(b.r) {
		if z.Lime.Window != "" || z.Lime.Ready != "" {
			areas[sowing{z.Lime.Window, z.Lime.Ready, z.Lime.Passes}] += z.Area
		}
	}
	if len(areas) == 0 {
		text := "There is no calendar: this run was made without a day to count from. With --date and --region the program counts the days."
		if !b.sowable() {
			text = "There is no calendar: no ground here is known to be fit for sowing."
		}
		b.add(Para{Text: text})
		return
	}
	list := make([]sowing, 0, len(areas))
	for s := range areas {
		list = append(list, s)
	}
	// Windows and days are ISO dates, so that their text sorts as they do; ground without a window comes first.
	slices.SortFunc(list, func(a, b sowing) int {
		return cmp.Or(cmp.Compare(a.window, b.window), cmp.Compare(a.ready, b.ready), cmp.Compare(a.passes, b.passes))
	})
	t := Table{Caption: "Earliest dates, counted from " + words.Date(b.r.Provenance.Date), Columns: []Column{{"Ground", 0.2, false}, {"Lime passes", 0.15, false},
		{"Lime has had time to work by", 0.3, false}, {"Earliest time to sow", 0.35, false}}}
	for _, s := range list {
		// The words of the columns where the run has no figure for them.
		passes, ready, window := "none", "no lime", "not known: no region was named"
		if s.passes > 0 {
			passes, ready = words.Decimal(float64(s.passes), 0), words.Date(s.ready)
		}
		if s.window != "" {
			window = words.Window(s.window)
		}
		t.Rows = append(t.Rows, []string{words.AcresAndHectares(areas[s]), passes, ready, window})
	}
	t.Note = "Test the soil again before you sow limed ground. Sow only if the pH reads " + words.SowFrom(b.r.Profile) + " or more. A dry or wet season moves these dates."
	b.add(t)
}
