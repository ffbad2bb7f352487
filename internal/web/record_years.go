package web

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// recordYear is one year of a field's record.
type recordYear struct {
	Title    string
	Verdicts []verdict
	Hay      []string
	Groups   []recordGroup
	number   int
	calendar int
	unsown   bool // nobody wrote down when it was sown
	lines    []stand.Record
}

// verdict is what the count of a zone calls for.
type verdict struct{ Where, Count, Action, Text, Source string }

// recordGroup is what belongs together in a year: what was counted, spread, tested, cut, scouted.
type recordGroup struct {
	Name  string
	Lines []recordLine
}

// recordLine is one line of the file.
type recordLine struct {
	Date, Where, What, Note string
	Line                    int
	Says                    []said
}

// said is what a source makes of a figure.
type said struct{ Text, Source string }

// groupNames are the groups, in the order of page and form.
var groupNames = []string{"Stand", "Soil, lime and fertilizer", "Tissue tests", "Cutting and grazing", "Scouting", "Notes"}

// groupOf says where a kind belongs.
func groupOf(k stand.Kind) int {
	switch k {
	case stand.Sown, stand.Plants, stand.Stems, stand.AlfalfaShare, stand.Height:
		return 0
	case stand.Yield, "cut", "grazed":
		return 3
	case "note":
		return 5
	}
	switch {
	case strings.HasPrefix(string(k), "tissue_"):
		return 2
	case slices.Contains(scouted(), k):
		return 4
	}
	return 1
}

// scouted are the kinds that have to do with insects.
func scouted() []stand.Kind {
	out := []stand.Kind{"sprayed"}
	for _, t := range stand.Thresholds() {
		out = append(out, t.Kind)
	}
	return out
}

// yearsOf puts the stories of a field's zones side by side, year by year. Where all of it was sown on one day all years
// are there, those of which nothing is written too.
func yearsOf(stories []stand.Story, target suitability.Target) (out []recordYear, later string) {
	beyond := 0
	for i := range stories {
		st := &stories[i]
		beyond += st.Later
		for j := range st.Years {
			y := &st.Years[j]
			at := slices.IndexFunc(out, func(x recordYear) bool { return x.number == y.Number && x.calendar == y.Calendar })
			if at < 0 {
				at, out = len(out), append(out, recordYear{number: y.Number, calendar: y.Calendar, unsown: st.Sown.IsZero()})
			}
			out[at].add(st, y)
		}
	}
	out = withEmpty(out, stories)
	slices.SortStableFunc(out, func(a, b recordYear) int {
		return cmp.Or(cmp.Compare(a.calendar, b.calendar), cmp.Compare(a.number, b.number))
	})
	for i := range out {
		out[i].finish(target)
	}
	if beyond > 0 {
		later = fmt.Sprintf("%s beyond year %d; a stand is followed for %d years (common practice, no source).", words.Count(beyond, "line lies", "lines lie"), stand.Years, stand.Years)
	}
	return out, later
}

// withEmpty adds the years of which nothing is written.
func withEmpty(years []recordYear, stories []stand.Story) []recordYear {
	if len(stories) == 0 || stories[0].Sown.IsZero() || slices.ContainsFunc(stories, func(s stand.Story) bool { return !s.Sown.Equal(stories[0].Sown) }) {
		return years
	}
	for n := 0; n <= stand.Years; n++ {
		if !slices.ContainsFunc(years, func(y recordYear) bool { return y.number == n }) {
			years = append(years, recordYear{number: n, calendar: calendarYear(stories[0].Sown, n)})
		}
	}
	return years
}

// calendarYear is the calendar year of a year of production; 0 is the one of sowing.
func calendarYear(sown time.Time, number int) int {
	if number == 0 {
		return sown.Year()
	}
	year := sown.Year()
	for stand.ProductionYear(sown, springOf(year)) < number {
		year++
	}
	return year
}

// springOf is a day of the spring of a year, when stands are counted.
func springOf(year int) time.Time { return time.Date(year, time.March, 15, 0, 0, 0, 0, time.UTC) }

// add puts a zone's year beside those of the other zones. Lines of the whole field stand in each zone's story, and here once.
func (y *recordYear) add(st *stand.Story, of *stand.Year) {
	if d := of.Decision; d != nil {
		where := "Whole field"
		if st.Zone != "" {
			where = "Zone " + st.Zone
		}
		v := verdict{Where: where, Count: words.Decimal(d.Count.PerSquareFoot(), 1) + " " + string(d.Kind) + " in a square foot", Action: string(d.Action),
			Text: words.Sentence(words.StandAction(string(d.Action), words.Landowner)), Source: words.Founding(d.Source, d.Status)}
		if d.Action == stand.KeepThin && d.Loss > 0 {
			v.Text += " About " + tonsText(d.Loss) + " of hay a year are missing."
		}
		if d.ThickenWhy != "" {
			v.Source += ". That seed still takes: " + d.ThickenWhy
		}
		y.Verdicts = append(y.Verdicts, v)
	}
	if h, ok := of.Hay.Get(); ok {
		where := ""
		if st.Zone != "" {
			where = " in zone " + st.Zone
		}
		y.Hay = append(y.Hay, fmt.Sprintf("Hay of the year%s: %s.", where, tonsText(h)))
	}
	for _, r := range of.Records {
		if !slices.ContainsFunc(y.lines, func(x stand.Record) bool { return x.Line == r.Line }) {
			y.lines = append(y.lines, r)
		}
	}
}

func (y *recordYear) finish(target suitability.Target) {
	y.Title = fmt.Sprintf("%d, year %d", y.calendar, y.number)
	switch {
	case y.unsown:
		y.Title = fmt.Sprint(y.calendar)
	case y.number == 0:
		y.Title = fmt.Sprintf("%d, up to the first full year", y.calendar)
	}
	slices.SortStableFunc(y.lines, func(a, b stand.Record) int { return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.Line, b.Line)) })
	groups := make([]recordGroup, len(groupNames))
	for _, r := range y.lines {
		g := groupOf(r.Kind)
		groups[g].Name = groupNames[g]
		groups[g].Lines = append(groups[g].Lines, recordLine{Date: words.Date(r.Day.Format(time.DateOnly)), Where: whereText(r), What: words.Sentence(words.Record(r)),
			Note: r.Note, Line: r.Line, Says: append(y.says(r), aimed(r, target)...)})
	}
	y.Groups = slices.DeleteFunc(groups, func(g recordGroup) bool { return len(g.Lines) == 0 })
}

// tonsText prints hay with metric beside it.
func tonsText(r unit.AreaRate) string {
	return fmt.Sprintf("%s short tons an acre (%s t/ha)", words.Tons(r.ShortTonsPerAcre()), words.Decimal(r.TonnesPerHectare(), 1))
}

func whereText(r stand.Record) string {
	if r.Zone == "" {
		return "whole field"
	}
	return "zone " + r.Zone
}

// says is what sources make of a line: ranges of tissue tests, thresholds of insects, nitrogen for a thin stand.
func (y *recordYear) says(r stand.Record) (out []said) {
	for _, t := range stand.JudgeTissue(r) {
		text := string(t.Level) + ": " + words.Decimal(float64(t.Range.Low), 2) + " % or more is enough"
		if high, ok := t.Range.High.Get(); ok {
			text = string(t.Level) + ": " + words.Decimal(float64(t.Range.Low), 2) + " to " + words.Decimal(float64(high), 2) + " % is enough"
		}
		text += " (" + t.Range.Part + ", " + t.Range.Stage + ")"
		if t.Level == nutrient.LowTissue {
			text += "; " + words.TissueAdvice(t.Range.Advice, words.Landowner)
		}
		out = append(out, said{words.Sentence(text), t.Range.Source})
	}
	reached := stand.Scout(r, y.heightAt(r))
	for _, t := range reached {
		out = append(out, said{words.InsectThreshold(t), ""})
	}
	if len(reached) == 0 && r.Value.Has() && hasThreshold(r.Kind) {
		out = append(out, said{"Under the number from which to act, by every source here.", ""})
	}
	if v, ok := r.Value.Get(); ok && r.Kind == stand.AlfalfaShare {
		if n := nutrient.NitrogenForThinStand(unit.Percent(v)); n > 0 {
			out = append(out, said{"So little alfalfa does not feed the grass: " + words.Decimal(n.PoundsPerAcre(), 0) + " lb of nitrogen an acre each time.", "University of Tennessee, alfalfa soil-test comments"})
		}
	}
	return out
}

// aimed holds a soil test against the pH that the run limes to.
func aimed(r stand.Record, target suitability.Target) []said {
	v, ok := r.Value.Get()
	if !ok || r.Kind != stand.SoilPH || target.PH == 0 {
		return nil
	}
	text := "At or above " + words.PH(target.PH) + ", the pH that the run limes to."
	if v < float64(target.PH) {
		text = "Under " + words.PH(target.PH) + ", the pH that the run limes to: ask the laboratory for its lime requirement."
	}
	return []said{{text, words.Founding(target.Source, target.Status)}}
}

func hasThreshold(k stand.Kind) bool {
	return slices.ContainsFunc(stand.Thresholds(), func(t stand.Threshold) bool { return t.Kind == k && t.From.Has() })
}

// heightAt is how high the stand was on the day of a line: some thresholds depend on it.
func (y *recordYear) heightAt(r stand.Record) unit.Opt[unit.Length] {
	for _, x := range y.lines {
		v, ok := x.Value.Get()
		if ok && x.Kind == stand.Height && x.Day.Equal(r.Day) && (x.Zone == r.Zone || x.Zone == "") {
			if x.Unit == "cm" {
				return unit.Some(unit.Length(v) / 100)
			}
			return unit.Some(unit.Inches(v))
		}
	}
	return unit.None[unit.Length]()
}
