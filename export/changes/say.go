package changes

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// Say tells a sum in sentences; names are those of the first and of the second run.
func Say(s *change.Sum, names [2]string) []string {
	// From what decides over a field to what only orders lime; what was left out comes last, as a caution.
	out := []string{sayClass(s)}
	for run, name := range names {
		if a := s.Only[run]; a > 0 {
			out = append(out, fmt.Sprintf("%s acres lie in the fields of %s alone.", words.Acres(a), name))
		}
	}
	if s.Survey > 0 {
		out = append(out, fmt.Sprintf("%s acres are in the survey of one run and outside that of the other.", words.Acres(s.Survey)))
	}
	out = add(out, sayMoved("The pH of the topsoil", "", &s.Surface, names))
	out = add(out, sayMoved("The pH of the subsoil", "", &s.Subsoil, names))
	out = add(out, sayMoved("The lime figure", " tons/ac", &s.Lime, names))
	if t := s.Tons.ShortTons(); math.Abs(t) >= 0.05 { // less would print as 0 tons
		out = append(out, fmt.Sprintf("Over ground with a lime figure in both, %s asks for %s short tons %s.", names[1], words.Decimal(math.Abs(t), 1), moreOrLess(t)))
	}
	if s.Unlike > 0 {
		out = append(out, fmt.Sprintf("On %s acres one run asks for pure lime (100 %% CCE) and the other for lime as sold, whose quality is not stated: these figures cannot be compared.", words.Acres(s.Unlike)))
	}
	if s.Small.Acres() >= 0.05 { // less prints as no tenth of an acre
		out = append(out, fmt.Sprintf("Left out of this: %s acres in parts of less than %s acre or less than a metre wide, where lines were drawn or rounded otherwise.", words.Acres(s.Small), words.Decimal(change.Least.Acres(), 2)))
	}
	return out
}

func add(out []string, s string) []string {
	if s == "" {
		return out
	}
	return append(out, s)
}

func moreOrLess(x float64) string {
	if x < 0 {
		return "less"
	}
	return "more"
}

// sayClass tells how much ground is of another class.
func sayClass(s *change.Sum) string {
	var better, worse, rated, lost unit.Area
	for _, t := range s.Turns {
		switch way(t.From, t.To) {
		case gained:
			rated += t.Area
		case lapsed:
			lost += t.Area
		case improved:
			better += t.Area
		default:
			worse += t.Area
		}
	}
	both := s.Both()
	switch {
	case both == 0:
		return "The two runs have no ground in common."
	case len(s.Turns) == 0 && s.Survey == 0:
		return fmt.Sprintf("All %s of ground that both runs have are of the same class, today and once corrected.", words.AcresAndHectares(both))
	}
	alike := "none" // "0.0 acres" would read as a figure that was rounded away
	if s.Alike > 0 {
		alike = words.Acres(s.Alike) + " acres"
	}
	out := fmt.Sprintf("Of %s that both runs have, %s are of the same class, today and once corrected", words.AcresAndHectares(both), alike)
	for _, x := range []struct {
		area unit.Area
		say  string
	}{{better, "are better"}, {worse, "are worse"}, {rated, "are rated only now"}, {lost, "are no longer rated"}} {
		if x.area > 0 {
			out += fmt.Sprintf("; %s %s", words.Acres(x.area), x.say)
		}
	}
	return out + "."
}

// Ways that ground can turn.
const (
	improved = iota
	worsened
	gained // it was not rated
	lapsed // it is not rated
)

// way goes by the class once corrected, and where that stands by the class today. The greater class is the worse one.
func way(from, to change.State) int {
	a, b := from.Class, to.Class
	// The class once corrected comes first: ground that is worse today and no worse once limed is a matter of lime, not of the field.
	if a == b {
		a, b = from.Today, to.Today
	}
	switch {
	case a == suitability.NotRated:
		return gained
	case b == suitability.NotRated:
		return lapsed
	case b < a:
		return improved
	}
	return worsened
}

// sayMoved tells where a figure is higher or lower; "" where it moved nowhere.
func sayMoved(what, in string, m *change.Moved, names [2]string) string {
	var parts []string
	for _, x := range []struct {
		area unit.Area
		say  string
	}{
		{m.Up, fmt.Sprintf("higher on %s acres, by %s%s in the mean", words.Acres(m.Up), tenth(m.ByUp().Or(0)), in)},
		{m.Down, fmt.Sprintf("lower on %s acres, by %s%s in the mean", words.Acres(m.Down), tenth(-m.ByDown().Or(0)), in)},
		{m.Gained, fmt.Sprintf("known only in %s on %s acres", names[1], words.Acres(m.Gained))},
		{m.Lost, fmt.Sprintf("known only in %s on %s acres", names[0], words.Acres(m.Lost))},
	} {
		if x.area > 0 {
			parts = append(parts, x.say)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return what + " is " + strings.Join(parts, "; ") + "."
}

// tenth prints how far a figure moved. Figures that print otherwise may lie less than a tenth apart, which must not read as nothing.
func tenth(x float64) string {
	if x < 0.05 {
		return "less than 0.1"
	}
	return words.Fixed(x, 1)
}

// Limits says what limits a state, before it is corrected where lime mends it; "" where nothing does.
func Limits(s change.State) string {
	switch {
	case s.Class == suitability.NotRated:
		return "not known"
	case s.Limiting != "":
		out := words.Criterion(s.Limiting, words.Consultant)
		if s.Today != s.Class && s.LimitingToday != s.Limiting {
			out += "; today " + words.Criterion(s.LimitingToday, words.Consultant)
		}
		return out
	case s.LimitingToday != "":
		return words.Criterion(s.LimitingToday, words.Consultant) + ", which lime mends"
	}
	return ""
}
