package words

import (
	"strings"
	"testing"

	"rootworthy/suitability"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
)

// stepLists pairs the codes of the calendar with their words, as lists does for those of rating and lime. Units are met again at several
// thresholds for insects, so each is taken once.
func stepLists() map[string]struct {
	codes []string
	words []phrase
} {
	type list = struct {
		codes []string
		words []phrase
	}
	var steps, units []string
	for _, c := range season.Codes() {
		steps = append(steps, string(c))
	}
	seen := map[string]bool{}
	for _, t := range stand.Thresholds() {
		if t.Unit != "" && !seen[t.Unit] {
			seen[t.Unit] = true
			units = append(units, t.Unit)
		}
	}
	return map[string]list{"step names": {steps, stepNames()}, "step texts": {steps, stepTexts()}, "step needs": {season.Needs(), stepNeeds()},
		"season notes": {season.Notes(), seasonNotes()}, "season rules": {season.RuleNames(), seasonRules()}, "insect units": {units, insectUnits()}}
}

// A step, note or rule that the plan learns and the words do not would stand in the landowner's calendar as a bare code.
func TestEveryStepHasWords(t *testing.T) {
	for name, l := range stepLists() {
		checkWords(t, name, l.codes, l.words)
	}
}

// Steps are told to landowners, so their words are as easy as all others.
func TestStepsReadEasily(t *testing.T) {
	for name, l := range stepLists() {
		var all []string
		for _, p := range l.words {
			s := Sentence(p.landowner)
			all = append(all, s)
			if g := gradeOf(s); g > hardestLine && name == "step texts" {
				t.Errorf("%s: grade %.1f: %s", name, g, s)
			}
		}
		if g := gradeOf(strings.Join(all, " ")); g > highestGrade+1 && name != "step names" {
			t.Errorf("%s read at grade %.1f", name, g)
		}
	}
}

// What has no source says so.
func TestFounding(t *testing.T) {
	for want, r := range map[string]season.Rule{
		"3 weeks for the soil test (common practice, no source)":        season.RuleByName(season.LabDays),
		"7 days before the second cutting (common practice, no source)": season.RuleByName(season.TissueBefore),
		"sowing window of the region (UGA)":                             {Name: season.SowWindow, Source: "UGA", Status: suitability.Published},
		"12 months for the last lime to work (our proposal)":            {Name: season.AfterLime, Value: 12, Unit: "months", Status: suitability.Proposal},
		"planning days of a first cutting (from memory, not checked)":   {Name: season.FirstCutSpan, Status: suitability.Memory},
		"your own day (the day you gave)":                               {Name: season.UsersDay, Source: "the day you gave", Status: suitability.Practice},
		"1 month for the last lime to work (no source)":                 {Name: season.AfterLime, Value: 1, Unit: "months"},
	} {
		if got := SeasonRule(r); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for _, th := range stand.Thresholds() {
		if s := InsectThreshold(th); !strings.Contains(s, "Source: ") || strings.Contains(s, "  ") {
			t.Errorf("%q", s)
		}
	}
}
