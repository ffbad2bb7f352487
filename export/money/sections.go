package money

import (
	"fmt"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// dash stands where there is no figure.
const dash = "–"

// fields is the table of fields with ground worth sowing.
func (p *paper) fields() {
	cur := p.b.currency()
	t := report.Table{Caption: "Fields, " + cur + " an acre of the ground to sow", Columns: []report.Column{{Head: "Field", Share: 0.2}, {Head: "Acres to sow", Share: 0.1, Number: true},
		{Head: "Cost to lime and sow: likely (low to high)", Share: 0.2, Number: true}, {Head: "Worth over the sod: likely (low to high)", Share: 0.22, Number: true}, {Head: "8 of 10 draws", Share: 0.16, Number: true},
		{Head: "Years until sown", Share: 0.12, Number: true}}}
	for i := range p.s.Fields {
		f := &p.s.Fields[i]
		if !(f.Area > 0) {
			continue
		}
		t.Rows = append(t.Rows, append([]string{p.b.fieldName(i)}, figureCells(&f.Figures)...))
	}
	if len(t.Rows) == 0 {
		return
	}
	if len(t.Rows) > 1 {
		t.Rows, t.Total = append(t.Rows, append([]string{"All"}, figureCells(&p.s.Farm)...)), true
	}
	t.Note = fmt.Sprintf("Amounts are rounded to %d digits. A field is sown at once, when its slowest zone is ready. Worth is what the stand brings in its life over going on with the sod, less all costs, in today's money; below zero (−) it is a loss.", digits)
	p.head("Field by field", "fields")
	p.add(t)
}

// figureCells are the cells of some ground.
func figureCells(f *economics.Figures) []string {
	out := []string{acresText(f.Area), cell(f.OncePerArea()), cell(f.ValuePerArea()), dash, dash}
	if d, ok := f.Spread.Get(); ok && f.Area > 0 {
		out[3] = span(float64(d.P10)/f.Area.Acres(), float64(d.P90)/f.Area.Acres())
	}
	if l, ok := f.Lead.Get(); ok {
		out[4] = years(float64(l.Likely))
	}
	return out
}

// cell prints a range as "309 (237 to 452)".
func cell(r unit.Opt[economics.Range[economics.PerArea]]) string {
	x, ok := r.Get()
	if !ok {
		return dash
	}
	a := ofArea(x)
	if s := span(a.low, a.high); s != amount(a.likely) {
		return amount(a.likely) + " (" + s + ")"
	}
	return amount(a.likely)
}

// mostLeft is how many zones left out are shown; the tables have all.
const mostLeft = 60

// leftGround is the table of ground not worth sowing.
func (p *paper) leftGround() {
	t := report.Table{Caption: "Ground to leave in grass, or to test first", Columns: []report.Column{{Head: "Zone", Share: 0.16}, {Head: "Acres", Share: 0.1, Number: true}, {Head: "Class", Share: 0.14},
		{Head: "Worth of an acre alone: likely (low to high)", Share: 0.22, Number: true}, {Head: "Why", Share: 0.38}}}
	more := 0
	for i := range p.s.Zones {
		z := &p.s.Zones[i]
		if z.Sow {
			continue
		}
		if len(t.Rows) == mostLeft {
			more++
			continue
		}
		t.Rows = append(t.Rows, []string{shown(z.ID), acresText(p.b.Run.Zones[i].Area), z.Class.String(), cell(z.ValuePerArea()), words.Sentence(why(z.Why))})
	}
	if len(t.Rows) == 0 {
		return
	}
	if more > 0 {
		t.Note = words.Count(more, "more zone is", "more zones are") + " in the table of zones."
	}
	p.head("Ground not worth sowing", "left")
	p.add(t)
}

// items are the tables of what is paid and gained, over the ground worth sowing.
func (p *paper) items() {
	means := p.b.means()
	if len(means) == 0 {
		return
	}
	p.head("What an acre costs and brings", "items")
	p.itemTable("Paid once, to lime and sow", means, p.s.Farm.OncePerArea(), economics.Once)
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
				a = perAcre{-a.high, -a.likely, -a.low}
			}
			t.Rows = append(t.Rows, append([]string{ItemName(m.item)}, a.cells()...))
		}
	}
	if whole, ok := p.wholeField(); ok && parts[0] == economics.Once {
		t.Rows = append(t.Rows, append([]string{ItemName(economics.PerField)}, whole.cells()...))
	}
	last := "In all"
	if len(parts) > 1 {
		last = "Gain over the sod"
	}
	t.Rows = append(t.Rows, append([]string{last}, ofArea(total.Or(economics.Range[economics.PerArea]{})).cells()...))
	t.Note = "Means over the ground worth sowing. Rows are rounded, so their sum may differ from the last row in the last digit."
	p.add(t)
}

// wholeField is the cost per field, over an acre of all ground worth sowing.
func (p *paper) wholeField() (perAcre, bool) {
	x, ok := p.s.Prices.Of(economics.PerField)
	if !ok || !(p.s.Farm.Area > 0) {
		return perAcre{}, false
	}
	n := float64(p.b.sown()) / p.s.Farm.Area.Acres()
	return perAcre{x.Value.Low * n, x.Value.Likely * n, x.Value.High * n}, true
}

// payback says what pays the costs and no more.
func (p *paper) payback() {
	if !p.s.Farm.Value.Has() {
		return
	}
	be, cur := p.s.Farm.BreakEven, p.b.currency()
	var items []string
	if y, ok := be.Yield.Get(); ok {
		items = append(items, fmt.Sprintf("Hay: %s short tons an acre (%s t/ha) in each year. Your file says %s.", words.Decimal(y.ShortTonsPerAcre(), 1), words.Decimal(y.TonnesPerHectare(), 1), p.given(economics.Yield)))
	} else {
		items = append(items, "Hay: no yield pays it back at these prices, or it pays without hay.")
	}
	if h, ok := be.Hay.Get(); ok {
		items = append(items, fmt.Sprintf("Price of hay: %s %s a short ton. Your file says %s.", amount(h.PerShortTon()), cur, p.given(economics.Hay)))
	}
	if n, ok := be.Life.Get(); ok {
		items = append(items, fmt.Sprintf("Life of the stand: %s years. Your figure is %s on suited ground.", words.Decimal(float64(n), 1), p.given(economics.LifeSuited)))
	} else {
		items = append(items, "Life of the stand: at these prices no stand lives long enough to pay it back.")
	}
	p.head("What just pays it back", "payback")
	p.add(report.Para{Text: "Each line moves one figure alone, on all ground to sow, with all others likely. Below it the stand earns less than the sod would have."}, report.Bullets{Items: items})
}

// given says a figure of the prices as it was given.
func (p *paper) given(i economics.Item) string {
	x, ok := p.s.Prices.Of(i)
	if !ok {
		return "nothing"
	}
	return figureText(x)
}

// figureText prints a figure with its unit.
func figureText(x economics.Price) string {
	r := x.Shown()
	return span(r.Low, r.High) + " " + x.Unit.Name
}

// sensitivity is the picture and its table.
func (p *paper) sensitivity() {
	if len(p.s.Bars) == 0 {
		return
	}
	cur := p.b.currency()
	t := report.Table{Caption: "Worth of an acre over the sod, " + cur + ", when one input alone moves", Columns: []report.Column{{Head: "Input", Share: 0.4}, {Head: "From", Share: 0.12, Number: true}, {Head: "to", Share: 0.12, Number: true},
		{Head: "Worth at the first", Share: 0.18, Number: true}, {Head: "Worth at the second", Share: 0.18, Number: true}}}
	for _, bar := range p.s.Bars {
		from, to := dash, dash
		if x, ok := p.s.Prices.Of(bar.Input); ok {
			r := x.Shown()
			from, to = amount(r.Low), amount(r.High)
		}
		t.Rows = append(t.Rows, []string{ItemName(bar.Input) + unitOf(p.s.Prices, bar.Input), from, to, amount(bar.Low.PerAcre()), amount(bar.High.PerAcre())})
	}
	t.Note = "All other inputs stay at their likely figure and the zones to sow stay the same. The need for lime goes from the low to the high end of each zone's band; more passes then also mean a later start."
	p.head("What moves the result most", "moves")
	p.add(report.Figure{ID: "moves", Caption: fmt.Sprintf("What an acre is worth over the sod when one input alone goes from its low to its high. The %d widest; the table has all.", min(mostBars, len(p.s.Bars))), Draw: p.b.Picture}, t)
}

// unitOf names the unit of an input in brackets.
func unitOf(prices *economics.Prices, i economics.Item) string {
	if x, ok := prices.Of(i); ok {
		return " (" + x.Unit.Name + ")"
	}
	return ""
}

// prices is the table of all figures with their sources.
func (p *paper) prices() {
	t := report.Table{Caption: "Figures used", Columns: []report.Column{{Head: "Item", Share: 0.27}, {Head: "Figure", Share: 0.3}, {Head: "Year", Share: 0.09}, {Head: "Source", Share: 0.34}}}
	old := 0
	row := func(name string, x economics.Price) {
		year, source := "–", shownLong(x.Source)
		if x.Year > 0 {
			year = fmt.Sprint(x.Year)
			if p.s.Prices.Age(x) >= economics.OldAge {
				year += ", old"
				old++
			}
		}
		if x.Own {
			source += " (comes with the program)"
		}
		r := x.Shown()
		figure := span(r.Low, r.High) + " " + x.Unit.Name
		if r.Spread() {
			figure = fmt.Sprintf("%s, likely %s, %s", span(r.Low, r.High), amount(r.Likely), x.Unit.Name)
		}
		t.Rows = append(t.Rows, []string{name, figure, year, source})
	}
	for _, i := range economics.Items() {
		if x, ok := p.s.Prices.Of(i); ok {
			row(ItemName(i), x)
		}
	}
	for _, x := range p.s.Prices.Products {
		row("Fertilizer: "+shown(x.Name), x.Price)
	}
	t.Note = fmt.Sprintf("Money is in %s. Prices hold for %s.", p.b.currency(), shown(p.s.Prices.Place))
	if old > 0 {
		t.Note += fmt.Sprintf(" %s %d years old or more: ask again before you rely on it.", words.Count(old, "figure is", "figures are"), economics.OldAge)
	}
	p.head("Your prices", "prices")
	p.add(t)
}

// mostSource is how many letters of a source are shown.
const mostSource = 240

func shownLong(s string) string { return words.Shown(s, mostSource) }

// limits tell what is not in the sums and what they take for granted.
func (p *paper) limits() {
	items := economics.Judgements()
	if l := p.b.leftOut(); l != "" {
		items = append([]string{l}, items...)
	}
	var floor, unpriced unit.Area
	for i := range p.s.Zones {
		z := &p.s.Zones[i]
		if z.Floor && z.Sow {
			floor += z.Area
		}
		if z.Why == economics.WhyNoLime && z.Class != suitability.Unsuited {
			unpriced += p.b.Run.Zones[i].Area
		}
	}
	if floor > 0 {
		items = append(items, fmt.Sprintf("On %s acres the lime figure is the least that may be needed. They may cost more.", acresText(floor)))
	}
	if unpriced > 0 {
		items = append(items, fmt.Sprintf("%s acres may need lime, but nobody can say how much. They are in no sum: test the soil.", acresText(unpriced)))
	}
	if s := p.budget(); s != "" {
		items = append(items, s)
	}
	p.head("What these sums take for granted", "limits")
	p.add(report.Bullets{Items: items})
}

// budget warns where lime comes from the survey alone.
func (p *paper) budget() string {
	for i := range p.s.Zones {
		if z := &p.b.Run.Zones[i]; p.s.Zones[i].Sow && z.Lime.Likely.Or(0) > 0 && !words.ByTest(&z.Lime) {
			return "Lime from the soil survey is a budget, from half to twice the likely figure. A soil test sets the rate, and so the cost."
		}
	}
	return ""
}
