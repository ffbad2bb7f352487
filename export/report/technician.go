package report

import (
	"fmt"
	"math"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Technician builds the sheet for the technician: rates, totals, files, checks.
func Technician(r *suitability.Result, opt Options) *Document {
	b := newBook(r, opt, "Lime sheet: rates, totals, files, checks", "Sheet for the technician")
	if w := whose(r); w != "" {
		b.Title = w + ": lime sheet"
	}
	if !opt.Brief {
		b.rates()
	}
	b.totals()
	b.whichLime(words.Technician)
	b.files()
	b.checks()
	b.withoutAnswer()
	b.cautions()
	return &b.Document
}

// rates lists what is spread where. Zones without product are listed too: a gap in a list looks like a slip.
func (b *book) rates() {
	t := Table{Caption: "Rates by zone", Columns: []Column{{"Zone", 0.17, false}, {"Acres", 0.08, true}, {"Product, short tons/ac, all passes", 0.14, true}, {"Passes", 0.09, true},
		{"Product, short tons", 0.11, true}, {"Product, kg", 0.11, true}, {"What it means", 0.3, false}},
		Note: "A rate from the soil survey is a budget: do not spread without a soil test. The last column says which rates are by test. 0 is none needed, – is no figure."}
	for _, z := range export.Zones(b.r) {
		rate, tons, kg := "–", "–", "–"
		if x, ok := z.Lime.Product.Get(); ok {
			// Two digits: spreaders are set in steps of a quarter of a ton, and one digit would print 1.25 as 1.3.
			rate = words.Decimal(x.ShortTonsPerAcre(), 2)
		}
		if m, ok := z.Lime.ProductMass.Get(); ok {
			tons, kg = words.Tons(m.ShortTons()), words.Decimal(float64(m), 0)
		}
		t.Rows = append(t.Rows, []string{zoneName(z), words.Acres(z.Area), rate, passesText(z), tons, kg, words.Reason(z, words.Technician)})
	}
	b.add(Heading{Level: 2, Text: "Rates", ID: "rates"})
	if len(t.Rows) == 0 {
		b.add(Para{Text: "The run has no zones."})
		return
	}
	b.add(t)
	// Only a sheet of one field has room for a map.
	if len(b.sums) == 1 {
		s := &b.sums[0]
		b.add(Figure{ID: "map-lime", Caption: b.caption(fieldName(s.Field) + ": lime by zone, short tons an acre. The rates above are of product."),
			Draw: func(o mapdraw.Options) *mapdraw.Drawing {
				o.Kind = mapdraw.Lime
				return mapdraw.Field(b.r, s, b.shaded(o))
			}, Legend: func() []LegendRow { return legend(mapdraw.Rows(s, mapdraw.Lime)) }})
	}
}

// totals adds up by field.
func (b *book) totals() {
	t := Table{Caption: "Totals by field", Columns: []Column{{"Field", 0.34, false}, {"Acres", 0.12, true}, {"Acres to lime", 0.14, true}, {"Lime, short tons", 0.2, true}, {"Product, short tons", 0.2, true}}, Total: true}
	var area, limed unit.Area
	var lime, product unit.Mass
	hasLime, hasProduct := false, false
	for i := range b.sums {
		s := &b.sums[i]
		area, limed, lime, product = area+s.Field.Area, limed+s.Limed, lime+s.Likely, product+s.Product
		hasLime, hasProduct = hasLime || s.HasLime, hasProduct || s.HasProduct
		t.Rows = append(t.Rows, []string{fieldName(s.Field), areaOrDash(s.Field.Area), words.Acres(s.Limed), massOrDash(s.HasLime, s.Likely), massOrDash(s.HasProduct, s.Product)})
	}
	t.Rows = append(t.Rows, []string{"Total", words.Acres(area), words.Acres(limed), massOrDash(hasLime, lime), massOrDash(hasProduct, product)})
	t.Note = "Lime is at 100 % CCE" + soldNote(b.sums) + ". Rows are rounded, so they may not add up to the last digit."
	b.add(Heading{Level: 2, Text: "Totals", ID: "totals"}, t)
}

// soldNote says where a sum of lime is not of pure lime.
func soldNote(sums []export.Sum) string {
	for i := range sums {
		if sums[i].AsSold {
			return ", but as sold in zones whose method says so"
		}
	}
	return ""
}

// massOrDash prints tons, or a dash where no zone has a figure: a zero would be a need of none.
func massOrDash(has bool, m unit.Mass) string {
	if !has {
		return "–"
	}
	return words.Tons(m.ShortTons())
}

// files lists the files of the run and what it was made from.
func (b *book) files() {
	b.add(Heading{Level: 2, Text: "Files", ID: "files"})
	if len(b.opt.Files) > 0 {
		t := Table{Caption: "Files of the run", Columns: []Column{{"File", 0.2, false}, {"What it is", 0.3, false}, {"Bytes", 0.14, true}, {"SHA-256", 0.36, false}}}
		for _, f := range b.opt.Files {
			t.Rows = append(t.Rows, []string{f.Name, f.What, words.Decimal(float64(f.Size), 0), f.SHA256})
		}
		b.add(t)
	}
	t := Table{Caption: "What the run was made from", Columns: []Column{{"Role", 0.14, false}, {"Name", 0.36, false}, {"SHA-256", 0.5, false}}}
	for _, i := range b.r.Provenance.Inputs {
		t.Rows = append(t.Rows, []string{i.Role, clean(i.Name), i.SHA256})
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
	o := Table{Caption: "Options in force", Columns: []Column{{"Option", 0.3, false}, {"Value", 0.7, false}}}
	for _, x := range b.r.Provenance.Options {
		o.Rows = append(o.Rows, []string{x.Name, plainText(x.Value)})
	}
	if len(o.Rows) > 0 {
		b.add(o)
	}
}

// areaSlack is how far areas may differ before a check fails: they are sums of some thousand float64 terms.
// As a share of the field's area.
const areaSlack = 1e-6

// checks adds up what must agree, so that whoever holds the sheet need not.
func (b *book) checks() {
	var worst, worstMass float64
	var zones int
	for i := range b.sums {
		s := &b.sums[i]
		zones += len(s.Zones)
		if hasAnswer(s) {
			// Ground that two survey polygons cover at once stands in two zones.
			sum := float64(s.Field.Uncovered) - float64(s.Field.Doubled)
			for _, z := range s.Zones {
				sum += float64(z.Area)
			}
			// A share of the field, so that one limit suits an acre and a section; under a square metre it is the metre itself.
			worst = max(worst, math.Abs(sum-float64(s.Field.Area))/max(1, float64(s.Field.Area)))
		}
		for _, z := range s.Zones {
			rate, okRate := z.Lime.Product.Get()
			mass, okMass := z.Lime.ProductMass.Get()
			if okRate && okMass {
				worstMass = max(worstMass, math.Abs(float64(rate.Over(z.Area)-mass)))
			}
		}
	}
	say := func(good bool) string {
		if good {
			return "agrees"
		}
		// In capitals: a sheet in a cab is read at arm's length.
		return "DOES NOT AGREE: do not use this run"
	}
	const kilogram = 1.0 // masses are rounded to whole kilograms in the files
	t := Table{Caption: "Checks", Columns: []Column{{"What was checked", 0.5, false}, {"Found", 0.25, false}, {"Result", 0.25, false}}, Rows: [][]string{
		{"Zones and ground outside the survey, less ground covered twice, make up each field", "off by " + fmt.Sprintf("%.1e", worst) + " of the field at most", say(worst <= areaSlack)},
		{"Product rate times area is the product of each zone", "off by " + words.Decimal(worstMass, 2) + " kg at most", say(worstMass <= kilogram)},
		{"Every zone belongs to a field", words.Count(zones, "zone", "zones"), say(zones == len(export.Zones(b.r)))},
	}}
	b.add(Heading{Level: 2, Text: "Checks", ID: "checks"}, t)
}
