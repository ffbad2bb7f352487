package grower

import (
	"io"
	"strconv"
	"time"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability/season"
)

// WriteSteps writes plan.csv (RFC 4180, CR LF): a row for each zone and step, undated steps and zones without a plan too.
func WriteSteps(w io.Writer, f *Farm) error {
	t := export.NewTable(w, "field_id", "field_name", "zone_id", "zone", "area_ac", "step", "what", "first_day", "due", "last_day", "if_missed_sow_first", "if_missed_sow_last",
		"every_days", "done", "how", "beware", "rests_on", "uid", "year")
	uids := f.uids()
	for _, z := range f.Zones {
		head := []string{z.FieldID, z.FieldName, z.ID, strconv.Itoa(z.Number), figure(z.Area.Acres())}
		// A row of its own for ground without a plan, so that the table has all zones of the run and their sum is the farm.
		if z.Why != "" {
			t.Row(append(head, "", whyText(z.Why), "", "", "", "", "", "", "", "", "", "", "", "")...)
			continue
		}
		for _, s := range z.Plan.All() {
			every := ""
			if s.Every > 0 {
				every = strconv.Itoa(s.Every)
			}
			rest := rules(s)
			// A step without a day rests on nothing; what it waits for stands in the place of that.
			if s.Needs != "" {
				rest = words.StepNeeds(s.Needs, words.Landowner)
			}
			// Cut to its length, so that each row gets a slice of its own and none writes into the next.
			t.Row(append(head[:5:5], s.Key(), words.StepName(s), day(s.First), day(s.Due), day(s.Last), day(s.Next.First), day(s.Next.Last), every, export.YesNo(s.Done),
				words.StepText(s.Code, words.Technician, f.Run.Profile), bewareShort(s.Code), rest, uids[z.ID+"\x00"+s.Key()], year(s))...)
		}
	}
	return t.Close()
}

// uids says by which calendar entry each dated step of each zone is told.
// The key is zone and step with a zero byte between, so that no two pairs can run together.
func (f *Farm) uids() map[string]string {
	out := map[string]string{}
	for i := range f.Run.Fields {
		planned, _ := f.groups(&f.Run.Fields[i])
		for _, g := range planned {
			for _, s := range g.zones[0].Plan.All() {
				if !s.Dated() {
					continue
				}
				uid := f.entry(&f.Run.Fields[i], g, s).UID()
				// One entry tells of the step in all zones of the group.
				for _, z := range g.zones {
					out[z.ID+"\x00"+s.Key()] = uid
				}
			}
		}
	}
	return out
}

// year is the year of production of a step from the second on; "" before.
func year(s season.Step) string {
	if s.Year == 0 {
		return ""
	}
	return strconv.Itoa(s.Year)
}

// WriteMaterials writes materials.csv: a row for each zone and material. A missing rate is an empty cell, never zero.
func WriteMaterials(w io.Writer, f *Farm) error {
	t := export.NewTable(w, "field_id", "field_name", "zone_id", "zone", "area_ac", "material", "unit", "rate_per_ac", "low_per_ac", "high_per_ac", "in_all", "when", "source", "note")
	for _, m := range f.materials() {
		z := m.zone
		t.Row(z.FieldID, z.FieldName, z.ID, strconv.Itoa(z.Number), figure(z.Area.Acres()), m.what, m.unit, optional(m.rate), optional(m.least), optional(m.most),
			optional(m.mass), m.when, m.source, m.note)
	}
	return t.Close()
}

// figure prints a number of a table. Four decimals are finer than anything here is known; rounding is left to those who print.
func figure(x float64) string { return export.Digits(x, 4) }

// optional prints a number that may be missing.
func optional(v unit.Opt[float64]) string {
	if x, ok := v.Get(); ok {
		return figure(x)
	}
	return ""
}

// day prints a date, or nothing for the zero time.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return season.Day(t)
}
