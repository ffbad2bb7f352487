package choice

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
)

// advice is a verdict as the head of a letter says it.
func advice(v ranking.Verdict) string {
	switch v {
	case ranking.Take:
		return "Take"
	case ranking.Leave:
		return "Leave"
	}
	return "Visit first"
}

// chanceClause says a chance as the beginning of a sentence that goes on with "that …".
func chanceClause(p float64) string {
	switch s := words.Chance(p); {
	// Chances that were drawn are kept off 0 and 1; what comes here was not drawn.
	case p >= 1:
		return "It is sure, as far as the survey goes,"
	case p <= 0:
		return "By the survey there is no chance"
	case strings.Contains(s, "1 chance in"):
		return "There is " + s
	default:
		return "There are " + s
	}
}

// enough says how likely it is that the field is suited enough. A chance that is under a limit and would round to it is
// nearly that, so that nobody reads the limit and another verdict.
// limit is the chance that the verdict asked for; none leaves that comparison out.
func enough(f *ranking.Field, limit unit.Opt[float64]) string {
	p, ok := chance(f)
	if !ok {
		return "We do not know how likely it is that enough of the field is suited."
	}
	clause := chanceClause(p)
	if l, ok := limit.Get(); ok && p < l && words.Chance(p) == words.Chance(l) {
		clause = "There are nearly " + words.Chance(p)
	}
	end := "."
	if 0 < p && p < 1 {
		end = ", as far as the survey goes." // its own errors are not in the chance
	}
	// Of a plot, the half that is enough may be less than a figure shows.
	if f.Facts.Enough.Acres() < 0.05 {
		return clause + " that enough of it is suited" + end
	}
	return fmt.Sprintf("%s that %s or more are suited%s", clause, words.AcresAndHectares(f.Facts.Enough), end)
}

// because puts one ground of a verdict into a sentence of plain words.
// An unknown code is printed as it is.
func because(f *ranking.Field, r ranking.Reason) string {
	x := &f.Facts
	switch r.Code {
	case ranking.WhyEnough:
		return enough(f, r.Limit) + " Nothing that we know of asks for a visit first."
	case ranking.WhyTooLittle:
		return enough(f, r.Limit) + heldBack(x.Limits)
	case ranking.WhyDoubt:
		return enough(f, r.Limit) + " That is too close to call from a desk."
	case ranking.WhySmall:
		return fmt.Sprintf("Even at its best it has less than %s of suited ground.", words.AcresAndHectares(unit.Area(r.Limit.Or(0))))
	case ranking.WhyLoss:
		return "By your prices it would lose money even if all went well."
	case ranking.WhyMayLose:
		return "By your prices it would lose money at the likely figures."
	case ranking.WhyNoAnswer:
		return noAnswer(f)
	case ranking.WhyUnknown:
		return fmt.Sprintf("We know too little of the ground. Outside the survey or not rated: %s.", tenth(x.Unknown))
	case ranking.WhyHinges:
		return fmt.Sprintf("The survey gives a wide range for how acid the ground is (pH). For %s, one end of it is fit and the other is not.", tenth(x.Hinges))
	case ranking.WhyConfidence:
		return fmt.Sprintf("The survey itself is unsure of %s.", tenth(x.LowConfidence))
	case ranking.WhyRisk:
		return fmt.Sprintf("Of the ground called suited, about %s may prove worse.", tenth(f.Measures[ranking.Risk].Likely))
	case ranking.WhyMissing:
		return "We do not know " + words.Listed(lacking(r.Lacks)) + "."
	}
	return words.Sentence(r.Code)
}

// noAnswer says why nothing is known of a field.
func noAnswer(f *ranking.Field) string {
	why := f.Facts.Trouble
	// The code of a trouble is a phrase; most of them can stand in a sentence as they are.
	if why == "outside the survey" {
		why = "it lies outside the survey"
	}
	return "We have no answer for this field: " + words.Shown(strings.TrimSuffix(why, "."), 200) + "."
}

// heldBack names what limits ground that is not suited.
func heldBack(limits []suitability.Code) string {
	if len(limits) == 0 {
		return ""
	}
	return " What holds it back: " + words.Listed(limiting(limits)) + "."
}

// mostLimits is how many limits a sentence names: the largest.
const mostLimits = 3

// limiting names limits in plain words.
func limiting(limits []suitability.Code) []string {
	limits = limits[:min(len(limits), mostLimits)]
	names := make([]string, len(limits))
	for i, c := range limits {
		names[i] = words.Criterion(c, words.Landowner)
	}
	return names
}

// lacking names criteria that have no value.
func lacking(of []ranking.Criterion) []string {
	names := map[ranking.Criterion]string{ranking.Suited: "how much of it is suited", ranking.Cost: "what it would cost", ranking.Ready: "when it can be sown",
		ranking.Sure: "how sure that is", ranking.Risk: "how much of it may prove worse"}
	out := make([]string, len(of))
	for i, c := range of {
		out[i] = names[c]
	}
	return out
}

// changes says what would turn the advice round, a sentence each.
// One ground decides for Take and Leave; for a visit every ground has its own remedy, and all of them are told.
func changes(f *ranking.Field, v ranking.Verdict, why []ranking.Reason) []string {
	x := &f.Facts
	has := func(code string) bool {
		return slices.ContainsFunc(why, func(r ranking.Reason) bool { return r.Code == code })
	}
	switch {
	// What would turn the advice round is told even of a good field: the letter is no sales talk.
	case v == ranking.Take:
		return []string{"A soil test that asks for much more lime than we say.", "A visit that finds wet, shallow or worn ground where we say suited."}
	case has(ranking.WhyLoss):
		return []string{"Other prices: less for lime and sowing, or more for hay.", "A soil test that asks for less lime than we say."}
	case has(ranking.WhySmall):
		return []string{"More ground beside it that could be sown with it."}
	}
	var out []string
	if v == ranking.Leave {
		out = append(out, "A visit that shows the survey to be wrong here. Dig to see.")
		if slices.Contains(x.Limits, suitability.Drainage) {
			out[0] = "Drains that run well, or dry ground where the survey says wet. Dig to see."
		}
		out = append(out, fmt.Sprintf("Proof that %s or more are fit after all.", words.AcresAndHectares(x.Enough)))
		// The report and the plan of this field tell what that ground needs; the letter must not deny it.
		if s := x.ByClass[suitability.Suited]; s.Acres() >= 1 {
			out = append(out, fmt.Sprintf("Your own wish to sow the %s by themselves. The report tells what they need.", words.AcresAndHectares(s)))
		}
		return out
	}
	if has(ranking.WhyHinges) || slices.Contains(x.HingesOn, suitability.SubsoilPH) {
		out = append(out, "A soil sample from 12 to 40 in (30 to 100 cm) deep: if it is fit, take the field; if it is too sour, leave it.")
	}
	if has(ranking.WhyUnknown) || has(ranking.WhyNoAnswer) {
		out = append(out, "Holes dug where we know nothing: is the ground deep and well drained?")
	}
	if has(ranking.WhyDoubt) || has(ranking.WhyConfidence) || has(ranking.WhyRisk) {
		out = append(out, fmt.Sprintf("What you find when you dig: take the field if %s or more are deep, well drained and not too sour; else leave it.", words.AcresAndHectares(x.Enough)))
	}
	if has(ranking.WhyMissing) {
		out = append(out, "A soil test, which gives the figures that we lack.")
	}
	if has(ranking.WhyMayLose) {
		out = append(out, "Other prices, or a soil test that asks for less lime.")
	}
	return out
}

// nextStep says what to do next, with its day where one is known.
func (c *Choice) nextStep(f *ranking.Field, v ranking.Verdict) []string {
	s := f.Facts.Next
	by := ""
	if !s.Due.IsZero() {
		by = words.Date(s.Due.Format("2006-01-02"))
	}
	switch {
	case v == ranking.Leave:
		// The steps of its calendar are not told: whoever leaves a field needs no dates.
		return []string{"Leave the field in grass. Nothing is due."}
	case v == ranking.VisitFirst && by == "":
		return []string{"Walk the field, dig, and take soil samples before you order lime or sign anything."}
	case v == ranking.VisitFirst:
		return []string{"Walk the field, dig, and take soil samples, by " + by + "."}
	case by == "":
		return []string{"Take soil samples before you order lime."}
	}
	out := []string{words.StepName(s) + ", by " + by + "."}
	if !s.Last.IsZero() && !s.Next.First.IsZero() {
		out = append(out, fmt.Sprintf("After %s the sowing slips to %s.", words.Date(s.Last.Format("2006-01-02")), words.Date(s.Next.First.Format("2006-01-02"))))
	}
	return out
}
