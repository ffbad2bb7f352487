package money

import (
	"fmt"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability/economics"
)

// dash stands where there is no figure.
const dash = "–"

// fields is the table of fields with ground worth sowing, and that of its zones.
func (p *paper) fields() {
	cur := p.b.currency()
	t := report.Table{Caption: "Fields, " + cur, Columns: []report.Column{{Head: "Field", Share: 0.17}, {Head: "Acres to sow", Share: 0.08, Number: true}, {Head: "Cost to lime and sow, in all", Share: 0.12, Number: true},
		{Head: "Cost of an acre: likely (low to high)", Share: 0.18, Number: true}, {Head: "Worth of an acre over the sod: likely (low to high)", Share: 0.2, Number: true}, {Head: "The same in 8 of 10 draws", Share: 0.13, Number: true},
		{Head: "Sown from", Share: 0.12}}}
	more := 0
	for i := range p.s.Fields {
		f := &p.s.Fields[i]
		switch {
		case !(f.Area > 0):
		case len(t.Rows) == mostFields:
			more++
		default:
			t.Rows = append(t.Rows, append([]string{p.b.fieldName(i)}, p.b.figureCells(&f.Figures)...))
		}
	}
	if len(t.Rows) == 0 {
		return
	}
	if len(t.Rows) > 1 {
		all := append([]string{"All"}, p.b.figureCells(&p.s.Farm)...)
		// The farm is not sown on one day.
		all[len(all)-1] = ""
		t.Rows, t.Total = append(t.Rows, all), true
	}
	t.Note = fmt.Sprintf("Amounts are rounded to %d digits, so rows may not add up to the last. A field is sown at once, when its slowest zone is ready. Worth is what the stand brings in its life over going on with the sod, less all costs, in today's money; below zero (−) it is a loss.", digits)
	if more > 0 {
		t.Note += " " + words.Count(more, "more field is", "more fields are") + " in the table of fields, " + FieldsFile + "."
	}
	p.head("Field by field", "fields")
	p.add(t)
	p.zones()
}

// mostFields is how many fields a table shows; the files have all.
const mostFields = 200

// mostZones is how many zones a table shows; the files have all.
const mostZones = 60

// zones is the table of zones worth sowing.
func (p *paper) zones() {
	t := report.Table{Caption: "Zones to sow, " + p.b.currency() + " an acre", Columns: []report.Column{{Head: "Zone", Share: 0.14}, {Head: "Acres", Share: 0.08, Number: true}, {Head: "Class", Share: 0.11}, {Head: "Lime and its spreading", Share: 0.16, Number: true},
		{Head: "All that it costs once", Share: 0.17, Number: true}, {Head: "The same by the year of its stand", Share: 0.15, Number: true}, {Head: "Gain in a year over the sod", Share: 0.19, Number: true}}}
	more := 0
	for i := range p.s.Zones {
		z := &p.s.Zones[i]
		switch {
		case !z.Sow:
			continue
		case len(t.Rows) == mostZones:
			more++
			continue
		}
		var lime economics.Range[economics.PerArea]
		priced := false
		for _, l := range z.Lines {
			if l.Item == economics.Lime || l.Item == economics.LimeSpreading || l.Item == economics.LimePass {
				lime, priced = lime.Add(l.Money), true
			}
		}
		limed := dash
		// Only items that the file prices; a dash is not a cost of nothing.
		if priced {
			limed = cell(unit.Some(lime))
		}
		t.Rows = append(t.Rows, []string{shown(z.ID), acresText(z.Area), z.Class.String(), limed, cell(z.OncePerArea()), cell(z.ByYear), cell(z.GainPerArea())})
	}
	t.Note = "Likely, with low to high in brackets. By the year: what would pay the cost back with interest over the life of the stand. The cost of a field as a whole is not in these."
	if more > 0 {
		t.Note += " " + words.Count(more, "more zone is", "more zones are") + " in the table of zones, money-zones.csv."
	}
	p.add(t)
}

// figureCells are the cells of some ground.
func (b *Book) figureCells(f *economics.Figures) []string {
	out := []string{acresText(f.Area), dash, cell(f.OncePerArea()), cell(f.ValuePerArea()), dash, dash}
	if m, ok := f.Once.Get(); ok {
		out[1] = amount(float64(m.Likely))
	}
	if d, ok := f.Spread.Get(); ok && f.Area > 0 {
		out[4] = span(float64(d.P10)/f.Area.Acres(), float64(d.P90)/f.Area.Acres())
	}
	// The likely wait, since a date with a range cannot be put into a calendar.
	if l, ok := f.Lead.Get(); ok {
		out[5] = b.sownFrom(float64(l.Likely))
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
