package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// mostMaps is how many small maps a report shows, the best fields first: past that nobody looks.
const mostMaps = 120

// Consultant builds the report for the consultant: ranked fields, small maps, reasons by area, what would change the
// answer, zone by zone, and two fields side by side where asked for.
// The only error is a field to compare that the run does not have.
func Consultant(r *suitability.Result, opt Options) (*Document, error) {
	title := "Fields ranked for alfalfa in warm-season sod"
	if w := whose(r); w != "" {
		title = w + ": fields ranked for alfalfa in warm-season sod"
	}
	b := newBook(r, opt, title, "Report for the consultant")
	for _, l := range words.Answer(r) {
		b.add(Para{l, Answer})
	}
	ranked := b.ranked()
	b.rankTable(ranked)
	if err := b.compare(); err != nil {
		return nil, err
	}
	b.chances(ranked)
	// One field alone is its own overview; its small map and its table say all of it.
	if len(b.sums) > 1 {
		b.add(Heading{Level: 2, Text: "All fields", ID: "overview"}, b.overview(mapdraw.Class, "Each field by what most of it can carry once limed. The table of ranks has the areas."),
			b.overview(mapdraw.Lime, "Each field by its mean lime over the zones that have a figure, short tons an acre. The table of ranks has the tons."))
	}
	// Without zones there is nothing to add up, and no test that a plan could name.
	if len(export.Zones(r)) > 0 {
		b.reasonsByArea()
		b.wouldChange()
	}
	b.subsoil(words.Consultant)
	if !opt.Brief {
		b.smallMaps(ranked)
		b.allZones(ranked)
	}
	b.withoutAnswer()
	b.cautions()
	b.sources()
	return &b.Document, nil
}

// ranked returns the fields by rank, those without an answer last in the order of the input.
// The numbers are indexes into the sums. Rank 0 means that a field has none.
func (b *book) ranked() []int {
	order := make([]int, len(b.sums))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int {
		rx, ry := b.sums[x].Rank, b.sums[y].Rank
		switch {
		// Equal, so that the stable sort keeps the order of the input.
		case rx == 0 && ry == 0:
			return 0
		case rx == 0:
			return 1
		case ry == 0:
			return -1
		}
		return cmp.Compare(rx, ry)
	})
	return order
}

// rankTable is a line a field.
func (b *book) rankTable(order []int) {
	t := Table{Caption: "Fields by rank; areas in acres", Columns: []Column{{"Rank", 0.07, true}, {"Field", 0.2, false}, {"Area", 0.09, true}, {"Suited", 0.09, true},
		{"Suited today", 0.09, true}, {"Score", 0.08, true}, {"Limits, by area", 0.24, false}, {"Lime, short tons", 0.14, true}},
		Note: "Rank among the fields of this report: share of the whole field that is suited once corrected, then area-weighted mean score of the rated zones, then area. Ground outside the survey or not rated counts as not suited. Lime at 100 % CCE" + soldNote(b.sums) + ", likely figure (low to high)."}
	for _, i := range order {
		s := &b.sums[i]
		// A field without an answer stays in the table: left out it would look as if it had been forgotten.
		if !hasAnswer(s) {
			t.Rows = append(t.Rows, []string{"–", fieldName(s.Field), areaOrDash(s.Field.Area), "–", "–", "–", "no answer: " + plainText(words.Trouble(s.Field)), "–"})
			continue
		}
		t.Rows = append(t.Rows, []string{words.Decimal(float64(s.Rank), 0), fieldName(s.Field), words.Acres(s.Field.Area), words.Acres(s.ByClass.Of(suitability.Suited)),
			words.Acres(s.ByToday.Of(suitability.Suited)), scoreText(s), limitsText(s.Limits), limeSpan(s)})
	}
	b.add(Heading{Level: 2, Text: "Rank", ID: "rank"}, t)
}

// scoreText prints a score of 100 without decimals; a dash where nothing is rated.
func scoreText(s *export.Sum) string {
	if x, ok := s.Score.Get(); ok {
		return words.Fixed(x, 0)
	}
	return "–"
}

// limitsText lists limits with their areas.
func limitsText(limits []export.LimitArea) string {
	var parts []string
	for _, l := range limits {
		parts = append(parts, words.Criterion(l.Code, words.Consultant)+" "+words.Acres(l.Area))
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, "; ")
}

// limeSpan prints the lime of a field with its ends.
func limeSpan(s *export.Sum) string {
	if !s.HasLime {
		return "–"
	}
	text := words.Tons(s.Likely.ShortTons())
	// A rate by test of a method without a known error has one figure and no ends.
	if s.Low != s.High {
		text += fmt.Sprintf(" (%s to %s)", words.Tons(s.Low.ShortTons()), words.Tons(s.High.ShortTons()))
	}
	switch {
	// Zones that need at least so much and zones that need at most so much add up to a sum that is neither.
	case s.Floor && s.Ceiling:
		text += ", floors and ceilings mixed"
	case s.Floor:
		text += ", at least"
	case s.Ceiling:
		text += ", at most"
	}
	return text
}

// reasonsByArea adds up what limits, over all fields.
func (b *book) reasonsByArea() {
	limits, unsuited, today := map[suitability.Code]unit.Area{}, map[suitability.Code]unit.Area{}, map[suitability.Code]unit.Area{}
	zones := map[suitability.Code]int{}
	var rated unit.Area
	for _, z := range export.Zones(b.r) {
		if z.Rating.Class != suitability.NotRated {
			rated += z.Area
		}
		// Nothing limiting is the code "", which no row asks for.
		limits[z.Rating.Limiting] += z.Area
		today[z.Rating.LimitingToday] += z.Area
		if z.Rating.Class == suitability.Unsuited {
			unsuited[z.Rating.Limiting] += z.Area
		}
		zones[z.Rating.Limiting]++
	}
	t := Table{Caption: "What limits, over all fields; areas in acres", Columns: []Column{{"Criterion", 0.28, false}, {"Zones", 0.1, true}, {"Limits", 0.14, true},
		{"Of that unsuited", 0.16, true}, {"Limits today", 0.16, true}, {"Share of rated ground", 0.16, true}},
		Note: "Limits: once what can be corrected is corrected. Limits today: the ground as it is. A zone counts by its one limiting criterion."}
	for _, c := range suitability.Codes() {
		if limits[c] == 0 && today[c] == 0 {
			continue
		}
		t.Rows = append(t.Rows, []string{words.Criterion(c, words.Consultant), words.Decimal(float64(zones[c]), 0), words.Acres(limits[c]), words.Acres(unsuited[c]),
			// A run without rated ground divides by a square metre instead of by nothing.
			words.Acres(today[c]), mapdraw.Percent(float64(limits[c]) / max(1, float64(rated)))})
	}
	b.add(Heading{Level: 2, Text: "Reasons by area", ID: "reasons"})
	if len(t.Rows) == 0 {
		b.add(Para{Text: "Nothing limits any zone."})
		return
	}
	b.add(t)
}

// wouldChange lists the zones that a visit or a test may move, by falling area.
func (b *book) wouldChange() {
	var zones []*suitability.Zone
	for _, z := range export.Zones(b.r) {
		if whyUnsure(z, words.Consultant) != "" {
			zones = append(zones, z)
		}
	}
	b.add(Heading{Level: 2, Text: "Which visit or test would change the answer", ID: "tests"})
	// First what a plan of samples found worth most, then all that may move.
	b.bestTests()
	if len(zones) == 0 {
		b.add(Para{Text: "No class hinges on a value that a single test would settle. Laboratory tests of surface and subsoil would raise confidence everywhere."})
		return
	}
	slices.SortStableFunc(zones, func(a, b *suitability.Zone) int { return cmp.Compare(b.Area, a.Area) })
	t := Table{Caption: "Zones that a visit or a test may move, the largest first", Columns: []Column{{"Zone", 0.14, false}, {"Acres", 0.08, true}, {"Class", 0.12, false},
		{"Shares of soils: suited, marginal, unsuited", 0.2, false}, {"Hinges on", 0.14, false}, {"What to do, and why confidence is low", 0.32, false}}}
	// The largest come first; what is smaller moves no decision on paper, and the file has all of it.
	const most = 60
	for _, z := range zones[:min(len(zones), most)] {
		t.Rows = append(t.Rows, []string{zoneName(z), words.Acres(z.Area), z.Rating.Class.String(), sharesText(z.Rating.Shares), hinges(z), words.HowSure(z, words.Consultant)})
	}
	if more := len(zones) - most; more > 0 {
		t.Note = "And " + words.Count(more, "smaller zone", "smaller zones") + "; zones.geojson lists them all (hinges_on, confidence)."
	}
	b.add(t)
}

// sharesText prints percents of a zone's soils; what is missing to 100 could not be rated.
func sharesText(s suitability.Shares) string {
	return fmt.Sprintf("%s, %s, %s %%", words.Decimal(s.Suited, 0), words.Decimal(s.Marginal, 0), words.Decimal(s.Unsuited, 0))
}

// hinges lists the criteria that a test could turn; a dash for none.
func hinges(z *suitability.Zone) string {
	var parts []string
	for _, c := range z.Rating.HingesOn {
		parts = append(parts, words.Criterion(c, words.Consultant))
	}
	if len(parts) == 0 {
		return "–"
	}
	return strings.Join(parts, ", ")
}

// smallMaps shows the fields by rank.
func (b *book) smallMaps(order []int) {
	f := Figures{Across: 3}
	for _, i := range order {
		s := &b.sums[i]
		// The list goes by rank, so what is cut off are the fields that interest least.
		if !hasAnswer(s) || len(f.Items) == mostMaps {
			continue
		}
		f.Items = append(f.Items, b.smallMap(s, fmt.Sprintf("small-%d", i+1), fmt.Sprintf("%d. %s: %s acres, %s suited", s.Rank, fieldName(s.Field), words.Acres(s.Field.Area), mapdraw.Percent(s.Suited()))))
	}
	if len(f.Items) == 0 {
		return
	}
	b.add(Heading{Level: 2, Text: "Small maps by rank", ID: "maps"},
		Para{Text: "Class once corrected: S suited (plain), M marginal (dots), U unsuited (lines), – not rated (dashes), ? outside the survey. North is up; each field has a scale of its own."}, f)
	if more := len(b.sums) - len(f.Items); len(f.Items) == mostMaps && more > 0 {
		b.add(Para{Text: fmt.Sprintf("The other %s stand in the table and in zones.geojson.", words.Count(more, "field", "fields")), Tone: Small})
	}
}

// smallMap is drawn only when its size is known, so it keeps what to draw and not a drawing.
func (b *book) smallMap(s *export.Sum, id, caption string) Figure {
	return Figure{ID: id, Caption: caption, Draw: func(o mapdraw.Options) *mapdraw.Drawing { return mapdraw.Field(b.r, s, o) }}
}

// allZones gives the reason for every zone in the consultant's terms.
// A table for each field, by rank, so that a field can be read by itself.
func (b *book) allZones(order []int) {
	if len(export.Zones(b.r)) == 0 {
		return
	}
	b.add(Heading{Level: 2, Text: "Zones", ID: "zones"})
	for _, i := range order {
		s := &b.sums[i]
		if !hasAnswer(s) {
			continue
		}
		t := Table{Caption: fieldName(s.Field) + ", " + words.AcresAndHectares(s.Field.Area), Columns: []Column{{"Zone", 0.07, true}, {"Map unit", 0.17, false}, {"Acres", 0.08, true},
			{"Reason", 0.24, false}, {"pH, top and subsoil", 0.09, false}, {"Lime, short tons/ac", 0.09, false}, {"Confidence", 0.13, false}, {"Chance of the class; lime, 9 in 10", 0.14, false}}}
		for _, z := range s.Zones {
			t.Rows = append(t.Rows, []string{words.Decimal(float64(z.Number), 0), clean(z.Symbol) + " " + clean(z.MapUnit), words.Acres(z.Area), words.Reason(z, words.Consultant),
				phText(z.Rating.Values.PHSurface) + ", " + phText(z.Rating.Values.PHSubsoil), limeText(z), z.Rating.Confidence.Level, b.zoneChance(z)})
		}
		b.add(t)
	}
}

// phText prints a pH; a dash where neither survey nor test has one.
func phText(o unit.Opt[unit.PH]) string {
	if x, ok := o.Get(); ok {
		return words.PH(x)
	}
	return "–"
}

// limeText prints the figure of a zone: no figure is a dash, none needed is 0.
func limeText(z *suitability.Zone) string {
	x, ok := z.Lime.Likely.Get()
	switch {
	case !ok:
		return "–"
	case x == 0:
		return "0"
	}
	return band(&z.Lime)
}
