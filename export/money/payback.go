package money

import (
	"fmt"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability/economics"
)

// payback says what pays the costs and no more.
func (p *paper) payback() {
	// Without a value there is nothing that could just pay.
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
		items = append(items, fmt.Sprintf("Life of the stand: %s. %s.", years(float64(n)), p.lifeTaken()))
	} else {
		items = append(items, "Life of the stand: at these prices no stand lives long enough to pay it back.")
	}
	p.head("What just pays it back", "payback")
	// After the heading and the bullets that are added below.
	defer p.paybackFields()
	p.add(report.Para{Text: "Each line moves one figure alone, on all ground to sow, with all others likely. Below it the stand earns less than the sod would have."}, report.Bullets{Items: items})
}

// paybackFields is the same for each field.
func (p *paper) paybackFields() {
	t := report.Table{Caption: "The same for each field", Columns: []report.Column{{Head: "Field", Share: 0.34}, {Head: "Hay, short tons an acre", Share: 0.22, Number: true},
		{Head: "Price of hay, " + p.b.currency() + " a short ton", Share: 0.24, Number: true}, {Head: "Life of the stand, years", Share: 0.2, Number: true}}}
	for i := range p.s.Fields {
		f := &p.s.Fields[i]
		if !(f.Area > 0) || len(t.Rows) == mostFields {
			continue
		}
		// A dash where no figure pays it back, or none can be worked out.
		row := []string{p.b.fieldName(i), dash, dash, dash}
		if y, ok := f.BreakEven.Yield.Get(); ok {
			row[1] = words.Fixed(y.ShortTonsPerAcre(), 1)
		}
		if h, ok := f.BreakEven.Hay.Get(); ok {
			row[2] = amount(h.PerShortTon())
		}
		if n, ok := f.BreakEven.Life.Get(); ok {
			row[3] = words.Fixed(float64(n), 1)
		}
		t.Rows = append(t.Rows, row)
	}
	// Of one field the table before says the same.
	if len(t.Rows) > 1 {
		p.add(t)
	}
}

// lifeTaken says the life of a stand that the sums take, and whose figure it is: the program has one of its own, which is nobody's but its.
func (p *paper) lifeTaken() string {
	whose := "Your file says"
	if x, ok := p.s.Prices.Of(economics.LifeSuited); ok && x.Own {
		whose = "These sums take"
	}
	return whose + " " + p.given(economics.LifeSuited) + " on suited ground"
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
	return givenSpan(x) + " " + x.Unit.Name
}
