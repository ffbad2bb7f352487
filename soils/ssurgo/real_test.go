package ssurgo_test

import (
	"context"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// Real surveys stand beside the repository, not in it. Source: USDA-NRCS SSURGO and STATSGO2 exports, public domain.
const realData = "../../../shared/data"

// realFolder returns the folder of a real survey, or skips the test.
func realFolder(t testing.TB, name string) string {
	t.Helper()
	folder := filepath.Join(realData, name)
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("the real survey %s is not beside the repository: %v", name, err)
	}
	return folder
}

// readSurvey reads a survey from a folder and fails on any error or fault, notices excepted.
func readSurvey(t testing.TB, folder string) *soils.Survey {
	t.Helper()
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), filepath.Base(folder), os.DirFS(folder), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if faults.Faults() > 0 {
		t.Errorf("faults in a real survey:\n%s", &faults)
	}
	return s
}

// unitByKey returns a map unit, or fails.
func unitByKey(t testing.TB, s *soils.Survey, key string) *soils.MapUnit {
	t.Helper()
	for i := range s.Units {
		if s.Units[i].Key == key {
			return &s.Units[i]
		}
	}
	t.Fatalf("no map unit %s", key)
	return nil
}

// muaggatt reads the agency's own aggregates, which are never an input of the program: key → column → text.
// Positions are those of mstabcol in SSURGO 2.3.3.
func muaggatt(t testing.TB, folder string) map[string]map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(folder, "tabular", "muaggatt.txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	columns := map[string]int{"slopegraddcp": 4, "slopegradwta": 5, "brockdepmin": 6, "wtdepannmin": 7, "wtdepaprjunmin": 8,
		"flodfreqdcd": 9, "flodfreqmax": 10, "pondfreqprs": 11, "aws025wta": 12, "aws050wta": 13, "aws0100wta": 14,
		"aws0150wta": 15, "drclassdcd": 16, "drclasswettest": 17, "hydgrpdcd": 18, "iccdcd": 19, "iccdcdpct": 20,
		"niccdcd": 21, "niccdcdpct": 22, "hydclprs": 38}
	out := map[string]map[string]string{}
	in := csv.NewReader(f)
	in.Comma = '|'
	for {
		row, err := in.Read()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		if row[0] == "musym" { // the header row of a third party's copy
			continue
		}
		values := map[string]string{}
		for name, at := range columns {
			values[name] = strings.TrimSpace(row[at-1])
		}
		out[row[39]] = values
	}
}

// Source: tables corestrictions and component of the export of AR017, read by eye: the fragipan of component 21851322, Grenada, lies at
// 43 to 63 cm, usually 53, on slopes of 0 to 3 percent.
func TestRangesOfARealSurvey(t *testing.T) {
	s := readSurvey(t, realFolder(t, "ssurgo-ar017"))
	seen := 0
	for _, u := range s.Units {
		for _, c := range u.Components {
			if c.Key != "21851322" {
				continue
			}
			seen++
			if r := c.Restrictions[0]; r.TopLow.Or(0) != 43 || r.Top.Or(0) != 53 || r.TopHigh.Or(0) != 63 {
				t.Errorf("fragipan at %v to %v, usually %v cm", r.TopLow, r.TopHigh, r.Top)
			}
			if c.Slope.Low.Or(-1) != 0 || c.Slope.High.Or(0) != 3 {
				t.Errorf("slope %v to %v", c.Slope.Low, c.Slope.High)
			}
		}
	}
	if seen != 1 {
		t.Errorf("component seen %d times", seen)
	}
}
