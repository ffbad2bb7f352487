package lab

import (
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// A report given twice counts once; what differs in one figure, or has no name, is another bag.
func TestJoinCountsASampleOnce(t *testing.T) {
	const text = "sample_id,field_id,date,ph_water,p_m3_ppm\nA,F1,2026-03-01,5.4,20\nB,F1,2026-03-01,5.5,20\n,F2,2026-03-01,5.5,20\n"
	first, _ := readString(t, text, nil)
	for name, c := range map[string]struct {
		more       string
		want, told int
	}{
		"the same file":     {text, 4, 2},
		"in another order":  {"p_m3_ppm,ph_water,date,field_id,sample_id\n20,5.4,2026-03-01,F1,A\n", 3, 1},
		"another figure":    {strings.Replace(text, "5.4,20", "5.4,21", 1), 5, 1},
		"another field":     {strings.ReplaceAll(text, "F1", "F3"), 6, 0},
		"twice in one file": {"sample_id,ph_water\nC,6\nC,6\nC,6.1\n", 5, 1},
	} {
		more, _ := readString(t, c.more, nil)
		for i := range more.Samples {
			more.Samples[i].File = "again.csv"
		}
		var faults diag.List
		all := Join(Join(nil, first.Samples, &faults), more.Samples, &faults)
		told := 0
		for _, f := range faults.Kept() {
			if f.Severity != diag.Notice || f.Kind != "sample twice" || f.File != "again.csv" || f.Line == 0 || strings.Contains(f.What, "tests.csv") {
				t.Errorf("%s: %v", name, f)
			}
			told++
		}
		if len(all) != c.want || told != c.told {
			t.Errorf("%s: %d samples, %d told, want %d and %d", name, len(all), told, c.want, c.told)
		}
	}
}
