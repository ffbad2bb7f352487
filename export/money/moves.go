package money

import (
	"fmt"

	"rootworthy/export/report"
	"rootworthy/suitability/economics"
)

// givenSpan prints the range of a figure as it was given.
func givenSpan(x economics.Price) string {
	r := x.Shown()
	if given(r.Low) == given(r.High) {
		return given(r.Low)
	}
	return given(r.Low) + " to " + given(r.High)
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
		// The need for lime moves too, and is no price: its ends stand with the zones.
		if x, ok := p.s.Prices.Of(bar.Input); ok {
			r := x.Shown()
			from, to = given(r.Low), given(r.High)
		}
		t.Rows = append(t.Rows, []string{ItemName(bar.Input) + unitOf(p.s.Prices, bar.Input), from, to, amount(bar.Low.PerAcre()), amount(bar.High.PerAcre())})
	}
	t.Note = "All other inputs stay at their likely figure and the zones to sow stay the same. The need for lime goes from the low to the high end of each zone's band; more passes then also mean a later start."
	p.add(report.PageBreak{}) // the picture wants a page of its own, and its heading with it
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
