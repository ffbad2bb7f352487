package lab

import (
	"os"
	"strings"
	"testing"
	"time"

	"rootworthy/internal/diag"
)

// testdata/results.xlsx was written by openpyxl 3.0.9, a spreadsheet library of another language: shared strings, dates
// with a US format, percentages stored as shares, a formula without its value, a hidden sheet.
func TestSpreadsheetOfAnotherLibrary(t *testing.T) {
	f, err := os.Open("testdata/results.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	r, err := Read("results.xlsx", f, st.Size(), nil, &faults)
	if err != nil {
		t.Fatal(err)
	}
	if n := faults.Faults(); n != 1 || !strings.Contains(faults.String(), "formula without its value") {
		t.Errorf("%d faults, want the formula of the mean: %s", n, &faults)
	}
	if got, want := asPlainAll(t, r.Samples), strings.Join([]string{
		"sample_id,lab_number,top_cm,bottom_cm,date,ph_water,buffer_ph_mehlich,om_pct,p_m3_ppm,k_m3_ppm,lab_lime_crop,lab_lime_st_ac,lab_lime_text",
		"North 1,101,0,15.24,2026-03-14,5.4,6.2,2.1,38,91,,1.5,",
		"North 2,102,0,15.24,2026-03-14,6.18,,3.4,<5,120,,0,",
		"North 2,103,15.24,30.48,2026-03-14,5.05,5.9,1,ND,1e-05,,2.25,", "",
	}, "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if notes := strings.Join(r.Understood.Notes, "; "); notes != `sheet "Results": header in line 4; sheet "Results": units in line 5; sheet "Notes" is left out: no header of soil test results; sheet "Old" is left out: hidden` {
		t.Errorf("notes: %s", notes)
	}
	if s := r.Samples[2]; s.Sheet != "Results" || s.Line != 8 || s.Taken.Or(time.Time{}).Hour() != 0 {
		t.Errorf("third sample: %+v", s)
	}
}

// asPlainAll compares samples by what they hold, whatever file they came from.
func asPlainAll(t *testing.T, samples []Sample) string {
	t.Helper()
	var b strings.Builder
	if err := WritePlain(&b, samples); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
