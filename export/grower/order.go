package grower

import (
	"io"
	"strconv"

	"rootworthy/export"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
)

// orderLine is something to buy for the farm: what its zones add up to, with a reserve where the plan has one.
type orderLine struct {
	what, unit string
	sum        float64 // of the zones
	amount     float64 // to order; sum and reserve
	packages   int     // 0 for what is sold loose
	note       string
}

// orders lists all there is to buy: lime by test and lime that is still a budget, fertilizer, seed and inoculant.
func (f *Farm) orders() []orderLine {
	var out []orderLine
	// Lime by test can be ordered today; lime that is a budget must not be, so they are never one sum.
	for _, l := range []orderLine{f.limeOrder("Lime as spread, by soil test", true, ""), f.limeOrder("Lime as spread, a budget", false, "test the soil before you order it")} {
		if l.sum > 0 {
			out = append(out, l)
		}
	}
	if f.Nutrients == nil {
		return append(out, f.seedOrder()...)
	}
	for _, o := range f.Nutrients.Order {
		l := orderLine{what: o.Name, unit: "lb", sum: o.Mass.Pounds(), amount: o.Mass.Pounds(), packages: o.Packages, note: "for one year"}
		if !o.Product {
			l.what, l.note = nutrientOf(o.Name), l.note+"; the nutrient itself: name a product with --fertilizer"
		}
		out = append(out, l)
	}
	return append(out, f.seedOrder()...)
}

// limeOrder adds up the lime that is still to be spread, of zones with a test or of those without.
// The unit is that of limeOf, short tons of product.
func (f *Farm) limeOrder(what string, tested bool, note string) orderLine {
	l := orderLine{what: what, unit: "short ton", note: note}
	passes := 0
	for i := range f.Zones {
		z := &f.Zones[i]
		if z.Why != "" || words.ByTest(&z.Lime) != tested {
			continue
		}
		if m, ok := limeOf(z); ok {
			l.sum += m.mass.Or(0)
			// Zones differ; the note says the most.
			_, open := z.limeLeft()
			passes = max(passes, open)
		}
	}
	l.amount = l.sum
	if passes > 1 {
		l.note = sentences("in as many as "+words.Count(passes, "yearly pass", "yearly passes"), l.note)
	}
	return l
}

// nutrientOf names a nutrient that no product was named for, by what it is sold as.
func nutrientOf(name string) string {
	for _, n := range nutrient.Nutrients() {
		if n.Sold() == name {
			return sold(n)
		}
	}
	return name
}

// seedOrder is the seed and the inoculant; without a tag pure live seed, which nobody sells.
func (f *Farm) seedOrder() (out []orderLine) {
	p := f.Seed
	if p == nil || len(p.Zones) == 0 {
		return nil
	}
	l := orderLine{what: "Pure live seed", unit: "lb", sum: p.Farm.Pounds(), amount: p.Farm.Pounds(), note: "how much to buy follows from the tag: --seed-tag"}
	// With a tag the order is what stands in the bag, with the reserve; the sum stays that of the zones, so that both can be compared.
	if f.Tag != nil {
		l.what, l.amount, l.packages, l.note = "Seed as bought", p.Order.Pounds(), p.Bags, "with reserve"
	}
	out = append(out, l)
	if p.Inoculants > 0 {
		out = append(out, orderLine{what: "Inoculant", unit: "package", sum: float64(p.Inoculants), amount: float64(p.Inoculants), packages: p.Inoculants})
	}
	return out
}

// sentences joins two notes, either of which may be empty.
func sentences(a, b string) string {
	if a != "" && b != "" {
		return a + "; " + b
	}
	return a + b
}

// orderList is the list of what to buy.
func (b *book) orderList() {
	caption, of := "What to buy, for the farm", "all planned zones"
	if b.f.Whole != nil {
		caption, of = "What to buy, for "+these(b.f.Run), "the planned zones of "+these(b.f.Run)
	}
	t := report.Table{Caption: caption, Columns: []report.Column{{Head: "What", Share: 0.32}, {Head: "How much", Share: 0.2, Number: true}, {Head: "Packages", Share: 0.13, Number: true}, {Head: "Note", Share: 0.35}},
		Note: "The sum of " + of + ". The file order.csv holds the same. Prices and products are yours to choose."}
	for _, l := range b.f.orders() {
		packages := "–"
		if l.packages > 0 {
			packages = words.Decimal(float64(l.packages), 0)
		}
		t.Rows = append(t.Rows, []string{shown(l.what), withUnit(l.amount, 1, l.unit), packages, dash(l.note)})
	}
	if len(t.Rows) > 0 {
		b.add(report.Heading{Level: 2, Text: "What to buy", ID: "buy", Open: true}, t)
	}
}

// WriteOrder writes order.csv: a row for each thing to buy, what the zones add up to, and what to order with its reserve. The note says for
// which fields it is when it is not for all: the other tables name the field in each row, this one has only sums.
func WriteOrder(w io.Writer, f *Farm) error {
	t := export.NewTable(w, "item", "unit", "sum_of_zones", "to_order", "packages", "note")
	for _, l := range f.orders() {
		packages := ""
		if l.packages > 0 {
			packages = strconv.Itoa(l.packages)
		}
		t.Row(shown(l.what), l.unit, figure(l.sum), figure(l.amount), packages, f.noteChosen(l.note))
	}
	return t.Close()
}
