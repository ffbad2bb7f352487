package grower

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
)

// years tells what comes after the first year: the round of each year, what counts and tissue tests say, and from how many insects to act.
func (b *book) years() {
	if !slices.ContainsFunc(b.f.Zones, func(z Zone) bool { return z.Why == "" }) {
		return
	}
	b.add(report.Heading{Level: 2, Text: "Year after year", ID: "years"},
		report.Para{Text: fmt.Sprintf("On right ground a stand lasts 5 to 7 years, on wrong ground 2 or 3 (common practice, no source). Each year asks for the same. Write down what you count and do, and give it with --record: the plan then says what it means, for %s.",
			words.Count(stand.Years, "year", "years"))})
	b.roundTable()
	b.eachYear()
	b.countTable()
	b.tissueTable()
	b.insects()
}

// roundTable lists the steps of a year of production, by the month and day of each: days that differ between zones stand side by side.
func (b *book) roundTable() {
	var order []season.Step
	days := map[string][]string{}
	most := 0
	for _, z := range b.f.Zones {
		for _, s := range z.Plan.Rounds {
			most = max(most, s.Year)
			key := keyOfRound(s)
			if len(days[key]) == 0 {
				order = append(order, s)
			}
			// Zones that were sown in different years have the same round; zones with other days are told beside them.
			if d := monthDays(s); !slices.Contains(days[key], d) {
				days[key] = append(days[key], d)
			}
		}
	}
	if len(order) == 0 {
		return
	}
	slices.SortStableFunc(order, func(x, y season.Step) int { return inOneYear(x).Compare(inOneYear(y)) })
	t := report.Table{Caption: "The round of each year", Columns: []report.Column{{Head: "What", Share: 0.26}, {Head: "When", Share: 0.32}, {Head: "What the days rest on", Share: 0.42}},
		Note: fmt.Sprintf("Dated in plan.ics and plan.csv through year %d of production; --years changes how many. Year 1 is the first with a full harvest.", most)}
	for _, s := range order {
		key := keyOfRound(s)
		var rests []string
		for _, r := range s.Rules {
			if w := words.Founding(r.Source, r.Status); !slices.Contains(rests, w) {
				rests = append(rests, w)
			}
		}
		// A step that waits for something has no day, and so nothing that its day could rest on.
		if s.Needs != "" {
			rests = []string{"–"}
		}
		t.Links = append(t.Links, "step-"+string(s.Code))
		s.Year = 0
		t.Rows = append(t.Rows, []string{words.StepName(s), strings.Join(days[key], "; "), strings.Join(rests, "; ")})
	}
	b.add(t)
}

// eachYear lists what the table of rates asks of a stand each year, beside what its soil tests ask.
func (b *book) eachYear() {
	t := b.f.Table
	if t == nil {
		return
	}
	var items []string
	for _, f := range t.Fixed {
		// What is spread once, at sowing, stands in the plan of the fields.
		if f.Stage != nutrient.Maintain {
			continue
		}
		s := fmt.Sprintf("%s: %s lb an acre each year", measured(f.Nutrient), words.Decimal(f.Amount.PoundsPerAcre(), 1))
		// A fixed amount may hold under a figure of the test, for a class of it, or only without lime; with none of these it holds for all
		// ground.
		if limit, ok := f.Below.Get(); ok {
			s += ", where the soil test is under " + words.Decimal(limit.PoundsPerAcre(), 1) + " lb an acre"
		}
		if f.Class != "" {
			s += ", where the soil test is " + f.Class
		}
		if f.WithoutLime {
			s += " and no lime is spread"
		}
		if f.Nutrient == nutrient.Boron {
			s += "; broadcast, never with seed"
		}
		items = append(items, s+".")
	}
	for _, x := range t.Extra {
		if x.Stage == nutrient.Maintain {
			var when []string
			for _, p := range x.Parts {
				when = append(when, p.When)
			}
			items = append(items, fmt.Sprintf("%s: %s lb an acre more than the test asks, %s, in equal parts %s.", sold(x.Nutrient), words.Decimal(x.Amount.PoundsPerAcre(), 0), x.For, words.Listed(when)))
		}
	}
	if m, ok := t.Spray.Get(); ok {
		items = append(items, fmt.Sprintf("Molybdenum: %s oz an acre (%s oz of sodium molybdate) in %s gallons of water, every %s, in %s. Too much poisons cattle (from memory, not checked).",
			words.Decimal(m.Mo.PoundsPerAcre()*16, 1), words.Decimal(m.Molybdate.PoundsPerAcre()*16, 1), words.Decimal(float64(m.Water/unit.GallonPerAcre), 0), words.Count(m.EveryYears, "year", "years"), m.When))
	}
	if len(items) > 0 {
		b.add(report.Para{Text: "By the table of rates, beside what the soil tests ask (" + sourceOf(t.Source, t.Seen) + "):"}, report.Bullets{Items: items})
	}
}

// keyOfRound is the key of a step whatever its year.
func keyOfRound(s season.Step) string {
	s.Year = 0
	return s.Key()
}

// inOneYear is a day to put steps in order by; undated ones come last.
// The year is the same for all, so that only month and day count.
func inOneYear(s season.Step) time.Time {
	if !s.Dated() {
		return time.Date(1, 12, 31, 0, 0, 0, 0, time.UTC)
	}
	return time.Date(1, s.First.Month(), s.First.Day(), 0, 0, 0, 0, time.UTC)
}

// monthDays prints the days of a step without their year: "February 1 to March 7, every 7 days".
func monthDays(s season.Step) string {
	if !s.Dated() {
		return words.StepNeeds(s.Needs, words.Landowner)
	}
	out := s.First.Format("January 2")
	if !s.Due.Equal(s.First) {
		out += " to " + s.Due.Format("January 2")
	}
	if s.Every > 0 {
		out += ", every " + words.Count(s.Every, "day", "days")
	}
	if s.Code == season.SoilTest {
		out += ", every other year"
	}
	return out
}

// countTable says from which counts a stand is kept and at which it is given up.
func (b *book) countTable() {
	t := report.Table{Caption: "What a count says", Columns: []report.Column{{Head: "Counted in a square foot", Share: 0.24}, {Head: "Keep", Share: 0.12}, {Head: "Between", Share: 0.12}, {Head: "Too thin", Share: 0.12}, {Head: "Source", Share: 0.4}},
		Note: "Too thin means: sow more alfalfa into it within a year of sowing, after that give it up as alfalfa (common practice, no source). The limits are of pure stands farther north; in sod the grass fills what the alfalfa leaves."}
	row := func(what string, d stand.Decision, over bool) {
		keep, give := words.Decimal(d.KeepFrom.PerSquareFoot(), 0), words.Decimal(d.GiveUpTo.PerSquareFoot(), 0)
		least, between, most := keep+" or more", give+" to under "+keep, "under "+give
		if over { // the limit itself is on the side of the thinner stand
			least, between, most = "over "+keep, "over "+give+" to "+keep, give+" or less"
		}
		if d.KeepFrom <= d.GiveUpTo {
			between = "–"
		}
		t.Rows = append(t.Rows, []string{what, least, between, most, words.Founding(d.Source, d.Status)})
	}
	// The decisions are asked as for a real stand, so that the table cannot say other limits than the plan goes by. Counts of 0 only serve to
	// get at the limits.
	sown := time.Date(2001, 10, 15, 0, 0, 0, 0, time.UTC) // any autumn
	// The stems are asked in a spring long after the sowing, the plants in each year that has limits of its own.
	row("Stems, at 4 to 6 in (10 to 15 cm) tall", stand.ByStems(0, sown, sown.AddDate(2, 6, 0)), false)
	for year, name := range []string{"Plants, in the year of sowing", "Plants, first year of production", "Plants, second year", "Plants, third year and later"} {
		row(name, stand.ByPlants(0, sown, sown.AddDate(year, -5*min(year, 1), 0)), true)
	}
	b.add(t)
}

// tissueTable gives the ranges that a tissue test is held against.
func (b *book) tissueTable() {
	t := report.Table{Caption: "What a test of the plants says", Columns: []report.Column{{Head: "Nutrient", Share: 0.12}, {Head: "Low under", Share: 0.12, Number: true}, {Head: "High over", Share: 0.12, Number: true}, {Head: "Which part", Share: 0.26}, {Head: "Source", Share: 0.38}},
		Note: "Percent of dry matter. Sources differ, so each stands by itself."}
	for _, r := range nutrient.TissueRanges("") {
		high := "–"
		if v, ok := r.High.Get(); ok {
			high = words.Decimal(float64(v), 2)
		}
		t.Rows = append(t.Rows, []string{strings.ToUpper(r.Element[:1]) + r.Element[1:], words.Decimal(float64(r.Low), 2), high, r.Part + ", " + r.Stage, sourceOf(r.Source, r.Seen)})
	}
	b.add(t)
}

// insects lists the thresholds that no step of the calendar tells.
func (b *book) insects() {
	// Insects that a step of the calendar looks for have their thresholds there.
	told := map[stand.Kind]bool{}
	for _, c := range season.Codes() {
		for _, t := range c.Thresholds() {
			told[t.Kind] = true
		}
	}
	var items []string
	for _, t := range stand.Thresholds() {
		if !told[t.Kind] {
			s := words.InsectThreshold(t)
			if tall := ofHeight(t); tall != "" {
				s = tall + ": " + s
			}
			items = append(items, s)
		}
	}
	b.add(report.Para{Text: "Other insects to look for when you walk the stand:"}, report.Bullets{Items: items})
}

// ofHeight says for how tall a crop a threshold holds.
func ofHeight(t stand.Threshold) string {
	from, low := t.Taller.Get()
	to, high := t.UpTo.Get()
	inches := func(l unit.Length) string { return words.Decimal(l.Inches(), 0) }
	switch {
	// A lower end of zero is none: every crop is taller.
	case high && (!low || from == 0):
		return "Crop up to " + inches(to) + " in tall"
	case low && high:
		return "Crop " + inches(from) + " to " + inches(to) + " in tall"
	case low:
		return "Crop over " + inches(from) + " in tall"
	}
	return ""
}
