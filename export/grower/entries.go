package grower

import (
	"strings"

	"rootworthy/export/calendar"
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// byDays is how many days before it is due a step stands in the calendar; remind is how long before that the reminder comes.
// Source: common practice, no source.
const byDays, remind = 7, 7

// Entries returns the plan as calendar entries: one for each step of each group of zones of a field that have the same days, known by the
// first of them. Steps without a day have none.
func Entries(f *Farm) []calendar.Entry {
	var out []calendar.Entry
	for i := range f.Run.Fields {
		field := &f.Run.Fields[i]
		planned, _ := f.groups(field)
		for _, g := range planned {
			// Zones of a group have the same days, so the first speaks for all.
			for _, s := range g.zones[0].Plan.All() {
				if s.Dated() {
					out = append(out, f.entry(field, g, s))
				}
			}
		}
	}
	return out
}

// entry is one step of a group.
// Field, zone and step make the id, by which a later plan finds the entry again; the days may move without losing it.
func (f *Farm) entry(field *suitability.Field, g group, s season.Step) calendar.Entry {
	first := s.First
	// A step that may be done on any of many days would fill the calendar with them; its last days are what a calendar is for.
	if by := s.Due.AddDate(0, 0, 1-byDays); !s.Stretch() && by.After(first) {
		first = by
	}
	e := calendar.Entry{Field: field.ID, Zone: g.zones[0].ID, Step: s.Key(), First: first, Last: s.Due, Every: s.Every,
		Summary: words.StepName(s) + ": " + fieldName(field) + ", " + g.zoneList(), Text: f.entryText(g, s)}
	switch {
	case s.Done:
		// It stays in the calendar: what was done and when is worth finding again. It rings no more.
		e.Summary = "Done: " + e.Summary
	case !f.past(s):
		e.Warn = remind
	}
	return e
}

// entryText is all that must be known out in the field: how, by when, what if not, what to beware of, on what it rests.
func (f *Farm) entryText(g group, s season.Step) string {
	lines := []string{words.Sentence(words.StepText(s.Code, words.Landowner, f.Run.Profile)), "Ground: " + words.AcresAndHectares(g.area) + "."}
	if !s.Done {
		lines = append(lines, words.Sentence("first day "+date(s.First)+", due by "+date(s.Due)))
	}
	if m := missed(s); m != "" {
		lines = append(lines, m)
	}
	if s.Code == season.Lime {
		lines = append(lines, limeTexts([]group{g})...)
	}
	for _, t := range s.Code.Thresholds() {
		lines = append(lines, words.InsectThreshold(t))
	}
	for _, c := range s.Code.Cautions() {
		lines = append(lines, "Beware: "+words.Caution(c.Code, words.Landowner)+" ("+words.Founding(c.Source, c.Status)+").")
	}
	return strings.Join(append(lines, "Days rest on: "+rules(s)+"."), "\n")
}

// missed says what follows when a step slips.
func missed(s season.Step) string {
	if s.Last.IsZero() {
		return ""
	}
	return "If it is not done by " + date(s.Last) + ", the next time to sow is " + window(s.Next) + "."
}
