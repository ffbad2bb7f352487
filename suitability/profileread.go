package suitability

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"rootworthy/internal/tomltext"
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// readOrigin reads source and status. A published number names who published it. The other statuses claim no publication and may stand
// without one.
func readOrigin(t table) (source string, status Status) {
	source, status = t.optionalText("source"), Status(t.text("status"))
	if status != "" && !slices.Contains(Statuses(), status) {
		t.Fault(tomltext.Join(t.path, "status"), "status", fmt.Sprintf("write one of %q", Statuses()), "%q is not a status", status)
	}
	if status == Published && source == "" {
		t.Fault(tomltext.Join(t.path, "source"), "no source", "name the publication, or change the status", "a published number has no source")
	}
	return source, status
}

// readFigure reads a number with its unit, which is fixed: a profile in other units would be misread in silence.
func readFigure(t table, key, want string, least, most float64) Figure {
	f := t.table(key)
	// the table itself is missing or no table; that was told, and its keys would only repeat it
	if f.keys == nil {
		return Figure{}
	}
	f.only("value", "unit", "source", "status")
	v, _ := f.number("value", least, most)
	if u := f.text("unit"); u != "" && u != want {
		f.Fault(tomltext.Join(f.path, "unit"), "unit", fmt.Sprintf("give the value in %s", want), "%q is not the unit of this number", u)
	}
	source, status := readOrigin(f)
	return Figure{Value: v, Unit: want, Source: source, Status: status}
}

// readCurve reads the points of a curve, whose unit is fixed by the criterion.
func readCurve(t table, want string) Curve {
	if t.keys == nil {
		return Curve{}
	}
	t.only("unit", "points")
	if u := t.text("unit"); u != "" && u != want {
		t.Fault(tomltext.Join(t.path, "unit"), "unit", fmt.Sprintf("give the points in %s", want), "%q is not the unit of this curve", u)
	}
	c := Curve{Unit: want}
	whole := true
	for _, p := range t.tables("points") {
		p.only("value", "score", "source", "status")
		v, okV := p.number("value", -1e6, 1e6)
		s, okS := p.number("score", 0, 100)
		whole = whole && okV && okS
		source, status := readOrigin(p)
		// rounded as the values that are judged: a limit and a value on it must be the same number
		c.Points = append(c.Points, Point{roundInput(v), s, source, status})
	}
	// a point that could not be read stands as a zero, which would look like a fault of order as well
	if whole && t.has("points") {
		checkCurve(t, c)
	}
	return c
}

// checkCurve reports what makes a curve unfit to part classes.
func checkCurve(t table, c Curve) {
	at := func(i int) string { return tomltext.Join(tomltext.Join(t.path, "points"), i) }
	// a hump is allowed once: pH is best in the middle, and no criterion is best at both ends
	falling, suited := false, len(c.Points) > 0 && c.Points[0].Score >= SuitedMark
	for i := 1; i < len(c.Points); i++ {
		a, b := c.Points[i-1], c.Points[i]
		suited = suited || b.Score >= SuitedMark
		if b.Value <= a.Value {
			t.Fault(at(i), "order", "order the points by value, each once", "value %v comes after %v", b.Value, a.Value)
		}
		for _, mark := range []float64{MarginalMark, SuitedMark} {
			// strictly between: a limit somewhere on the line would be a number that nobody wrote and no source stands behind
			if min(a.Score, b.Score) < mark && mark < max(a.Score, b.Score) {
				t.Fault(at(i), "no limit", fmt.Sprintf("add a point with score %v: it is a class limit and needs a source", mark),
					"the curve crosses score %v between values %v and %v", mark, a.Value, b.Value)
			}
		}
		if falling && b.Score > a.Score {
			t.Fault(at(i), "two humps", "let the curve rise, stay, and fall once", "the score rises again at value %v", b.Value)
		}
		falling = falling || b.Score < a.Score
	}
	if !suited || len(c.Points) < 2 {
		t.Fault(tomltext.Join(t.path, "points"), "nothing suited", "give at least two points, one with a score of 70 or more", "no value would be suited")
	}
}

// drainageWords and frequencyWords are the words that the survey may write, in its order; "not recorded" is no word of it.
func drainageWords() []string {
	var words []string
	for _, c := range soils.DrainageClasses() {
		words = append(words, c.String())
	}
	return words
}

func frequencyWords() []string {
	var words []string
	for _, f := range soils.Frequencies() {
		words = append(words, f.String())
	}
	return words
}

// readWords reads a score for each word of the survey's domain, and puts them in the order of the domain.
func readWords(t table, domain []string, keys ...string) WordScale {
	if t.keys == nil {
		return nil
	}
	t.only(keys...)
	// by place in the domain, so that the file may list the words in any order and two of them are found out
	scale := make(WordScale, len(domain))
	for _, w := range t.tables("words") {
		w.only("word", "score", "source", "status")
		word := w.text("word")
		s, _ := w.number("score", 0, 100)
		source, status := readOrigin(w)
		i := slices.IndexFunc(domain, func(d string) bool { return strings.EqualFold(d, word) })
		switch {
		case i < 0 && word != "":
			w.Fault(tomltext.Join(w.path, "word"), "word", "words are "+strings.Join(domain, ", "), "%q is not a class of the survey", word)
		case i >= 0 && scale[i].Word != "":
			w.Fault(tomltext.Join(w.path, "word"), "word twice", "keep one of the two", "%q stands here for the second time", word)
		case i >= 0:
			scale[i] = WordScore{domain[i], s, source, status}
		}
	}
	for i, s := range scale {
		// every word needs a score: one left out would make ground that the survey describes not rated
		if s.Word == "" && t.has("words") {
			t.Fault(tomltext.Join(t.path, "words"), "word missing", "give every class a score", "%q has no score", domain[i])
		}
	}
	return scale
}

// readTargets reads the targets of states; none at all is allowed. A state that is marked missing was looked for and has no figure: the
// default stands in for it, and the output can say so.
func readTargets(t table, least float64) []Target {
	if !t.has("target") {
		return nil
	}
	var targets []Target
	for _, s := range t.tables("target") {
		s.only("state", "value", "range", "source", "status", "missing")
		x := Target{State: strings.ToUpper(s.text("state")), Missing: s.flag("missing")}
		if len(x.State) != 2 {
			s.Fault(tomltext.Join(s.path, "state"), "state", "write the two letters of the postal code", "%q is not a state", x.State)
		}
		if slices.ContainsFunc(targets, func(o Target) bool { return o.State == x.State }) {
			s.Fault(tomltext.Join(s.path, "state"), "state twice", "keep one of the two", "%q stands here for the second time", x.State)
		}
		if !x.Missing {
			// the bounds are those of a target that a user chooses
			v, _ := s.number("value", least, highestTarget)
			x.PH, x.Range = unit.PH(v), s.optionalText("range")
			x.Source, x.Status = readOrigin(s)
		}
		targets = append(targets, x)
	}
	return targets
}

// readWindows reads sowing windows; none at all is allowed. Last may come before First: the window then runs over the new year.
func readWindows(t table) []SowingWindow {
	if !t.has("window") {
		return nil
	}
	var windows []SowingWindow
	for _, s := range t.tables("window") {
		s.only("region", "where", "first", "last", "source", "status")
		w := SowingWindow{Region: strings.ToLower(s.text("region")), Where: s.optionalText("where"),
			First: s.monthDay("first"), Last: s.monthDay("last")}
		w.Source, w.Status = readOrigin(s)
		if slices.ContainsFunc(windows, func(o SowingWindow) bool { return o.Region == w.Region }) {
			s.Fault(tomltext.Join(s.path, "region"), "region twice", "keep one of the two", "%q stands here for the second time", w.Region)
		}
		windows = append(windows, w)
	}
	return windows
}

// monthDay reads "09-15". The 29th of February is refused: it is not a day of every year.
func (t table) monthDay(key string) MonthDay {
	s := t.text(key)
	// 2001 is any year that is no leap year
	d, err := time.Parse("2006-01-02", "2001-"+s)
	if s != "" && err != nil {
		t.Fault(tomltext.Join(t.path, key), "day", `write month and day as "09-15"`, "%q is not a day of the year", s)
	}
	return MonthDay{d.Month(), d.Day()}
}
