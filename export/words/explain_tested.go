package words

import (
	"fmt"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tested prints what laboratory tests say of the zone beside the survey, before the soils that they overrule.
func (e *explanation) tested() {
	t := e.r.Tested
	if !t.Any() {
		return
	}
	e.heading("Your soil tests")
	for _, x := range []struct {
		name string
		test *suitability.TestedPH
	}{{"Surface", t.Surface}, {"Subsoil", t.Subsoil}} {
		if x.test == nil {
			e.para("%s pH: not tested; the survey's stands.", x.name)
			continue
		}
		e.para("%s pH: %s (%s).", x.name, saidAndRead(x.test), testDetails(x.test))
		if x.test.Fit != nil {
			e.para("%s pH is read from a surface: %s.", x.name, FitText(x.test.Fit, "pH", 1))
		}
	}
	e.para("The tested pH stands for every soil of the zone; drainage, depth and all else stay the survey's. The layers below are the survey's.")
}

// surveyBeside prints the survey's value and class of a tested finding.
func surveyBeside(f *suitability.Finding) string {
	x, ok := f.Survey.Get()
	if !ok {
		return "; the survey has no value"
	}
	return fmt.Sprintf("; the survey says %s, %s", plain(x, 4), f.SurveyClass)
}

// testArithmetic prints the mean over the samples, and what became of each.
func (e *explanation) testArithmetic(l *suitability.Lime, likely unit.AreaRate) {
	t := l.Test
	var terms []string
	for _, s := range t.Samples {
		if x, ok := s.Figure.Get(); ok {
			terms = append(terms, fixed(x.ShortTonsPerAcre(), 4))
		}
	}
	if t.Fit != nil {
		e.para("Read from a surface through the field's samples, as its mean over the zone: %s short tons/ac. The surface: %s. The mean of the samples alone, for comparison:",
			fixed(likely.ShortTonsPerAcre(), 4), FitText(t.Fit, "short tons/ac", unit.AreaRate(1).ShortTonsPerAcre()))
		// The arithmetic below is of the samples; what the zone gets is the surface's mean above.
		likely = t.Mean()
	}
	e.para("Mean of the samples, each once: (%s) / %d = %s short tons/ac.", strings.Join(terms, " + "), len(terms), fixed(likely.ShortTonsPerAcre(), 4))
	e.line("  Sample        water pH    short tons/ac")
	salt := false
	for _, s := range t.Samples {
		ph, mark, what := "-", "", ""
		if x, ok := s.PH.Get(); ok {
			ph = plain(float64(x), 2)
		} else if x, ok := s.PHCaCl2.Get(); ok {
			// pH in calcium chloride is another scale and must not be read as water pH; so it carries a mark.
			ph, mark, salt = plain(float64(x), 2), saltMark, true
		}
		if x, ok := s.Figure.Get(); ok {
			what = right(fixed(x.ShortTonsPerAcre(), 4), 13)
			if s.Why != "" {
				what += "  " + LimeWhy(s.Why, Consultant)
			}
		} else {
			what = "  refused: " + s.What
		}
		e.text("  "+left(printable(s.ID), 18)+right(ph, 4)+left(mark, 4), "      ", printable(what))
	}
	if salt {
		e.text("  ", "    ", saltLegend)
	}
	e.methodLines(t, l)
}

// methodLines say what the method's figure is for, and how far it may be off.
func (e *explanation) methodLines(t *suitability.LimeTest, l *suitability.Lime) {
	if d, ok := t.Depth.Get(); ok {
		s := "The figure is for " + inches(d) + " of soil"
		if slice, ok := t.Slice.Get(); ok && slice != d {
			s += ", the method's own being " + inches(slice)
		}
		e.para("%s.", s)
	}
	if t.Credit > 0 {
		e.para("Taken off for lime spread before: %s short tons/ac in the mean.", fixed(t.Credit.ShortTonsPerAcre(), 4))
	}
	if f, ok := t.Error.Get(); ok {
		e.para("Likely error ± %s percent, one standard deviation: low %s, high %s short tons/ac. Share of variance explained: published; spread between soils: proposal.",
			fixed(100*float64(f), 0), rate(l.Low), rate(l.High))
	}
}
