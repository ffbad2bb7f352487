package words

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// Real surveys. Source: USDA-NRCS SSURGO and STATSGO2 exports, public domain.
func realSurveys(t *testing.T) map[string]*soils.Survey {
	t.Helper()
	out := map[string]*soils.Survey{}
	for _, name := range []string{"ssurgo-ar017", "ssurgo-az649-tabular", "ssurgo-mo181-tabular", "ssurgo-ia073-aoi", "ssurgo-tx347-tx401-tabular", "statsgo2-ut-tabular"} {
		folder := filepath.Join("../../../shared/data", name)
		if _, err := os.Stat(folder); err != nil {
			t.Skipf("the real survey %s is not beside the repository: %v", name, err)
		}
		var faults diag.List
		e, err := ssurgo.Open(context.Background(), name, os.DirFS(folder), &faults)
		if err != nil {
			t.Fatal(err)
		}
		if out[name], err = e.Survey(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// Whatever a real survey makes the rating say, there are words for it: every code that occurs is in a list, every
// sentence ends, every line fits.
func TestRealGroundIsPutIntoWords(t *testing.T) {
	p := suitability.DefaultProfile()
	known := map[string]bool{}
	for _, l := range lists() {
		for _, c := range l.codes {
			known[c] = true
		}
	}
	day := time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC)
	zones, limits := 0, map[suitability.Code]int{}
	for name, s := range realSurveys(t) {
		for i, u := range s.Units {
			if testing.Short() && i%20 != 0 {
				continue
			}
			z := suitability.Zone{ID: name + "/" + u.Key, FieldID: name, Area: unit.Acres(20), Pieces: 1, SurveyArea: u.Area, MapUnitKey: u.Key, Symbol: u.Symbol, MapUnit: u.Name}
			z.Rating = p.ForZone(p.RateUnit(u, suitability.RateOptions{}), z.Area, unit.Some(24000))
			z.Lime = limeplan.Plan(p, z.Rating, z.Area, limeplan.Options{Date: day, Window: &p.Windows[0], IncludeUnsuited: i%2 == 0})
			zones++
			limits[z.Rating.Limiting]++
			for _, c := range codesOf(&z) {
				if c != "" && !known[c] {
					t.Errorf("%s: %q is in no list of codes", z.ID, c)
				}
			}
			checkText(t, &z, p)
		}
	}
	if zones < 50 || len(limits) < 6 {
		t.Errorf("only %d map units with %d different limits: %v", zones, len(limits), limits)
	}
}

// codesOf gathers every stable code that a zone carries.
func codesOf(z *suitability.Zone) []string {
	r := &z.Rating
	out := []string{r.WhyNotRated, string(r.Limiting), string(r.LimitingToday), string(r.Correctable), string(r.CorrectableToday), r.Confidence.Level, z.Lime.Why, z.Lime.Bound}
	out = append(append(out, r.Confidence.Reasons...), z.Lime.Notes...)
	for _, c := range r.Components {
		out = append(out, c.WhyNotRated, c.Lime.Why, c.Lime.Bound)
		for _, f := range c.Findings {
			out = append(out, string(f.Criterion), f.Note, f.Status)
		}
	}
	return out
}

// checkText fails for what shows that a figure or a word was missing: a number that is none, an empty bracket, a doubled stop.
func checkText(t *testing.T, z *suitability.Zone, p *suitability.Profile) {
	t.Helper()
	var b bytes.Buffer
	if err := Explain(&b, z, p); err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(b.String(), "\n") {
		if utf8.RuneCountInString(l) > defaultWidth {
			t.Errorf("%s: over %d columns: %s", z.ID, defaultWidth, l)
		}
		if strings.Contains(l, "NaN") || strings.Contains(l, "%!") || strings.Contains(l, "{") {
			t.Errorf("%s: %s", z.ID, l)
		}
	}
	for _, r := range Readers() {
		for _, s := range []string{Reason(z, r), Lime(z, r, p)} {
			if !strings.HasSuffix(s, ".") || strings.Contains(s, "..") || strings.Contains(s, "()") || strings.Contains(s, ": .") || strings.Contains(s, "  ") {
				t.Errorf("%s, reader %d: %s", z.ID, r, s)
			}
		}
	}
}
