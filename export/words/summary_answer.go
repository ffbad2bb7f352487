package words

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tally counts fields by what they look like: by the class of their largest part.
type tally struct {
	byClass    [4]int
	once       int // suited fields whose suited ground mostly needs lime first
	unanswered int
}

// tally counts the fields.
func (s *summary) tally() (t tally) {
	for i := range s.sums {
		f := &s.sums[i]
		if f.Field.Trouble != "" || len(f.Zones) == 0 {
			t.unanswered++
			continue
		}
		c := f.Class()
		t.byClass[c]++
		// Half or more: "once limed" is then what the owner has to reckon with.
		if c == suitability.Suited && 2*suitedOnceLimed(f) >= f.ByClass.Of(suitability.Suited) {
			t.once++
		}
	}
	return t
}

// suitedOnceLimed is the suited ground of a field that is worse today.
func suitedOnceLimed(f *export.Sum) (a unit.Area) {
	for _, z := range f.Zones {
		if z.Rating.Class == suitability.Suited && z.LimeFirst() {
			a += z.Area
		}
	}
	return a
}

// answer prints the first thing anybody wants to know.
func (s *summary) answer() {
	t, n := s.tally(), len(s.sums)
	for _, l := range wrap(headline(t, n), s.width) {
		s.line(s.bold(l))
	}
	s.text("", "", s.ground())
	if stops := s.stops(); stops != "" {
		s.text("", "", stops)
	}
	// Said of several fields alone: of one the sentence before says all.
	if n > 1 {
		s.text("", "", "A field counts by what most of it is.")
	}
}

// headline answers in one sentence: "3 of 5 fields look suited once limed; 1 looks marginal and 1 has no answer."
// n is the number of all fields.
func headline(t tally, n int) string {
	if n == 0 {
		return "There are no fields to look at."
	}
	suited := t.byClass[suitability.Suited]
	var s string
	switch {
	case suited == 0 && n == 1:
		return "The field " + oneField(t) + "."
	case suited == 0:
		s = fmt.Sprintf("None of %s fields looks suited", number(n))
	case n == 1:
		return "The field looks suited" + limed(t.once, suited) + "."
	case suited == 1:
		s = fmt.Sprintf("1 of %s fields looks suited%s", number(n), limed(t.once, suited))
	default:
		s = fmt.Sprintf("%s of %s fields look suited%s", number(suited), number(n), limed(t.once, suited))
	}
	if rest := others(t); rest != "" {
		s += "; " + rest
	}
	return s + "."
}

// oneField answers for a run of one field that is not suited.
func oneField(t tally) string {
	for _, c := range []suitability.Class{suitability.Marginal, suitability.Unsuited} {
		if t.byClass[c] == 1 {
			return "looks " + c.String()
		}
	}
	if t.unanswered == 1 {
		return "has no answer"
	}
	return "could not be rated"
}

// limed says how many of the suited fields are so only once limed.
func limed(once, suited int) string {
	switch {
	case once == suited:
		return " once limed"
	case once > 0:
		return ", " + number(once) + " of them only once limed"
	case suited == 1:
		return " as it is"
	}
	return " as they are"
}

// others tells of the fields that are not suited.
func others(t tally) string {
	var parts []string
	for _, o := range []struct {
		n         int
		one, many string
	}{
		// From the best to the worst, and what is not known last.
		{t.byClass[suitability.Marginal], "looks marginal", "look marginal"},
		{t.byClass[suitability.Unsuited], "looks unsuited", "look unsuited"},
		{t.byClass[suitability.NotRated], "could not be rated", "could not be rated"},
		{t.unanswered, "has no answer", "have no answer"},
	} {
		if o.n > 0 {
			parts = append(parts, count(o.n, o.one, o.many))
		}
	}
	return listed(parts)
}

// listed joins parts as people do: "a, b and c".
func listed(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// ground tells the same by acres.
func (s *summary) ground() string {
	var all, suited, once, outside unit.Area
	var byClass export.Areas
	for i := range s.sums {
		f := &s.sums[i]
		all, outside = all+f.Field.Area, outside+f.Field.Uncovered
		for _, c := range suitability.Classes() {
			byClass[c] += f.ByClass.Of(c)
		}
		once += suitedOnceLimed(f)
	}
	suited = byClass.Of(suitability.Suited)
	text := fmt.Sprintf("Of %s, %s look suited", acresAndHectares(all), acres(suited))
	if suited == 0 {
		text = fmt.Sprintf("Of %s, none looks suited", acresAndHectares(all))
	}
	switch {
	// Compared as printed, so that "40.1 look suited (40.1 of them only once limed)" never stands there.
	case once > 0 && acres(once) == acres(suited):
		text += " (all of them only once limed)"
	case once > 0:
		text += fmt.Sprintf(" (%s of them only once limed)", acres(once))
	}
	var others []string
	for _, c := range []suitability.Class{suitability.Marginal, suitability.Unsuited} {
		if a := byClass.Of(c); a > 0 {
			others = append(others, acres(a)+" "+c.String())
		}
	}
	if len(others) > 0 {
		text += ", " + listed(others)
	}
	if rest := byClass.Of(suitability.NotRated) + outside; rest > 0 {
		text += fmt.Sprintf("; %s could not be rated or lie outside the survey", acres(rest))
	}
	return text + "."
}

// stops tells what limits the ground that is not suited, the largest first.
func (s *summary) stops() string {
	limits := map[suitability.Code]unit.Area{}
	for i := range s.sums {
		for _, l := range s.sums[i].Limits {
			limits[l.Code] += l.Area
		}
	}
	var parts []string
	// Largest first, of equal ones always in the same order.
	for _, l := range export.ByArea(limits) {
		parts = append(parts, fmt.Sprintf("%s (%s acres)", Criterion(l.Code, Landowner), acres(l.Area)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "What holds the rest back: " + listed(parts) + "."
}
