package seedplan

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/suitability"
)

// The sowing windows of the profile, which the seed plan is dated by.
func TestWindows(t *testing.T) {
	p := suitability.DefaultProfile()
	for _, c := range []struct{ id, region, first, last, source string }{
		{"win-GA-pied (read)", "piedmont", "09-15", "10-15", wood},
		{"win-GA-cp (read)", "coastal plain", "10-15", "11-15", wood},
		{"win-NC-cp (read)", "nc coastal plain", "09-01", "10-15", "NC Cooperative Extension, Harnett County, Interseeding alfalfa into bermudagrass (2018)"},
	} {
		found := false
		for _, w := range p.Windows {
			if w.Region == c.region {
				found = true
				day := func(d suitability.MonthDay) string { return fmt.Sprintf("%02d-%02d", d.Month, d.Day) }
				if day(w.First) != c.first || day(w.Last) != c.last {
					t.Errorf("%s: %s to %s, want %s to %s (%s)", c.id, day(w.First), day(w.Last), c.first, c.last, c.source)
				}
			}
		}
		if !found {
			t.Errorf("%s: the profile has no such region", c.id)
		}
	}
}

// kcrit-wood (read): the soil before seeding, pH. Its levels of phosphorus and potassium are tested with the nutrient tables.
func TestTargetBeforeSeeding(t *testing.T) {
	if got := suitability.DefaultProfile().DefaultTarget().PH; got != 6.5 {
		t.Errorf("kcrit-wood: target pH %v, want 6.5 (%s)", got, wood)
	}
}

// Every value on nutrients, establishment and safety of the reference sheet stands in a test, by its id.
func TestEveryCheckValueIsTested(t *testing.T) {
	text, err := os.ReadFile("../../../shared/reference/check-values.json")
	if os.IsNotExist(err) {
		t.Skip("the reference sheet is not laid beside the project")
	}
	var values []struct{ ID, Topic string }
	if err == nil {
		err = json.Unmarshal(text, &values)
	}
	if err != nil {
		t.Fatal(err)
	}
	var tests strings.Builder
	for _, folder := range []string{"..", "../../soils"} {
		err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, "_test.go") {
				return err
			}
			b, err := os.ReadFile(path)
			tests.Write(b)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	n := 0
	for _, v := range values {
		if topic := v.Topic[:2]; topic != "5-" && topic != "6-" && topic != "8-" {
			continue
		}
		n++
		if !strings.Contains(tests.String(), v.ID) {
			t.Errorf("%s has no test", v.ID)
		}
	}
	if n < 60 {
		t.Errorf("only %d values seen", n)
	}
}
