package words

import (
	"fmt"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// componentClass says how the class of a component follows from its criteria.
func (e *explanation) componentClass(c *suitability.ComponentRating) {
	if c.Class == suitability.NotRated {
		e.para("Not rated: %s.", WhyNotRated(c.WhyNotRated, Consultant))
	} else {
		e.para("Class %s: the worst criterion decides%s.", verdict(c.Class, c.Limiting, c.Score), leftOut(c))
	}
	if c.ClassToday != suitability.NotRated {
		e.para("Class today %s, acidity of the surface counted as it is.", verdict(c.ClassToday, c.LimitingToday, c.ScoreToday))
	}
	if x, ok := c.ScoreMean.Get(); ok {
		e.para("Geometric mean of the scores %s, to rank equal scores only.", fixed(x, 2))
	}
	if len(c.Missing) > 0 {
		e.para("Not recorded and left out: %s.", names(c.Missing))
	}
	if d, ok := c.LimitDepth.Get(); ok {
		e.para("pH falls under the subsoil limit from %s down.", inches(d))
	}
}

// leftOut says that surface acidity was left out of the class, when it would have changed it.
func leftOut(c *suitability.ComponentRating) string {
	// Told only where it matters: else every soil would carry the sentence.
	if c.ClassToday == c.Class && c.LimitingToday == c.Limiting {
		return ""
	}
	return "; surface acidity is left out because lime corrects it"
}

// verdict prints "unsuited by drainage, score 25.00".
func verdict(class suitability.Class, limiting suitability.Code, score unit.Opt[float64]) string {
	s := class.String()
	if limiting != "" {
		s += " by " + Criterion(limiting, Consultant)
	}
	if x, ok := score.Get(); ok {
		s += ", score " + fixed(x, 2)
	}
	return s
}

// names lists criteria by their terms.
func names(codes []suitability.Code) string {
	var out []string
	for _, c := range codes {
		out = append(out, Criterion(c, Consultant))
	}
	return strings.Join(out, ", ")
}

// decision says how the class of the zone follows from its components.
func (e *explanation) decision() {
	e.heading("Decision for the zone")
	e.line("  Percent of the soils    suited  marginal  unsuited  not rated")
	e.shares("once corrected", e.r.Shares)
	e.shares("today", e.r.SharesToday)
	// The shares stand above it all the same: they show how far the survey's data reach.
	if e.r.Class == suitability.NotRated {
		e.para("Not rated: %s.", WhyNotRated(e.r.WhyNotRated, Consultant))
		return
	}
	e.para("Scores from %g are suited, from %g marginal (proposal). The class with the largest percent of the rated soils wins; of equal percents the worse.", suitability.SuitedMark, suitability.MarginalMark)
	e.para("Class %s%s.", verdict(e.r.Class, e.r.Limiting, e.r.Score), correctableText(e.r.Correctable))
	e.arithmetic(func(c *suitability.ComponentRating) (suitability.Class, unit.Opt[float64]) { return c.Class, c.Score }, e.r.Class, e.r.Score)
	e.para("Class today %s%s.", verdict(e.r.ClassToday, e.r.LimitingToday, e.r.ScoreToday), correctableText(e.r.CorrectableToday))
	e.arithmetic(func(c *suitability.ComponentRating) (suitability.Class, unit.Opt[float64]) {
		return c.ClassToday, c.ScoreToday
	}, e.r.ClassToday, e.r.ScoreToday)
	if len(e.r.HingesOn) > 0 {
		e.para("The class hinges on %s: %s.", names(e.r.HingesOn), ConfidenceReason(suitability.ReasonHinges, Landowner))
	}
}

// correctableText says whether a limit can be corrected, after a semicolon.
func correctableText(c suitability.Correctable) string {
	if s := Correctable(c, Consultant); s != "" {
		return "; " + s
	}
	return ""
}

// shares prints one line of the table of shares.
// What is not rated is the rest to 100.
func (e *explanation) shares(name string, s suitability.Shares) {
	e.line("  " + left(name, 21) + right(fixed(s.Suited, 2), 9) + right(fixed(s.Marginal, 2), 10) + right(fixed(s.Unsuited, 2), 10) + right(fixed(s.Of(suitability.NotRated), 2), 11))
}

// arithmetic prints the score of a zone as the mean by percent over the components of its class.
func (e *explanation) arithmetic(of func(*suitability.ComponentRating) (suitability.Class, unit.Opt[float64]), class suitability.Class, score unit.Opt[float64]) {
	var terms, weights []string
	for i := range e.r.Components {
		c := &e.r.Components[i]
		percent, ok := c.Percent.Get()
		x, scored := unit.Opt[float64]{}, false
		if k, s := of(c); k == class {
			x, scored = s, s.Has()
		}
		// The mean is over the soils of the winning class alone: one that lost says nothing of how good the winner is.
		if !ok || !scored {
			continue
		}
		terms = append(terms, fmt.Sprintf("%s x %s", plain(float64(percent), 2), fixed(x.Or(0), 2)))
		weights = append(weights, plain(float64(percent), 2))
	}
	if total, ok := score.Get(); ok && len(terms) > 0 {
		e.para("  (%s) / (%s) = %s", strings.Join(terms, " + "), strings.Join(weights, " + "), fixed(total, 2))
	}
}

// sure lists everything that bears on confidence.
func (e *explanation) sure() {
	e.heading("How sure")
	var reasons []string
	for _, c := range e.r.Confidence.Reasons {
		reasons = append(reasons, ConfidenceReason(c, Consultant))
	}
	s := "Confidence " + Confidence(e.r.Confidence.Level, Consultant)
	if len(reasons) > 0 {
		s += ": " + strings.Join(reasons, "; ")
	}
	e.para("%s.", s)
}

// onSite ends with what no survey knows.
func (e *explanation) onSite() {
	e.heading("Ask on site")
	for _, q := range OnSite() {
		e.text("  - ", "    ", q)
	}
}
