package grower

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability/stand"
)

// record is what was written down, year by year, with what the counts say.
// A line about a whole field stands under the field's name, else under the zone's.
func (b *book) record() {
	if len(b.f.Record) == 0 {
		return
	}
	t := report.Table{Caption: "Your record", Columns: []report.Column{{Head: "Field", Share: 0.12}, {Head: "Year", Share: 0.1}, {Head: "What was written down", Share: 0.38}, {Head: "What it means", Share: 0.4}}}
	for _, s := range b.f.Record {
		for _, y := range s.Years {
			t.Rows = append(t.Rows, []string{shown(cmp.Or(s.Zone, s.Field)), fmt.Sprintf("%d, year %d", y.Calendar, y.Number), recordText(y), countText(y)})
		}
	}
	t.Note = fmt.Sprintf("Year 0 is the year of sowing. A stand is followed for %d years (common practice, no source).", stand.Years)
	b.add(report.Heading{Level: 2, Text: "What was written down", ID: "record"}, t)
}

// mostRecords is how many lines of a year are shown.
const mostRecords = 12

// recordText is what was written down in a year, as it was written.
func recordText(y stand.Year) string {
	var out []string
	for _, r := range y.Records[:min(len(y.Records), mostRecords)] {
		s := date(r.Day) + ": " + words.Record(r)
		out = append(out, s)
	}
	if more := len(y.Records) - mostRecords; more > 0 {
		out = append(out, words.Count(more, "more", "more"))
	}
	return strings.Join(out, "; ")
}

// countText is what follows from it: keep, thicken or give up, what the plants lack, insects over a threshold. A dash where it says nothing.
func countText(y stand.Year) string {
	var out []string
	if d := y.Decision; d != nil {
		out = append(out, words.Sentence(words.StandAction(string(d.Action), words.Landowner))+" Source: "+words.Founding(d.Source, d.Status)+".")
	}
	for _, t := range y.Tissue {
		out = append(out, tissueText(t))
	}
	if n := y.Nitrogen; n > 0 {
		out = append(out, fmt.Sprintf("So little alfalfa does not feed the grass: %s lb of nitrogen an acre each time (University of Tennessee, alfalfa soil-test comments).", words.Decimal(n.PoundsPerAcre(), 0)))
	}
	for _, r := range y.Records {
		// Without a height of that day the strictest threshold holds.
		for _, t := range stand.Scout(r, heightOn(y, r.Day)) {
			if s := words.InsectThreshold(t); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	if len(out) == 0 {
		return "–"
	}
	return strings.Join(out, " ")
}

// tissueText says how a test of the plants stands, and what low tissue calls for.
func tissueText(t stand.Tissue) string {
	s := fmt.Sprintf("%s %s %%: %s", strings.ToUpper(t.Element[:1])+t.Element[1:], words.Decimal(float64(t.Value), 2), string(t.Level))
	if t.Level == nutrient.LowTissue {
		s += "; " + words.TissueAdvice(t.Range.Advice, words.Landowner)
		if least, ok := t.Range.AddLow.Get(); ok {
			s += fmt.Sprintf(", %s lb an acre as %s", span(least.PoundsPerAcre(), t.Range.AddHigh.Or(least).PoundsPerAcre()), soldOf(t.Element))
		}
	}
	return s + " (" + t.Range.Source + ")."
}

// soldOf names what the element of a tissue test is sold as.
func soldOf(element string) string {
	if n, ok := nutrient.ByCode(element); ok {
		return n.Sold()
	}
	return element
}

// heightOn is how tall the crop was on a day, as the record says; thresholds of some insects depend on it.
func heightOn(y stand.Year, day time.Time) unit.Opt[unit.Length] {
	for _, r := range y.Records {
		v, ok := r.Value.Get()
		// Of another day the crop may have been cut or grown since.
		if !ok || r.Kind != stand.Height || !r.Day.Equal(day) {
			continue
		}
		// The record gives heights in inches or centimetres.
		if r.Unit == "cm" {
			return unit.Some(unit.Length(v / 100))
		}
		return unit.Some(unit.Inches(v))
	}
	return unit.None[unit.Length]()
}

// sownBy is the day on which the record has a zone sown; the zero time for never. Ground without a plan may carry a stand all the same: then the
// plan must not speak as if grass grew there.
func (f *Farm) sownBy(z Zone) time.Time {
	var day time.Time
	for _, s := range f.Record {
		if s.Field == z.FieldID && (s.Zone == "" || s.Zone == z.ID) && s.Sown.After(day) {
			day = s.Sown
		}
	}
	return day
}
