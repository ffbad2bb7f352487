package limeplan_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// The likely figure of 203 real map units, unsuited ones included, against a separately written program that reads the
// tables of the surveys itself (testdata/second-reading.csv; short tons an acre at 100 % CCE to pH 6.5, four
// decimals, empty where there is no figure).
func TestFiguresAgreeWithASecondReading(t *testing.T) {
	f, err := os.Open("testdata/second-reading.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	p := suitability.DefaultProfile()
	units := map[string]map[string]soils.MapUnit{}
	for _, row := range rows[1:] {
		name, key, want := row[0], row[1], row[2]
		if units[name] == nil {
			units[name] = realUnits(t, name)
		}
		r := p.RateUnit(units[name][key], suitability.RateOptions{})
		if r.Class == suitability.NotRated {
			r.Class = suitability.Unsuited // the figure, whatever the class
		}
		got := ""
		if v, ok := limeplan.Plan(p, r, 1, limeplan.Options{IncludeUnsuited: true}).Likely.Get(); ok {
			got = strconv.FormatFloat(v.ShortTonsPerAcre(), 'f', 4, 64)
		}
		if got != want {
			t.Errorf("%s %s: %q, want %q", name, key, got, want)
		}
	}
	if len(rows) != 204 {
		t.Errorf("%d rows", len(rows))
	}
}

// realUnits reads a real survey beside the repository. Source: USDA-NRCS SSURGO exports, public domain.
func realUnits(t *testing.T, name string) map[string]soils.MapUnit {
	t.Helper()
	folder := filepath.Join("../../../shared/data", name)
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("the real survey %s is not beside the repository: %v", name, err)
	}
	e, err := ssurgo.Open(context.Background(), name, os.DirFS(folder), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	units := map[string]soils.MapUnit{}
	for _, u := range s.Units {
		units[u.Key] = u
	}
	return units
}
