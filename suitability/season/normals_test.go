package season

import (
	"math"
	"strings"
	"testing"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

const normalsText = "\ufeffmeasure,date,value_f,probability_pct,source\n" +
	"First freeze,11-20,28,50,\"station normals, 1991-2020\"\n" +
	"first freeze,11-05,28,10,\n" +
	"first freeze,11-08,32,,\n" +
	"soil temperature,10-01,74,,\n" +
	"soil temperature,11-01,64,,\n"

// The usual killing freeze among several, and soil between two normals, on one, and far from any.
func TestReadNormals(t *testing.T) {
	var faults diag.List
	n, ok, err := ReadNormals("n.csv", strings.NewReader(normalsText), &faults)
	if err != nil || !ok || faults.Faults() != 0 {
		t.Fatal(ok, err, faults.String())
	}
	f, ok := n.FirstFreeze()
	if !ok || f.Day != (suitability.MonthDay{Month: 11, Day: 20}) || f.Source != "station normals, 1991-2020" {
		t.Errorf("usual freeze %+v", f)
	}
	// Between 74 °F on the 1st and 64 °F 31 days later: 74 - 10 × 14/31.
	soil, ok := n.SoilOn(time.Date(2027, 10, 15, 0, 0, 0, 0, time.UTC))
	if want := 74 - 10*14.0/31; !ok || math.Abs(soil.Fahrenheit()-want) > 1e-9 {
		t.Errorf("soil %v, want %v", soil.Fahrenheit(), want)
	}
	if _, ok := n.SoilOn(time.Date(2027, 5, 1, 0, 0, 0, 0, time.UTC)); ok {
		t.Error("a soil temperature half a year from any normal")
	}
	if got, ok := n.SoilOn(time.Date(2027, 11, 1, 0, 0, 0, 0, time.UTC)); !ok || math.Abs(got.Fahrenheit()-64) > 1e-9 {
		t.Errorf("on the day of a normal: %v", got)
	}
}

// Places of faults are marked in the input.
func TestNormalsFaults(t *testing.T) {
	for name, marked := range map[string]string{
		"no column":   "«measure,date\nfirst freeze,11-20\n",
		"day":         "measure,date,value_f\nfirst freeze,«02-30»,28\n",
		"leap day":    "measure,date,value_f\nsoil temperature,10-01,70\nsoil temperature,«02-29»,50\n",
		"last freeze": "measure,date,value_f\nfirst freeze,«03-20»,28\n",
		"temperature": "measure,date,value_f\nfirst freeze,11-20,«280»\n",
		"no number":   "measure,date,value_f\nfirst freeze,11-20,«NaN»\n",
		"chance":      "measure,date,value_f,probability_pct\nfirst freeze,11-20,28,«500»\n",
		"measure":     "measure,date,value_f\n«last snow»,11-20,28\n",
		"empty":       "«",
	} {
		line := 1 + strings.Count(marked[:strings.Index(marked, "«")], "\n")
		var faults diag.List
		_, _, err := ReadNormals("n.csv", strings.NewReader(strings.NewReplacer("«", "", "»", "").Replace(marked)), &faults)
		if kept := faults.Kept(); err != nil || len(kept) == 0 || !hasLine(kept, line) {
			t.Errorf("%s: %v, %v, want a fault in line %d", name, err, kept, line)
		}
	}
}

// hasLine says whether some fault is of that line and says what to do.
func hasLine(faults []diag.Fault, line int) bool {
	for _, f := range faults {
		if f.Line == line && f.Fix != "" {
			return true
		}
	}
	return false
}

// Whatever is read can be planned with.
func FuzzReadNormals(f *testing.F) {
	f.Add(normalsText)
	f.Add("measure,date,value_f\n\"first freeze,11-20,28\n")
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		n, ok, err := ReadNormals("n.csv", strings.NewReader(text), &faults)
		if err != nil || ok != (n != nil) || !ok && faults.Faults() == 0 {
			t.Fatalf("ok %v, %v, %s", ok, err, faults.String())
		}
		in := input(t, 1)
		in.Normals = n
		for _, s := range Make(in).Steps {
			if s.Dated() && s.Due.Before(s.First) {
				t.Fatalf("%s ends before it begins", s.Key())
			}
		}
	})
}

// First cuttings are made in spring; a slip of the keys would put the cuttings of a year behind its last one.
func TestFirstCutIsInSpring(t *testing.T) {
	for day, ok := range map[string]bool{"04-15": true, "02-01": true, "07-31": true, "01-31": false, "08-01": false, "12-31": false, "02-29": false, "": false} {
		if _, err := ParseFirstCut(day); (err == nil) != ok {
			t.Errorf("ParseFirstCut(%q): %v", day, err)
		}
	}
}
