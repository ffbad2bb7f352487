package main

import (
	"slices"
	"testing"
	"time"

	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
)

// Passes of lime lie a year apart. Lime that is written down twice, or spread on two days of a month, is one of them; counted as two it
// would call ground ready that has had half of its lime. Source: common practice, no source.
func TestPassesOfLimeInTheRecord(t *testing.T) {
	zone := suitability.Zone{ID: "A/1", FieldID: "A", Lime: suitability.Lime{Passes: 2}}
	lime := func(day string) stand.Record {
		d, err := season.ParseDay(day)
		if err != nil {
			t.Fatal(err)
		}
		return stand.Record{Field: "A", Day: d, Kind: "lime"}
	}
	for name, c := range map[string]struct {
		days []string
		want []string // first day of each pass
	}{
		"written twice":          {[]string{"2026-04-02", "2026-04-02"}, []string{"2026-04-02"}},
		"two days of work":       {[]string{"2026-04-20", "2026-04-02"}, []string{"2026-04-02"}},
		"a year later":           {[]string{"2026-04-02", "2026-04-03", "2027-04-02"}, []string{"2026-04-02", "2027-04-02"}},
		"no more than was asked": {[]string{"2025-04-02", "2026-04-02", "2027-04-02"}, []string{"2025-04-02", "2026-04-02"}},
	} {
		var records []stand.Record
		for _, d := range c.days {
			records = append(records, lime(d))
		}
		var got []string
		for i, d := range doneOf(records, &zone) {
			if d.Code != season.Lime || d.Pass != i+1 {
				t.Errorf("%s: %+v", name, d)
			}
			got = append(got, d.Day.Format(time.DateOnly))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: passes on %v, want %v", name, got, c.want)
		}
	}
}

// Ground sown anew after years has a new stand: its plan counts from the later sowing and takes lime, tests and counts of its own. Seed of the
// next spring thickens the stand that is there. Days by hand.
func TestPlanOfGroundSownAnew(t *testing.T) {
	zone := suitability.Zone{ID: "A/1", FieldID: "A", Lime: suitability.Lime{Passes: 1}}
	at := func(day string, kind stand.Kind) stand.Record {
		d, err := season.ParseDay(day)
		if err != nil {
			t.Fatal(err)
		}
		return stand.Record{Field: "A", Day: d, Kind: kind}
	}
	first := []stand.Record{at("2018-03-01", "lime"), at("2019-10-20", stand.Sown), at("2022-03-18", stand.Stems)}
	again := append(slices.Clone(first), at("2025-01-10", "soil_ph"), at("2025-03-01", "lime"), at("2026-10-20", stand.Sown))
	for name, c := range map[string]struct {
		records    []stand.Record
		sown, lime string
	}{
		"one stand":       {first, "2019-10-20", "2018-03-01"},
		"sown anew":       {again, "2026-10-20", "2025-03-01"},
		"thickened after": {append(slices.Clone(again), at("2027-03-01", stand.Sown)), "2026-10-20", "2025-03-01"},
	} {
		for _, d := range doneOf(c.records, &zone) {
			day := d.Day.Format(time.DateOnly)
			if d.Code == season.Sow && day != c.sown || d.Code == season.Lime && day != c.lime || d.Code == season.CountStems && c.sown != "2019-10-20" {
				t.Errorf("%s: %+v", name, d)
			}
		}
	}
}

// doneOf is doneIn for a zone whose run does not say how much a pass asks.
func doneOf(records []stand.Record, z *suitability.Zone) []season.Done {
	own := stand.OfZone(records, z.FieldID, z.ID)
	return doneIn(own, limeplan.AskedOf(&suitability.Result{}, z).OnRecord(own))
}
