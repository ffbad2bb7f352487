package nutrientplan

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/soiltest"
)

const report = `sample_id,nutrient,class,rate,unit
7,k,low,240,lb_ac
7,p,high,0,lb_ac
8,k,low,,
L9,b,,1.5,kg_ha
`

// readReport reads a text; only what is wrong with it is of interest.
func readReport(t *testing.T, text string) (*Report, *diag.List) {
	t.Helper()
	var faults diag.List
	r, err := ReadReport("report.csv", strings.NewReader(text), &faults)
	if err != nil {
		t.Fatal(err)
	}
	return r, &faults
}

// The report's class goes to the table, its rate before the table; a sample may be known by the laboratory's own number.
func TestReportGoesWithItsSample(t *testing.T) {
	r, faults := readReport(t, report)
	if faults.Faults() != 0 {
		t.Fatal(faults)
	}
	z := Zone{ID: "a/1", Area: unit.Acre, Class: suitability.Suited}
	taken := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	z.Hear([]soiltest.Voice{{Sample: &lab.Sample{ID: "7", Taken: unit.Some(taken)}, Basis: lab.ByZone}, {Sample: &lab.Sample{ID: "8"}, Basis: lab.ByField},
		{Sample: &lab.Sample{LabNumber: "L9"}, Basis: lab.ByZone}}, r, taken.AddDate(5, 0, 0))
	if !z.Old || !z.Wide || len(z.Tests) != 3 {
		t.Fatalf("%+v", z)
	}
	p := Make([]Zone{z}, Options{Table: table(t, "south-carolina")})
	k := p.Zones[0].Rates[0]
	// 240 of the report and 300 of the table for the class; the third has nothing and is left out of the mean.
	if math.Abs(k.Rate.Or(0).PoundsPerAcre()-270) > 1e-9 || !slices.Contains(k.Notes, LaboratoryFirst) || !slices.Contains(k.Notes, PartRefused) {
		t.Errorf("%+v", k)
	}
	for _, want := range []string{OldTest, WideTest, LaboratoryFirst, PartRefused} {
		if !slices.Contains(p.Zones[0].Notes, want) {
			t.Errorf("%q is missing from %q", want, p.Zones[0].Notes)
		}
	}
	if got := (*Report)(nil).Of(&lab.Sample{ID: "7"}); len(got.Printed)+len(got.Advised) != 0 {
		t.Errorf("no report says %+v", got)
	}
}

// One fault a case, its place marked with « »; the line it stands in is left out.
func TestReportFaults(t *testing.T) {
	const head = "sample_id,nutrient,class,rate,unit\n"
	for name, c := range map[string]struct{ marked, field, kind string }{
		"empty":                          {"«", "", "no header"},
		"other header":                   {"«a,b\n", "", "no header"},
		"no sample":                      {head + "«,k,low,,\n", "sample_id", "no sample"},
		"unknown nutrient":               {head + "7,«ca»,low,,\n", "nutrient", "unknown nutrient"},
		"no unit":                        {head + "7,k,low,«240»,\n", "unit", "unknown unit"},
		"negative":                       {head + "7,k,low,«-1»,lb_ac\n", "rate", "out of range"},
		"no number":                      {head + "7,k,low,«NaN»,lb_ac\n", "rate", "out of range"},
		"product of boron":               {head + "7,b,,«20»,lb_ac\n", "rate", "too much boron"},
		"ounces of molybdenum as pounds": {head + "7,mo,,«3»,lb_ac\n", "rate", "too much molybdenum"},
		"quote":                          {head + "7,k,«x\"y\",,\n", "", "not CSV"},
	} {
		line := 1 + strings.Count(c.marked[:strings.Index(c.marked, "«")], "\n")
		r, faults := readReport(t, strings.NewReplacer("«", "", "»", "").Replace(c.marked))
		kept := faults.Kept()
		if len(kept) != 1 || kept[0].Line != line || kept[0].Field != c.field || kept[0].Kind != c.kind || kept[0].Fix == "" || len(r.lines) != 0 {
			t.Errorf("%s: %+v, want %s %q at line %d", name, kept, c.field, c.kind, line)
		}
	}
}

// A line about a sample that nobody tested is told; one that goes by the laboratory's number is not.
func TestReportOnNobody(t *testing.T) {
	r, faults := readReport(t, report)
	r.Strangers("report.csv", []lab.Sample{{ID: "7"}, {LabNumber: "L9"}}, faults)
	kept := faults.Kept()
	if len(kept) != 1 || kept[0].Line != 4 || kept[0].Kind != "unknown sample" || !strings.Contains(kept[0].What, `"8"`) {
		t.Errorf("%+v", kept)
	}
}

// 3 oz of molybdenum an acre, the most of the University of Georgia (crop code 026, read), pass; a thousandth more does not.
func TestMostMolybdenum(t *testing.T) {
	for rate, want := range map[string]int{"0.1875": 0, "0.1877": 1} {
		if _, faults := readReport(t, "sample_id,nutrient,class,rate,unit\n7,mo,,"+rate+",lb_ac\n"); faults.Faults() != want {
			t.Errorf("%s lb/ac: %v", rate, faults)
		}
	}
}

// Any text: no rate comes out that nobody could have advised.
func FuzzReadReport(f *testing.F) {
	f.Add(report)
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		r, err := ReadReport("x.csv", strings.NewReader(text), &faults)
		if err != nil {
			return
		}
		for _, l := range r.lines {
			if a, ok := l.advised.Get(); ok && !(a.Rate >= 0 && a.Rate <= mostAdvised) {
				t.Fatalf("%+v", l)
			}
		}
	})
}

// Names, grades, single nutrients and packages in one line, and lines that mean nothing.
func TestParseProduct(t *testing.T) {
	p, err := ParseProduct("langbeinite=0-0-22 mg=11 s=22% package=50lb")
	if err != nil || p.Name != "langbeinite" || p.For != nutrient.Potassium || p.Share(nutrient.Sulfur) != 22 || math.Abs(p.Package.Pounds()-50) > 1e-9 {
		t.Errorf("%+v, %v", p, err)
	}
	if p, err := ParseProduct("0-46-0"); err != nil || p.Name != "0-46-0" || p.For != nutrient.Phosphorus {
		t.Errorf("%+v, %v", p, err)
	}
	if p, err := ParseProduct("borate=b=15"); err != nil || p.For != nutrient.Boron || p.Share(nutrient.Boron) != 15 {
		t.Errorf("%+v, %v", p, err)
	}
	for _, bad := range []string{"", "x=", "x=b=15 row", "x=0-0-60 mg=60", "x=ca=5", "x=b=", "x=k=5 k=5", "x=0-0-60 package=5", "x=0-0-60 package=-5lb", "x=b=NaN"} {
		if p, err := ParseProduct(bad); err == nil {
			t.Errorf("%q = %+v", bad, p)
		}
	}
}

// What is taken for a product passes its own check and holds some of what it is bought for.
func FuzzParseProduct(f *testing.F) {
	f.Add("langbeinite=0-0-22 mg=11 s=22 package=50lb")
	f.Fuzz(func(t *testing.T, line string) {
		if p, err := ParseProduct(line); err == nil && (p.Check() != nil || !(Needed(p, p.For, 1.0) >= 1)) {
			t.Fatalf("%+v", p)
		}
	})
}
