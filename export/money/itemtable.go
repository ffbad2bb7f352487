package money

import (
	"rootworthy/export/report"
	"rootworthy/soils/unit"
	"rootworthy/suitability/economics"
)

// items are the tables of what is paid and gained, over the ground worth sowing.
func (p *paper) items() {
	means := p.b.means()
	if len(means) == 0 {
		return
	}
	if !p.s.Farm.Once.Has() {
		return
	}
	p.head("What an acre costs and brings", "items")
	p.itemTable("Paid once, to lime and sow", means, p.s.Farm.OncePerArea(), economics.Once)
	// Costs can be known where gains are not: the first table then stands alone.
	if !p.s.Farm.Gain.Has() {
		return
	}
	p.itemTable("In each year of the stand", means, p.s.Farm.GainPerArea(), economics.Gain, economics.Yearly, economics.Sod)
}

// itemTable is the table of some parts; costs stand with a minus where gains stand beside them.
func (p *paper) itemTable(caption string, means []mean, total unit.Opt[economics.Range[economics.PerArea]], parts ...economics.Part) {
	cur := p.b.currency()
	t := report.Table{Caption: caption + ", " + cur + " an acre", Total: true, Columns: []report.Column{{Head: "Item", Share: 0.46}, {Head: "Low", Share: 0.18, Number: true}, {Head: "Likely", Share: 0.18, Number: true}, {Head: "High", Share: 0.18, Number: true}}}
	for _, part := range parts {
		for _, m := range means {
			if m.item.Part() != part {
				continue
			}
			a := ofArea(m.money)
			if len(parts) > 1 && part != economics.Gain {
				// Turned round with its sign: the low end of a result has the highest cost.
				a = perAcre{-a.high, -a.likely, -a.low}
			}
			t.Rows = append(t.Rows, append([]string{ItemName(m.item)}, a.cells()...))
		}
	}
	// It stands in no zone's lines, since it depends on which fields are sown at all.
	if whole, ok := p.wholeField(); ok && parts[0] == economics.Once {
		t.Rows = append(t.Rows, append([]string{ItemName(economics.PerField)}, whole.cells()...))
	}
	last := "In all"
	t.Note = "Means over the ground worth sowing. Rows are rounded, so their sum may differ from the last row in the last digit."
	if len(parts) > 1 {
		last = "Gain over the sod"
		t.Note = "Means over the ground worth sowing. The likely column adds up, but for rounding. Low and high do not: the hay that is sold and the hay that is harvested are the same hay, so a row may be at its end where another is not."
	}
	t.Rows = append(t.Rows, append([]string{last}, ofArea(total.Or(economics.Range[economics.PerArea]{})).cells()...))
	p.add(t)
}

// wholeField is the cost per field, over an acre of all ground worth sowing.
// It is money for each field, so fields counted times price over the acres.
func (p *paper) wholeField() (perAcre, bool) {
	x, ok := p.s.Prices.Of(economics.PerField)
	if !ok || !(p.s.Farm.Area > 0) {
		return perAcre{}, false
	}
	n := float64(p.b.sown()) / p.s.Farm.Area.Acres()
	return perAcre{x.Value.Low * n, x.Value.Likely * n, x.Value.High * n}, true
}
