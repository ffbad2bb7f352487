package report

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// fieldAnswer answers for one field in three lines at most: what looks suited, what lime that takes, what holds the
// rest back.
func fieldAnswer(s *export.Sum) []string {
	if !hasAnswer(s) {
		// The field lies inside the survey, yet no zone of it could be made.
		if s.Field.Trouble == "" {
			return []string{"No answer: the survey has no soil for this field."}
		}
		return []string{"No answer: this field " + words.Trouble(s.Field) + "."}
	}
	out := []string{suitedLine(s), limeLine(s)}
	if rest := restLine(s); rest != "" {
		out = append(out, rest)
	}
	return out
}

// suitedLine says how much of a field looks suited, and how much of that needs lime first.
func suitedLine(s *export.Sum) string {
	suited, all := s.ByClass.Of(suitability.Suited), words.AcresAndHectares(s.Field.Area)
	if suited == 0 {
		return fmt.Sprintf("None of the %s looks suited.", all)
	}
	line, once := fmt.Sprintf("%s of %s look suited.", words.Acres(suited), all), words.SuitedOnceLimed(s)
	// Compared as printed: a sliver under a tenth of an acre would make "64.4 of 64.4 acres" of it.
	if words.Acres(suited) == words.Acres(s.Field.Area) {
		line = fmt.Sprintf("All %s look suited.", all)
	}
	switch {
	case once > 0 && words.Acres(once) == words.Acres(suited):
		line += " They need lime first."
	case once > 0:
		line += fmt.Sprintf(" %s acres of them need lime first.", words.Acres(once))
	}
	return line
}

// limeOf is the lime of zones whose figures rest on the same ground.
// floor says that the need may be higher than the figure, asSold that a method gave its rate in lime as sold and not as pure calcium
// carbonate.
type limeOf struct {
	mass   unit.Mass
	area   unit.Area
	zones  int // with a figure, zero or not
	floor  bool
	asSold bool
}

// limes adds up the lime of a field: what tests ask for apart from what is a budget.
// Zones without a figure are in neither.
func limes(s *export.Sum) (budget, byTest limeOf) {
	for _, z := range s.Zones {
		likely, ok := z.Lime.Likely.Get()
		if !ok {
			continue
		}
		o := &budget
		if words.ByTest(&z.Lime) {
			o = &byTest
		}
		o.zones++
		o.floor, o.asSold = o.floor || z.Lime.Bound == suitability.AtLeast, o.asSold || z.Lime.AsSold
		// Ground that needs none has a figure all the same, so it counts as a zone but takes no part of the area to lime.
		if likely > 0 {
			o.mass, o.area = o.mass+likely.Over(z.Area), o.area+z.Area
		}
	}
	return budget, byTest
}

// limeLine never adds the sums of both kinds to one: a budget and a rate are not the same sort of number.
func limeLine(s *export.Sum) string {
	budget, byTest := limes(s)
	switch {
	case budget.zones+byTest.zones == 0:
		return "There is no lime figure for this field."
	// A need of zero is said by whom: the survey knows nothing of nitrogen and years of hay, a test does.
	case budget.mass+byTest.mass == 0 && byTest.zones == 0:
		return "By the survey it needs no lime. A soil test may say otherwise."
	case budget.mass+byTest.mass == 0 && budget.zones == 0:
		return "By the soil test it needs no lime."
	}
	line := ""
	if byTest.mass > 0 {
		kind := "pure lime"
		if byTest.asSold {
			kind = "lime as sold"
		}
		line = fmt.Sprintf("Lime by soil test: %s of %s on %s.", byTest.text(), kind, words.AcresAndHectares(byTest.area))
	}
	// What is a budget comes last and says so, so that nobody reads the whole line as a rate.
	if budget.mass > 0 {
		if line != "" {
			line += " "
		}
		line += fmt.Sprintf("Lime: about %s of pure lime on %s. That is a budget; a soil test sets the rate.", budget.text(), words.AcresAndHectares(budget.area))
	}
	return line
}

// text prints the mass in both units.
func (o limeOf) text() string {
	s := fmt.Sprintf("%s short tons (%s t)", words.Tons(o.mass.ShortTons()), words.Tons(float64(o.mass)/1000))
	if o.floor {
		s += " or more"
	}
	return s
}

// restLine goes by what limits once the ground is corrected, so that what lime mends is not held against the field. It is empty when nothing
// is left to say.
func restLine(s *export.Sum) string {
	var parts []string
	for _, l := range s.Limits {
		parts = append(parts, fmt.Sprintf("%s (%s acres)", words.Criterion(l.Code, words.Landowner), words.Acres(l.Area)))
	}
	line := ""
	if len(parts) > 0 {
		line = "What holds the rest back: " + words.Listed(parts) + "."
	}
	if a := s.ByClass.Of(suitability.NotRated); a > 0 {
		line += fmt.Sprintf(" %s acres could not be rated.", words.Acres(a))
	}
	if s.Field.Uncovered > 0 {
		line += fmt.Sprintf(" %s acres lie outside the survey.", words.Acres(s.Field.Uncovered))
	}
	return strings.TrimSpace(line)
}
