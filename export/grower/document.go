package grower

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"rootworthy/export"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// book is the plan in the making.
type book struct {
	report.Document
	f         *Farm
	materials map[string][]material // by field
	broad     bool                  // the last field had a plan
}

// add puts blocks at the end of the document.
func (b *book) add(blocks ...report.Block) { b.Blocks = append(b.Blocks, blocks...) }

// Document builds the plan for page and paper: what comes next, field by field what and when, how each step is done and what to beware
// of, nutrients, seed, varieties, what was written down, sources. On a page its parts fold, since whole it is some seventy screens of a phone
// long: what to do and to buy lies open, the names of the steps do, and so do the cautions, which must not have to be looked for.
func Document(f *Farm) *report.Document {
	title := "Plan for a stand of alfalfa"
	if w := f.whose(); w != "" {
		title = w + ": plan for a stand of alfalfa"
	}
	b := &book{Document: report.Document{Title: title, Subject: "Plan for the grower", Program: f.Run.Provenance.Program, Date: season.Day(f.Date), Folds: true}, f: f, materials: map[string][]material{}}
	// By field, since each field's table stands with its calendar, on the page that is handed out.
	for _, m := range f.materials() {
		b.materials[m.zone.FieldID] = append(b.materials[m.zone.FieldID], m)
	}
	if about := b.about(); about != "" {
		b.add(report.Para{Text: about, Tone: report.Answer})
	}
	// The lists of the whole farm stand first: who does the work reads on by field, who buys and plans needs no more.
	b.answer()
	b.order()
	b.orderList()
	for i := range f.Run.Fields {
		b.field(i)
	}
	b.steps()
	b.years()
	b.nutrients()
	b.seed()
	b.varieties()
	b.record()
	b.add(report.Heading{Level: 2, Text: "Before you act", ID: "cautions", Running: b.Title, Open: true}, report.Bullets{Items: words.Cautions()})
	b.sources()
	return &b.Document
}

// event is a step of a group, for lists over fields.
type event struct {
	field *suitability.Field
	g     group
	s     season.Step
}

// events lists every step of every group that is still to be done: not done, and not past.
func (f *Farm) events() []event {
	var out []event
	for i := range f.Run.Fields {
		// A group's zones have one calendar, so the first speaks for all.
		planned, _ := f.groups(&f.Run.Fields[i])
		for _, g := range planned {
			for _, s := range f.listed(g.zones[0]) {
				if !s.Done && !f.past(s) {
					out = append(out, event{&f.Run.Fields[i], g, s})
				}
			}
		}
	}
	return out
}

// past says whether the days of a step lie before the day of the plan.
func (f *Farm) past(s season.Step) bool { return s.Dated() && !s.Done && s.Due.Before(f.Date) }

// answer says in three lines how much ground is planned, when it is sown and what comes first.
func (b *book) answer() {
	// Zones are sown in different windows when their lime takes longer; each window is told with its ground.
	areas := map[season.Window]unit.Area{}
	var planned, all unit.Area
	for i := range b.f.Run.Fields {
		all += b.f.Run.Fields[i].Area
	}
	for _, z := range b.f.Zones {
		if z.Why == "" {
			planned += z.Area
			areas[z.Plan.Window] += z.Area
		}
	}
	say := func(format string, args ...any) {
		b.add(report.Para{Text: fmt.Sprintf(format, args...), Tone: report.Answer})
	}
	if planned == 0 {
		what := "this run"
		if b.f.Whole != nil {
			what = these(b.f.Run)
		}
		say("No ground of %s can be planned. The fields below say why.", what)
		return
	}
	if planned >= all*(1-1e-6) { // but for the last digits of a sum over zones
		say("All %s acres are planned.", words.Acres(all))
	} else {
		say("%s of %s acres are planned. The rest stays in grass or must be tested first.", words.Acres(planned), words.Acres(all))
	}
	// Maps have no order of their own; the sentences go by the first day.
	windows := make([]season.Window, 0, len(areas))
	for w := range areas {
		windows = append(windows, w)
	}
	slices.SortFunc(windows, func(x, y season.Window) int { return cmp.Or(x.First.Compare(y.First), x.Last.Compare(y.Last)) })
	for _, w := range windows {
		// A window that is over belongs to ground with a stand: what is not sown yet has its window ahead of it.
		if w.Last.Before(b.f.Date) {
			say("%s acres were sown on %s.", words.Acres(areas[w]), window(w))
			continue
		}
		say("Sow %s acres: %s.", words.Acres(areas[w]), window(w))
	}
	var next *event
	events := b.f.events()
	for i := range events {
		// Of steps due on one day the first in the order of the run is named.
		if e := &events[i]; e.s.Dated() && (next == nil || e.s.Due.Before(next.s.Due)) {
			next = e
		}
	}
	if next != nil {
		say("What comes first: %s, by %s.", strings.ToLower(words.StepName(next.s)[:1])+words.StepName(next.s)[1:], date(next.s.Due))
	}
}

// dates is when a step of several fields is done.
// key is that of the step with its passes; times of one day compare as equal, since all are midnight UTC.
type dates struct {
	key        string
	first, due time.Time
}

// order lists all steps by date, equal ones of several fields together.
func (b *book) order() {
	type line struct {
		s     season.Step
		area  unit.Area
		where []string
	}
	at := map[dates]int{}
	var lines []line
	for _, e := range b.f.events() {
		// A pass of lime of two and one of three are different lines: "pass 1 of 2" would be wrong for one of them.
		k := dates{e.s.Key() + "/" + fmt.Sprint(e.s.Passes), e.s.First, e.s.Due}
		i, ok := at[k]
		if !ok {
			i = len(lines)
			at[k] = i
			lines = append(lines, line{s: e.s})
		}
		lines[i].area += e.g.area
		lines[i].where = append(lines[i].where, shown(e.field.ID)+" "+e.g.zoneList())
	}
	if len(lines) == 0 {
		return
	}
	slices.SortStableFunc(lines, func(x, y line) int {
		return byDay(x.s, y.s)
	})
	t := report.Table{Caption: "All steps by date", Columns: []report.Column{{Head: "When", Share: 0.3}, {Head: "What", Share: 0.25}, {Head: "Where", Share: 0.33}, {Head: "Acres", Share: 0.12, Number: true}},
		Note: "The calendar file plan.ics holds the same days. Read it into your calendar; a later plan of the same farm updates it."}
	for _, l := range lines {
		t.Rows = append(t.Rows, []string{when(l.s), words.StepName(l.s), list(l.where), acresText(l.area)})
	}
	b.add(report.Heading{Level: 2, Text: "What to do, in order", ID: "order", Open: true}, t)
}

// mostPlaces is how many places a cell names; the rest is counted.
const mostPlaces = 12

// list names some places and counts the others.
func list(where []string) string {
	if more := len(where) - mostPlaces; more > 0 {
		where = append(slices.Clone(where[:mostPlaces]), words.Count(more, "more", "more"))
	}
	return strings.Join(where, "; ")
}

// byDay orders steps by the day that the reader sees first: the last day of what is done once ("by June 15"), the first day of what takes a
// stretch ("September 22 to November 26"). By last days alone, a watch that begins in September would stand after a cutting in October.
func byDay(x, y season.Step) int {
	shown := func(s season.Step) time.Time {
		if s.Done || s.Every > 0 || s.Stretch() {
			return s.First
		}
		return s.Due
	}
	return cmp.Or(cmp.Compare(undated(x), undated(y)), shown(x).Compare(shown(y)), x.Due.Compare(y.Due), x.First.Compare(y.First))
}

// undated orders steps without a day behind all others: they wait for something that nobody can date.
func undated(s season.Step) int {
	if s.Dated() {
		return 0
	}
	return 1
}

// when prints the days of a step.
func when(s season.Step) string {
	return days(s) + unchecked(s)
}

// unchecked marks days that rest on memory.
func unchecked(s season.Step) string {
	if s.Dated() && slices.ContainsFunc(s.Rules, func(r season.Rule) bool { return r.Status == suitability.Memory }) {
		return " (from memory, not checked)"
	}
	return ""
}

// days prints when a step is done: "by" for what is done once, the span for what is watched or done over a stretch.
func days(s season.Step) string {
	switch {
	case !s.Dated():
		return words.StepNeeds(s.Needs, words.Landowner)
	case s.Done:
		return "done " + date(s.First)
	// What is looked at again and again has a span and no day by which it must be done.
	case s.Every > 0:
		return window(season.Window{First: s.First, Last: s.Due}) + ", every " + words.Count(s.Every, "day", "days")
	case s.Stretch():
		return window(season.Window{First: s.First, Last: s.Due})
	}
	return "by " + date(s.Due) + ", from " + date(s.First) + " on"
}

// anyPlan says whether some ground has a calendar, so that lists of the farm stand before the fields.
func (f *Farm) anyPlan() bool {
	return slices.ContainsFunc(f.Zones, func(z Zone) bool { return z.Why == "" })
}

// field is the plan of a field.
func (b *book) field(i int) {
	f := &b.f.Run.Fields[i]
	planned, without := b.f.groups(f)
	// Each field that has a plan begins a page, to be given to whoever works it.
	if i == 0 && b.f.anyPlan() || len(planned) > 0 || b.broad { // a page to hand out; fields without a plan follow each other, and the bare answer
		b.add(report.PageBreak{})
		b.broad = len(planned) > 0
	}
	// The answer is the one of the other reports, from the same sums.
	sums := export.Sums(&suitability.Result{Fields: b.f.Run.Fields[i : i+1], Zones: b.f.Run.Zones, Profile: b.f.Run.Profile})
	answer := words.FieldAnswer(&sums[0])
	// A plan of one field is opened for that field.
	b.add(report.Heading{Level: 2, Text: fieldName(f), ID: fmt.Sprintf("field-%d", i+1), Running: fieldName(f), Say: answer, Open: len(b.f.Run.Fields) == 1})
	if owner := ownerOf(f); owner != "" && b.f.whose() == "" { // else the title says it
		b.add(report.Para{Text: "Ground of " + owner + ".", Tone: report.Small})
	}
	if f.Trouble != "" {
		b.add(report.Para{Text: "No plan: the field " + words.Trouble(f) + "."})
		return
	}
	b.add(report.Para{Text: answer})
	if len(planned) > 0 {
		b.add(b.calendar(f, planned), report.Para{Text: b.notes(planned), Tone: report.Small})
		b.limeOnRecord(planned)
	}
	b.materialTable(f)
	var items []string
	for _, z := range without {
		item := fmt.Sprintf("Zone %d, %s: %s. %s", z.Number, words.AcresAndHectares(z.Area), whyText(z.Why), words.Reason(z.Zone, words.Landowner))
		if day := b.f.sownBy(z); !day.IsZero() {
			item += " Your record says that it was sown on " + date(day) + "; go by what you count there."
		}
		items = append(items, item)
	}
	if len(items) > 0 {
		b.add(report.Para{Text: "Without a plan:"}, report.Bullets{Items: items})
	}
}

// note puts a note of a calendar into a sentence, with the figure where it has one.
func (b *book) note(code string, p season.Plan) string {
	s := words.SeasonNote(code, words.Landowner)
	if t, ok := b.f.Normals.SoilOn(p.Window.First); ok && code == season.SoilAtSowing {
		s = fmt.Sprintf("by your normals the soil is at about %s °F (%s °C) on %s", words.Decimal(t.Fahrenheit(), 0), words.Decimal(float64(t), 0), date(p.Window.First))
	}
	return words.Sentence(s)
}

// notes puts the notes of a field's calendars into sentences, each once.
// Zones of a group share their notes too.
func (b *book) notes(groups []group) string {
	out := []string{"What the days rest on stands under each step."}
	for _, g := range groups {
		for _, n := range g.zones[0].Plan.Notes {
			if s := b.note(n, g.zones[0].Plan); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return strings.Join(out, " ")
}

// calendar is the table of a field: the steps of all its zones by day, the cautions at the first of each kind.
func (b *book) calendar(f *suitability.Field, groups []group) report.Table {
	var events []event
	var area unit.Area
	for _, g := range groups {
		area += g.area
		for _, s := range b.f.listed(g.zones[0]) {
			events = append(events, event{f, g, s})
		}
	}
	slices.SortStableFunc(events, func(x, y event) int {
		return byDay(x.s, y.s)
	})
	t := report.Table{Stack: true, Caption: fieldName(f) + ": " + words.AcresAndHectares(area) + " by day",
		Columns: []report.Column{{Head: "What", Share: 0.18}, {Head: "Where", Share: 0.11}, {Head: "When", Share: 0.2}, {Head: "If it slips", Share: 0.21}, {Head: "Beware", Share: 0.3}}}
	told := map[season.Code]bool{}
	for _, e := range events {
		slips := "–"
		// Only some steps decide on the sowing; after the last day for one of them a later window takes its place.
		if !e.s.Last.IsZero() {
			slips = "after " + date(e.s.Last) + ": sow " + window(e.s.Next)
		}
		beware := dash(bewareShort(e.s.Code))
		// The third pass of lime needs no third warning, and a table full of warnings is not read.
		if told[e.s.Code] && beware != "–" {
			beware = "as above"
		}
		told[e.s.Code] = true
		t.Links = append(t.Links, "step-"+string(e.s.Code))
		days := when(e.s)
		if b.f.past(e.s) {
			days += ", past"
		}
		t.Rows = append(t.Rows, []string{words.StepName(e.s), e.g.zoneList(), days, slips, beware})
	}
	return t
}

// bewareShort lists the cautions of a step in the words of the work.
func bewareShort(c season.Code) string {
	var out []string
	for _, x := range c.Cautions() {
		out = append(out, words.Caution(x.Code, words.Technician))
	}
	return strings.Join(out, "; ")
}

// materialTable lists what goes onto a field.
func (b *book) materialTable(f *suitability.Field) {
	t := report.Table{Stack: true, Caption: "What goes onto " + fieldName(f), Columns: []report.Column{{Head: "Zone", Share: 0.07}, {Head: "What", Share: 0.15}, {Head: "Rate an acre", Share: 0.17},
		{Head: "In all", Share: 0.12, Number: true}, {Head: "When", Share: 0.15}, {Head: "What it rests on", Share: 0.34}}}
	for _, m := range b.materials[f.ID] {
		basis := m.source
		if basis == "" {
			basis = "no source"
		}
		if m.note != "" {
			basis += ". " + words.Sentence(m.note)
		}
		t.Rows = append(t.Rows, []string{words.Decimal(float64(m.zone.Number), 0), m.what, rateText(m), massText(m), dash(m.when), basis})
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
}

// rateText prints the rate with its span; without a rate the span alone, named as what it is.
// Rate and span are an acre, in the unit of the material.
func rateText(m material) string {
	rate, ok := m.rate.Get()
	least, hasSpan := m.least.Get()
	most := m.most.Or(least)
	span := words.Decimal(least, 1) + " to " + words.Decimal(most, 1)
	switch {
	case ok && hasSpan && least != most:
		return fmt.Sprintf("%s (%s)", withUnit(rate, 2, m.unit), span)
	case ok:
		return withUnit(rate, 2, m.unit)
	// Nothing is needed, which is an answer; "no rate" below means that nobody knows.
	case m.none:
		return "none"
	case hasSpan:
		// One figure is no span.
		if least == most {
			span = words.Decimal(least, 1)
		}
		return "no rate; may be " + span + " " + m.unit
	}
	return "no rate"
}

// massText prints what the zone takes in all.
func massText(m material) string {
	if mass, ok := m.mass.Get(); ok {
		return withUnit(mass, 1, m.unit)
	}
	return "–"
}

// withUnit prints an amount with its unit, which stands in the tables in the singular: "1 short ton", "1.25 short tons", "40 lb".
func withUnit(x float64, decimals int, unit string) string {
	s := words.Decimal(x, decimals)
	if unit == "short ton" && s != "1" {
		unit += "s"
	}
	return s + " " + unit
}

// dash stands in an empty cell, so that it does not look forgotten.
func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}
