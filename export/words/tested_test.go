package words

import (
	"bytes"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// surfaceTest is a fresh test of the topsoil, 0 to 15 cm, of three samples within a tenth of ph; survey is what the survey says there.
func surfaceTest(ph, survey float64) *suitability.TestedPH {
	return &suitability.TestedPH{PH: unit.PH(ph), Least: unit.PH(ph - 0.1), Most: unit.PH(ph + 0.1), Survey: unit.Some(unit.PH(survey)), Samples: 3, To: 15, Covered: 15,
		Basis: "coordinates", Oldest: "2026-03-14", Newest: "2026-10-02", Age: suitability.AgeFresh, Laboratories: []string{"Quernmore"}}
}

// What was taken for granted with a laboratory's file, the depth and the pH in water, is told with the result.
func TestSurveyAndTestStandSideBySide(t *testing.T) {
	x := surfaceTest(6.1, 5.3)
	if got := saidAndRead(x); got != "the survey said 5.30; your test says 6.10" {
		t.Errorf("got %q", got)
	}
	want := "3 samples from 6 to 6.2, 0 to 15 cm, placed by coordinates, 2026-03-14 to 2026-10-02, under three years old, Quernmore"
	if got := testDetails(x); got != want {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	x.Survey, x.DepthAssumed, x.WaterAssumed = unit.None[unit.PH](), true, true
	if got := saidAndRead(x) + testDetails(x); !strings.Contains(got, "the survey said nothing") || !strings.Contains(got, "depth not stated, taken as the topsoil") || !strings.Contains(got, "taken as pH in water") {
		t.Errorf("got %q", got)
	}
}

// A tested limit names both values in every sentence for the landowner, in plain words.
func TestReasonsNameTheTest(t *testing.T) {
	r := quillmoor.Result()
	z := &r.Zones[0]
	for i := range z.Rating.Components {
		for k := range z.Rating.Components[i].Findings {
			if f := &z.Rating.Components[i].Findings[k]; f.Criterion == suitability.SurfacePH {
				f.Tested, f.Survey = true, unit.Some(5.05)
			}
		}
	}
	z.Rating.Tested = suitability.Tested{Surface: surfaceTest(5.45, 5.05)}
	got := Reason(z, Landowner)
	if !strings.Contains(got, "by your soil test; the survey says pH 5.05") || gradeOf(got) > hardestLine {
		t.Errorf("grade %.1f: %s", gradeOf(got), got)
	}
	if got := Reason(z, Consultant); !strings.Contains(got, "5.45, tested") {
		t.Errorf("got %s", got)
	}
	var b bytes.Buffer
	if err := Explain(&b, z, r.Profile); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Your soil tests", "the survey said 5.05; your test says 5.45", "Subsoil pH: not tested; the survey's stands.", "tested; the survey says 5.05"} {
		if !strings.Contains(strings.Join(strings.Fields(b.String()), " "), want) {
			t.Errorf("the explanation lacks %q:\n%s", want, b.String())
		}
	}
}

// The sign is that of test less survey: positive is a survey that reads too low. What rounds to no tenth is called right.
func TestHowFarTheSurveyWasOff(t *testing.T) {
	for want, s := range map[string]export.Sum{
		"On average the survey reads the topsoil 0.6 too low and the subsoil right.": {SurfaceOff: unit.Some(0.6), SubsoilOff: unit.Some(-0.04)},
		"On average the survey reads the subsoil 0.3 too high.":                      {SubsoilOff: unit.Some(-0.3)},
		"The survey has no pH to compare.":                                           {},
	} {
		if got := offTexts(&s); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A rate or an error that would read as nothing at one decimal gets two. -1 stands for no error known.
func TestRatesWithTheirError(t *testing.T) {
	for _, c := range []struct {
		rate, e  float64
		decimals int
		want     string
	}{{1.335, 0.2646, 1, "1.3 ± 0.4"}, {1.335, 0.2646, 2, "1.33 ± 0.35"}, {0.15, 0.2646, 1, "0.15 ± 0.04"}, {1.5, -1, 1, "1.5"}, {0.05, -1, 1, "0.05"}} {
		e := unit.None[unit.Fraction]()
		if c.e >= 0 {
			e = unit.Some(unit.Fraction(c.e))
		}
		if got := withError(unit.ShortTonsPerAcre(c.rate), e, c.decimals); got != c.want {
			t.Errorf("%g ± %g: %q, want %q", c.rate, c.e, got, c.want)
		}
	}
}

// The laboratory's own figure is compared, and what parts the two is told; nothing is said where there is nothing to compare.
func TestDifferences(t *testing.T) {
	m, _ := lime.MethodByName("nc-mehlich")
	row := func(own ...float64) *export.LimeSample {
		s := &lab.Sample{ID: "1", PH: unit.Some(unit.PH(5.2))}
		s.Buffer.Mehlich = unit.Some(unit.PHMehlich(6.2))
		for _, x := range own {
			s.Lime = append(s.Lime, lab.Recommendation{Rate: unit.Some(unit.ShortTonsPerAcre(x)), Crop: "hay"})
		}
		return &export.LimeSample{Sample: s, Answer: limeplan.Ask(s, m, lime.Ask{Target: 6.5}), Method: &m, Target: 6.5}
	}
	for name, c := range map[string]struct {
		row  *export.LimeSample
		want []string
	}{
		"none":      {row(), []string{""}},
		"several":   {row(1, 2), []string{""}},
		"alike":     {row(1.5), []string{"agrees with the laboratory's 1.5"}},
		"far more":  {row(3), []string{"1.51 short tons/ac less than the laboratory's 3", "to pH 6.5 over 8 in (20.3 cm)", "for hay", "outside the likely error"}},
		"some less": {row(1.2), []string{"0.29 short tons/ac more than the laboratory's 1.2", "inside the likely error"}},
	} {
		got := sampleDifference(c.row)
		for _, w := range c.want {
			if !strings.Contains(got, w) || w == "" && got != "" {
				t.Errorf("%s: %q lacks %q", name, got, w)
			}
		}
	}
}

// Bags without an id, or of one id in several fields, are counted each and called by their line.
func TestListOfSamplesWithoutIDs(t *testing.T) {
	m, _ := lime.MethodByName("nc-mehlich")
	var rows []export.LimeSample
	for i, id := range []string{"", "", "7", "7"} {
		s := lab.Sample{ID: id, Line: i + 2, PH: unit.Some(unit.PH(5.2))}
		s.Buffer.Mehlich = unit.Some(unit.PHMehlich(6.1))
		a := limeplan.Ask(&s, m, lime.Ask{Target: 6.5})
		rows = append(rows, export.LimeSample{Sample: &s, Answer: a, Method: &m, Target: 6.5}, export.LimeSample{Sample: &s, Answer: a, Method: &m, Target: 6.5})
	}
	var b bytes.Buffer
	if err := LimeSamples(&b, rows); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"\nline 2 ", "\nline 3 ", "(samples line 2, line 3, 7, 7)"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, &b)
		}
	}
}

// Lines of both lists keep to 80 columns whatever the ids.
func TestListsOfSamplesKeepToTheWidth(t *testing.T) {
	s := lab.Sample{ID: strings.Repeat("long id ", 12), PH: unit.Some(unit.PH(5.2))}
	m, _ := lime.MethodByName("georgia-lbc")
	rows := []export.LimeSample{{Sample: &s, Answer: limeplan.Ask(&s, m, lime.Ask{Target: 6.5}), Method: &m, Target: 6.5}}
	var b bytes.Buffer
	if err := LimeSamples(&b, rows); err != nil {
		t.Fatal(err)
	}
	if err := Understood(&b, strings.Repeat("deep/", 30)+"file.csv", lab.Results{Samples: []lab.Sample{s}}); err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(b.String(), "\n") {
		if cells(l) > 80 && strings.Contains(strings.TrimSpace(l), " ") {
			t.Errorf("%d columns: %s", cells(l), l)
		}
	}
}
