package season

import (
	"slices"
	"testing"
	"time"

	"rootworthy/suitability"
)

// Counted by hand for a zone that is sown in autumn 2026: 2027 is the first year of production, so the third is 2029. The dates of the
// round are those of the first year two years on; the soil is tested in every other year from the second (common practice, no source).
func TestRoundsByHand(t *testing.T) {
	in := input(t, 0)
	in.Years = 4
	p := Make(in)
	got := map[string]string{}
	for _, s := range p.Rounds {
		got[s.Key()] = Day(s.First) + " " + Day(s.Due)
	}
	for k, want := range map[string]string{
		"year-2-weevil":      "2028-02-01 2028-03-07",
		"year-3-count-stems": "2029-03-15 2029-03-31",
		"year-3-first-cut":   "2029-04-10 2029-04-25",
		"year-3-tissue":      "2029-05-01 2029-05-23",
		"year-3-potash-1":    "2029-04-10 2029-05-09",
		"year-3-potash-2":    "2029-06-05 2029-07-18",
		"year-3-armyworm":    "2029-06-01 2029-08-31",
		"year-2-soil-test":   "2028-09-15 2028-11-15",
		"year-4-soil-test":   "2030-09-15 2030-11-15",
	} {
		if got[k] != want {
			t.Errorf("%s: %s, want %s", k, got[k], want)
		}
	}
	if _, ok := got["year-3-soil-test"]; ok || got["year-5-weevil"] != "" {
		t.Errorf("steps that nobody asked for: %v", got)
	}
	if n := p.ProductionYear(time.Date(2029, 6, 1, 0, 0, 0, 0, time.UTC)); n != 3 || p.ProductionYear(in.Start) != 0 {
		t.Errorf("June 2029 lies in year %d of production", n)
	}
}

// More years add steps and change none: the calendar keeps its ids. Beyond the years that a stand is followed nothing is planned.
func TestMoreYearsOnlyAdd(t *testing.T) {
	in := input(t, 1)
	var before []Step
	for in.Years = range 10 {
		p := Make(in)
		if !slices.EqualFunc(p.Rounds[:len(before)], before, func(a, b Step) bool { return a.Key() == b.Key() && a.First.Equal(b.First) && a.Due.Equal(b.Due) }) {
			t.Fatalf("%d years changed what was planned", in.Years)
		}
		if in.Years > MostYears && len(p.Rounds) != len(before) {
			t.Fatalf("%d years plan beyond %d", in.Years, MostYears)
		}
		before = p.Rounds
	}
	if len(before) == 0 {
		t.Fatal("no rounds")
	}
}

// What was done in a later year is that year's alone.
func TestDoneInALaterYear(t *testing.T) {
	in := input(t, 0)
	in.Years = 3
	in.Done = []Done{{Code: Sow, Day: day(t, "2025-10-20")}, {Code: CountStems, Year: 2, Day: day(t, "2027-03-18")}}
	for _, s := range Make(in).Rounds {
		if s.Code == CountStems && s.Done != (s.Year == 2) {
			t.Errorf("year %d: done %v", s.Year, s.Done)
		}
	}
}

// Georgia parts potash in three on sandy ground (read), Tennessee in two before growth and after the first cutting (read); their days are common
// practice, no source. A word that no date belongs to leaves the usual halves.
func TestPotashByTheTable(t *testing.T) {
	for name, c := range map[string]struct {
		when []string
		want map[string]string
	}{
		"georgia, coastal plain": {[]string{InSpring, InSummer, InFall}, map[string]string{"potash-1": "2027-03-01 2027-03-31 -", "potash-2": "2027-06-15 2027-07-15 -", "potash-3": "2027-09-01 2027-09-30 -"}},
		"tennessee":              {[]string{BeforeGrowth, AfterFirst}, map[string]string{"potash-1": "2027-03-01 2027-03-31 -", "potash-2": "2027-04-10 2027-05-09 -"}},
		"nobody":                 {[]string{"once a year"}, map[string]string{"potash-1": "2027-04-10 2027-05-09 -", "potash-2": "2027-06-05 2027-07-18 -"}},
	} {
		in := input(t, 0)
		in.Potash = PotashPlan{When: c.when, Source: "a table", Status: suitability.Published}
		got := steps(Make(in))
		for k, w := range c.want {
			if got[k] != w {
				t.Errorf("%s, %s: %s, want %s", name, k, got[k], w)
			}
		}
		if _, ok := got["potash-4"]; ok || len(c.want) == 2 && got["potash-3"] != "" {
			t.Errorf("%s: %v", name, got)
		}
	}
}
