package report

import (
	"fmt"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Landowner builds the report for the landowner.
func Landowner(r *suitability.Result, opt Options) *Document {
	title := "Which fields can hold alfalfa?"
	if len(r.Fields) == 1 {
		title = "Can " + fieldName(&r.Fields[0]) + " hold alfalfa?"
	}
	if w := whose(r); w != "" && len(r.Fields) != 1 {
		title = w + ": which fields can hold alfalfa?"
	}
	b := newBook(r, opt, title, "Report for the landowner")
	// One field needs no front page of all fields: its own answer is the answer.
	if len(b.sums) == 1 {
		b.fieldPages(0, true)
	} else {
		b.frontPage()
		for i := range b.sums {
			if !opt.Brief {
				b.fieldPages(i, false)
			}
		}
	}
	// The order goes to the dealer by itself, so it begins a page.
	if !opt.Brief {
		b.add(PageBreak{})
		b.limeOrder()
	}
	b.whichLime(words.Landowner)
	b.calendar()
	b.subsoil(words.Landowner)
	b.testNext()
	b.withoutAnswer()
	b.cautions()
	b.sources()
	return &b.Document
}

// frontPage answers for all fields together.
func (b *book) frontPage() {
	for _, l := range words.Answer(b.r) {
		b.add(Para{l, Answer})
	}
	b.add(b.overview(mapdraw.Class, "All fields. Each is drawn by what most of it can carry once limed."))
	t := Table{Caption: "Your fields, in acres", Total: true, Columns: []Column{{"Field", 0.3, false}, {"Area", 0.1, true}, {"Suited", 0.1, true}, {"Marginal", 0.12, true},
		{"Unsuited", 0.12, true}, {"Not known", 0.12, true}, {"Lime, short tons", 0.14, true}},
		Note: "Suited, marginal and unsuited are meant once the ground is limed. " + limeNote(b.sums) + " Rows are rounded, so they may not add up to the last digit."}
	for i := range b.sums {
		s := &b.sums[i]
		if !b.opt.Brief {
			// In brief there are no pages of fields for a link to lead to.
			t.Links = append(t.Links, fieldAnchor(i))
		}
		if !hasAnswer(s) {
			t.Rows = append(t.Rows, []string{fieldName(s.Field), areaOrDash(s.Field.Area), "–", "–", "–", areaOrDash(s.Field.Area), "–"})
			continue
		}
		t.Rows = append(t.Rows, []string{fieldName(s.Field), words.Acres(s.Field.Area), words.Acres(s.ByClass.Of(suitability.Suited)),
			words.Acres(s.ByClass.Of(suitability.Marginal)), words.Acres(s.ByClass.Of(suitability.Unsuited)),
			words.Acres(s.ByClass.Of(suitability.NotRated) + s.Field.Uncovered), limeOrDash(s)})
	}
	t.Rows = append(t.Rows, b.fieldsTotal())
	b.add(Heading{Level: 2, Text: "Your fields", ID: "fields"}, t)
	b.howSure()
}

// overview is a map of all fields.
func (b *book) overview(k mapdraw.Kind, caption string) Figure {
	return Figure{ID: "overview-" + k.String(), Caption: b.caption(caption), Draw: func(o mapdraw.Options) *mapdraw.Drawing {
		o.Kind = k
		return mapdraw.Overview(b.r, b.sums, b.shaded(o))
	}, Legend: func() []LegendRow { return legend(mapdraw.OverviewRows(b.sums, k)) }}
}

// fieldsTotal adds up the table of fields.
func (b *book) fieldsTotal() []string {
	var area, unknown unit.Area
	var by export.Areas
	var lime unit.Mass
	has := false
	for i := range b.sums {
		s := &b.sums[i]
		area += s.Field.Area
		if !hasAnswer(s) {
			// A field without an answer is unknown as a whole, whatever part of it the survey covers.
			unknown += s.Field.Area
			continue
		}
		unknown += s.ByClass.Of(suitability.NotRated) + s.Field.Uncovered
		lime, has = lime+s.Likely, has || s.HasLime
		for _, c := range suitability.Classes() {
			by[c] += s.ByClass.Of(c)
		}
	}
	return []string{"Total", words.Acres(area), words.Acres(by.Of(suitability.Suited)), words.Acres(by.Of(suitability.Marginal)), words.Acres(by.Of(suitability.Unsuited)),
		words.Acres(unknown), massOrDash(has, lime)}
}

// limeNote says what the lime of a table is.
func limeNote(sums []export.Sum) string {
	for i := range sums {
		if _, byTest := limes(&sums[i]); byTest.zones > 0 {
			return "Lime is by soil test where there was one, else a budget from the survey; the lime list says which."
		}
	}
	return "Lime is pure lime by the soil survey: a budget, not a rate."
}

// areaOrDash prints an area that may not be known.
func areaOrDash(a unit.Area) string {
	if a == 0 {
		return "–"
	}
	return words.Acres(a)
}

// limeOrDash prints the lime of a field; no figure is not zero.
func limeOrDash(s *export.Sum) string {
	if !s.HasLime {
		return "–"
	}
	return words.Tons(s.Likely.ShortTons())
}

// fieldPages are the two pages of a field: the answer with the map, then zone by zone.
func (b *book) fieldPages(i int, only bool) {
	s := &b.sums[i]
	level := 3
	if only {
		level = 2
	} else {
		b.add(PageBreak{}, Heading{Level: 2, Text: fieldName(s.Field), ID: fieldAnchor(i), Running: fieldName(s.Field)})
	}
	for _, l := range fieldAnswer(s) {
		b.add(Para{l, Answer})
	}
	if sure := b.fieldSure(i); sure != "" {
		b.add(Para{Text: sure})
	}
	b.add(b.classMap(s, fmt.Sprintf("map-%d", i+1)))
	// The map of the boundary stands all the same: it may show why there is no answer.
	if !hasAnswer(s) {
		return
	}
	if only {
		b.add(PageBreak{})
	}
	b.add(Heading{Level: level, Text: "Zone by zone", ID: fmt.Sprintf("zones-%d", i+1)}, b.zoneTable(s))
}

// classMap is the map of a field by class.
func (b *book) classMap(s *export.Sum, id string) Figure {
	return Figure{ID: id, Caption: b.caption(fieldName(s.Field) + ": what the ground can carry once limed. Numbers are zones."),
		Draw:   func(o mapdraw.Options) *mapdraw.Drawing { return mapdraw.Field(b.r, s, b.shaded(o)) },
		Legend: func() []LegendRow { return legend(mapdraw.Rows(s, mapdraw.Class)) }}
}

// legend puts rows of a legend into words.
func legend(rows []mapdraw.Row) []LegendRow {
	var out []LegendRow
	for _, r := range rows {
		text := r.Word
		if r.Letter != "" {
			text = r.Letter + " · " + text
		}
		out = append(out, LegendRow{r.Look, text, words.AcresAndHectares(unit.Area(r.Area)), mapdraw.Percent(r.Share)})
	}
	return out
}

// zoneTable tells of each zone what it is, why, what can be done, and how sure that is.
func (b *book) zoneTable(s *export.Sum) Table {
	t := Table{Caption: "The zones of " + fieldName(s.Field) + ", the largest first", Stack: true,
		Columns: []Column{{"Zone", 0.07, false}, {"What it is", 0.18, false}, {"Why", 0.26, false}, {"What you can do", 0.26, false}, {"How sure", 0.23, false}}}
	for _, z := range s.Zones {
		t.Rows = append(t.Rows, []string{words.Decimal(float64(z.Number), 0), classAndArea(z), words.Reason(z, words.Landowner),
			words.ToDo(z, b.r.Profile), b.zoneSure(z)})
	}
	t.Note = "A zone is all the ground of one soil in the field. Marks tell how good the facts are that we have: ●○○ not sure, ●●○ fairly sure, ●●● quite sure. Chances tell how likely the answer is by those facts. A soil test is the way to be surer."
	return t
}

// classAndArea prints "S · Suited, lime first. 34.4 acres (13.9 ha)".
func classAndArea(z *suitability.Zone) string {
	l := mapdraw.ClassLook(z.Rating.Class)
	text := l.Letter + " · " + l.Word
	// "Lime first" is a promise that lime mends it, so it is said only where the acid topsoil decides today.
	if z.LimeFirst() && z.Rating.LimitingToday == suitability.SurfacePH {
		text += ", lime first"
	}
	return text + ". " + words.AcresAndHectares(z.Area)
}
