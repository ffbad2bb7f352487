package words

import (
	"slices"
	"strings"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
)

// lists pairs every list of stable codes with its words. A code that is added to a list and not to the words fails
// here, as do words for a code that is gone.
func lists() map[string]struct {
	codes []string
	words []phrase
} {
	type list = struct {
		codes []string
		words []phrase
	}
	var criteria, statuses2 []string
	for _, c := range suitability.Codes() {
		criteria = append(criteria, string(c))
	}
	for _, s := range suitability.Statuses() {
		statuses2 = append(statuses2, string(s))
	}
	return map[string]list{
		"criteria":           {criteria, criterionNames()},
		"finding notes":      {suitability.FindingNotes(), findingNotes()},
		"statuses":           {statuses2, statuses()},
		"confidence reasons": {suitability.ConfidenceReasons(), confidenceReasons()},
		"confidence levels":  {[]string{suitability.High, suitability.Medium, suitability.Low}, confidenceLevels()},
		"why not rated":      {suitability.WhyNotRatedCodes(), whyNotRated()},
		"why no lime":        {suitability.LimeWhys(), append(limeWhys(), testedLimeWhys()...)},
		"lime notes":         {suitability.LimeNotes(), append(limeNotes(), testedLimeNotes()...)},
		"lime refusals":      {lime.Refusals(), limeRefusals()},
		"test ages":          {suitability.TestAges(), testAges()},
		"bounds":             {[]string{suitability.AtLeast, suitability.AtMost}, bounds()},
		"gypsum":             {gypsumCodes(), gypsumFindings()},
		"magnesium":          {[]string{string(lime.Dolomitic), string(lime.ByPrice), string(lime.MagnesiumOnly), string(lime.NoLime)}, magnesiumAdvice()},
		"no bag":             {sampling.Reasons(), noBags()},
		"correctable": {[]string{string(suitability.Yes), string(suitability.Partly), string(suitability.No), string(suitability.AsDeclaredOnly)},
			correctables()},
	}
}

// gypsumCodes are the codes of all findings on gypsum.
func gypsumCodes() (codes []string) {
	findings, _ := lime.GypsumQuestion(unit.Some(unit.PH(4.5)))
	for _, f := range findings {
		codes = append(codes, f.Code)
	}
	return codes
}

// Words are clauses that others put into sentences, so none may be empty or end in a full stop.
func TestEveryCodeHasWordsForEveryReader(t *testing.T) {
	for name, l := range lists() {
		var have []string
		for _, p := range l.words {
			have = append(have, p.code)
			if slices.Index(l.codes, p.code) < 0 {
				t.Errorf("%s: words for %q, which is no code any more", name, p.code)
			}
			for _, r := range Readers() {
				s, _ := find(l.words, p.code, r)
				if strings.TrimSpace(s) == "" || strings.HasSuffix(s, ".") {
					t.Errorf("%s: %q for reader %d is %q; want a clause without a full stop", name, p.code, r, s)
				}
			}
		}
		for _, c := range l.codes {
			if !slices.Contains(have, c) {
				t.Errorf("%s: %q has no words", name, c)
			}
		}
		if len(slices.Compact(slices.Sorted(slices.Values(have)))) != len(have) {
			t.Errorf("%s: a code has words twice", name)
		}
	}
}

// Every criterion has a clause of its own for landowners, and it shows value and limit where both are known.
func TestEveryCriterionHasAClause(t *testing.T) {
	seen := map[string]suitability.Code{}
	for _, c := range suitability.Codes() {
		bare := limitClause(c, nil)
		if bare == string(c) || bare == "" {
			t.Errorf("%s has no clause", c)
		}
		if other, twice := seen[bare]; twice {
			t.Errorf("%s and %s share the clause %q", c, other, bare)
		}
		seen[bare] = c
		f := &suitability.Finding{Criterion: c, Value: unit.Some(4.25), Limit: unit.Some(5.5), Class: suitability.Unsuited, Status: string(suitability.Proposal),
			Word: soils.PoorlyDrained.String(), LimitWord: soils.WellDrained.String()}
		if s := limitClause(c, f); len(s) <= len(bare) || !strings.Contains(s, "needs") || !strings.Contains(s, "proposal") {
			t.Errorf("%s: %q lacks what was found, what is needed or how well that is founded", c, s)
		}
	}
}

func TestAnUnknownCodeIsShownAsItIs(t *testing.T) {
	if got := FindingNote("brand new", Landowner); got != "brand new" {
		t.Errorf("got %q", got)
	}
}

func TestRetestNamesThePHOfTheProfile(t *testing.T) {
	p := &suitability.Profile{}
	p.Lime.SowFrom.Value = 6.35
	for _, r := range Readers() {
		if s := LimeNote(suitability.LimeRetest, r, p); !strings.Contains(s, "6.35") || strings.Contains(s, "{") {
			t.Errorf("with a profile: %q", s)
		}
		if s := LimeNote(suitability.LimeRetest, r, nil); !strings.Contains(s, "6.2") {
			t.Errorf("without: %q", s)
		}
	}
}
