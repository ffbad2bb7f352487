package suitability_test

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

const shared = "../../shared"

// realSurvey reads a real survey beside the repository. Source: USDA-NRCS SSURGO exports, public domain.
func realSurvey(t testing.TB, name string) *soils.Survey {
	t.Helper()
	folder := filepath.Join(shared, "data", name)
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("the real survey %s is not beside the repository: %v", name, err)
	}
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), name, os.DirFS(folder), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// 344 map units of six real surveys, rated by a separately written reading of the same rules.
func TestRatingsAgreeWithASeparateReading(t *testing.T) {
	f, err := os.Open(filepath.Join(shared, "reference", "rating-check-values.csv"))
	if err != nil {
		t.Skipf("the check values are not beside the repository: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	p := suitability.DefaultProfile()
	ratings := map[string]suitability.UnitRating{}
	units := map[string]soils.MapUnit{}
	surveys := map[string]bool{}
	for _, row := range rows[1:] {
		if name := row[0]; !surveys[name] {
			surveys[name] = true
			for _, u := range realSurvey(t, name).Units {
				ratings[name+u.Key] = p.RateUnit(u, suitability.RateOptions{})
				units[name+u.Key] = u
			}
		}
	}
	wrong := 0
	for _, row := range rows[1:] {
		r, ok := ratings[row[0]+row[1]]
		if !ok {
			t.Errorf("%s has no map unit %s", row[0], row[1])
			continue
		}
		got := []string{r.Class.String(), string(r.Limiting), score(r.Score.Get()), r.ClassToday.String(), string(r.LimitingToday),
			score(r.ScoreToday.Get()), score(r.Shares.Suited, true), score(r.Shares.Marginal, true), score(r.Shares.Unsuited, true),
			score(r.Shares.Rated, true)}
		for i, g := range got {
			if want := row[3+i]; !close2(g, want) {
				wrong++
				t.Errorf("%s %s (%s) %s: got %q, want %q", row[0], row[1], row[2], rows[0][3+i], g, want)
			}
		}
	}
	t.Logf("%d map units, %d differences", len(rows)-1, wrong)
}

// score is empty where there is none, as the table of check values has it.
func score(v float64, ok bool) string {
	if !ok {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// close2 compares two texts; numbers may differ by half the last printed digit of the file.
func close2(got, want string) bool {
	g, errG := strconv.ParseFloat(got, 64)
	w, errW := strconv.ParseFloat(want, 64)
	if errG != nil || errW != nil {
		return got == want
	}
	return math.Abs(g-w) <= 0.0051
}

// On every map unit of the real surveys: order and keys change nothing, the rating is read back from JSON as it was,
// and shares stay within the whole.
func TestRealUnitsHoldTogether(t *testing.T) {
	p := suitability.DefaultProfile()
	for _, name := range []string{"ssurgo-ar017", "ssurgo-mo181-tabular", "ssurgo-az649-tabular", "ssurgo-tx347-tx401-tabular",
		"ssurgo-ia073-aoi", "ssurgo-ia015-aoi", "statsgo2-ut-tabular", "ssurgo-pa061-oldformat"} {
		for _, u := range realSurvey(t, name).Units {
			want := p.RateUnit(u, suitability.RateOptions{Drained: true})
			u.Components = slices.Clone(u.Components)
			slices.Reverse(u.Components)
			if got := p.RateUnit(u, suitability.RateOptions{Drained: true}); !reflect.DeepEqual(got, want) {
				t.Errorf("%s %s: another rating with the components reversed", name, u.Key)
			}
			b, err := json.Marshal(want)
			var back suitability.UnitRating
			if err != nil || json.Unmarshal(b, &back) != nil || !reflect.DeepEqual(back, want) {
				t.Errorf("%s %s: %v, read back otherwise", name, u.Key, err)
			}
			if s := want.Shares; s.Rated > 100 || min(s.Suited, s.Marginal, s.Unsuited) < 0 {
				t.Errorf("%s %s: shares %+v", name, u.Key, s)
			}
		}
	}
}

// The plain way to see a hinge: put the low, then the high, in the place of every pH and rate the unit again. Whenever
// the class moves, the rating names a hinge; where no horizon has a range it names none.
func TestHingesAgainstRatingAgain(t *testing.T) {
	p := suitability.DefaultProfile()
	low := func(r soils.Range[unit.PH]) unit.Opt[unit.PH] { return r.Low }
	high := func(r soils.Range[unit.PH]) unit.Opt[unit.PH] { return r.High }
	hinged := 0
	for _, name := range []string{"ssurgo-mo181-tabular", "ssurgo-tx347-tx401-tabular"} {
		for _, u := range realSurvey(t, name).Units {
			r := p.RateUnit(u, suitability.RateOptions{})
			if r.Class == suitability.NotRated {
				continue
			}
			for _, end := range []func(soils.Range[unit.PH]) unit.Opt[unit.PH]{low, high} {
				if moved := p.RateUnit(atEnd(u, end), suitability.RateOptions{}); moved.Class != r.Class {
					hinged++
					if len(r.HingesOn) == 0 {
						t.Errorf("%s %s: %v becomes %v, and nothing is said of a hinge", name, u.Key, r.Class, moved.Class)
					}
				}
			}
			if same := p.RateUnit(atEnd(u, nil), suitability.RateOptions{}); len(same.HingesOn) > 0 || same.Class != r.Class {
				t.Errorf("%s %s: without ranges it hinges on %v", name, u.Key, same.HingesOn)
			}
		}
	}
	if hinged < 50 {
		t.Errorf("only %d classes moved: the test no longer tests", hinged)
	}
}

// atEnd returns the unit with an end of each pH range in the place of the value, where both are recorded, and no ranges.
func atEnd(u soils.MapUnit, end func(soils.Range[unit.PH]) unit.Opt[unit.PH]) soils.MapUnit {
	u.Components = slices.Clone(u.Components)
	for i := range u.Components {
		c := &u.Components[i]
		c.Horizons = slices.Clone(c.Horizons)
		for j := range c.Horizons {
			ph := &c.Horizons[j].PH
			if end != nil && ph.Value.Has() && end(*ph).Has() {
				ph.Value = end(*ph)
			}
			*ph = soils.Range[unit.PH]{Value: ph.Value}
		}
	}
	return u
}
