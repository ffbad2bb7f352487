package ranking

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Verdict is what to do about a field. It hangs on the field alone, not on its place among others.
type Verdict string

// The verdicts.
const (
	Take       Verdict = "take"
	VisitFirst Verdict = "visit first"
	Leave      Verdict = "leave"
)

// Verdicts lists them, the best first.
func Verdicts() []Verdict { return []Verdict{Take, VisitFirst, Leave} }

// Why a field has its verdict, stable codes.
const (
	WhyEnough     = "suited enough"     // the chance of enough suited ground is high, and nothing speaks for a visit
	WhyTooLittle  = "too little suited" // that chance is low
	WhySmall      = "too small"         // even at its best there is less suited ground than is worth a trip
	WhyLoss       = "cannot pay"        // by the user's prices it loses money even where all goes well
	WhyMayLose    = "may not pay"       // it loses money at the likely figures
	WhyNoAnswer   = "no answer"         // nothing is known of the field
	WhyDoubt      = "chance in doubt"   // that chance is neither
	WhyUnknown    = "ground not known"  // that chance is not high, and much of the field is outside the survey, or not rated for want of data
	WhyHinges     = "hinges on pH"      // the class of much of it hangs on a pH that the survey cannot settle
	WhyConfidence = "low confidence"    // the survey itself is unsure of most of it
	WhyRisk       = "may prove worse"   // much of the ground called suited may be worse
	WhyMissing    = "value missing"     // a criterion that counts has no value; the chance of enough suited ground always counts here
)

// Whys lists them.
func Whys() []string {
	return []string{WhyEnough, WhyTooLittle, WhySmall, WhyLoss, WhyMayLose, WhyNoAnswer, WhyDoubt, WhyUnknown, WhyHinges, WhyConfidence, WhyRisk, WhyMissing}
}

// Reason is one ground of a verdict: what was found, and the limit that it passed.
type Reason struct {
	Code         string
	Found, Limit unit.Opt[float64] // shares and chances, 0…1, or m² for [WhySmall]; missing where there is nothing to compare
	Lacks        []Criterion       // for [WhyMissing]
}

// Rules are the limits of the verdict. Shares, chances: 0…1.
type Rules struct {
	Enough     float64   // share of a field that is suited enough …
	EnoughArea unit.Area // … or this much ground, whichever is less
	Small      unit.Area // with less suited ground than this at its best: leave
	Leave      float64   // a smaller chance of enough suited ground: leave
	Take       float64   // at least this chance of it: take
	Unknown    float64   // from this share of unknown ground on the field is not left: visit first
	Hinges     float64   // from this share of the rated ground on: visit first
	Confidence float64   // from this share of rated ground with low confidence on: visit first
	Risk       float64   // from this share of the ground called suited on: visit first
}

// Wanted is how much suited ground is enough, for the study that [Gather] takes.
func (r Rules) Wanted() uncertainty.Enough {
	return uncertainty.Enough{Share: r.Enough, Area: r.EnoughArea}
}

// ProposedRules returns the rules that hold where nobody sets others. [Limits] puts each in words.
// Source: proposal of this program.
func ProposedRules() Rules {
	return Rules{Enough: 0.5, EnoughArea: unit.Acres(20), Small: unit.Acres(1), Leave: 0.3, Take: 0.8, Unknown: 0.25, Hinges: 0.25, Confidence: 0.5, Risk: 0.25}
}

// Limit is one number of the rules with its meaning, for reports.
type Limit struct {
	Name   string
	Value  float64
	Unit   string // "share", "chance" or "acres"
	What   string
	Status suitability.Status
}

// Limits lists the numbers of rules.
func (r Rules) Limits() []Limit {
	const p = suitability.Proposal
	return []Limit{
		{"enough", r.Enough, "share", "of a field that is suited once limed is enough", p},
		{"enough area", r.EnoughArea.Acres(), "acres", "of such ground are enough, however large the field", p},
		{"small", r.Small.Acres(), "acres", "of suited ground at best: with less the field is left", p},
		{"leave", r.Leave, "chance", "of enough suited ground: below it the field is left", p},
		{"take", r.Take, "chance", "of enough suited ground: from here on the field is taken, unless something below asks for a visit", p},
		{"unknown", r.Unknown, "share", "of the field outside the survey or without data: from here on a visit comes first, unless what is known is enough", p},
		{"hinges", r.Hinges, "share", "of the rated ground that hangs on a pH the survey cannot settle: from here on a visit comes first", p},
		{"confidence", r.Confidence, "share", "of the rated ground with low confidence: from here on a visit comes first", p},
		{"risk", r.Risk, "share", "of the ground called suited that may prove worse: from here on a visit comes first", p},
	}
}

// judge gives the verdict. A field is left only where too little of it is suited and most of it is known, or where it is too small or cannot pay; it is taken
// only where it is suited enough and nothing asks for a look. Everything else is visited first. lacks is what is missing among the criteria
// that the user gives weight to; it is not changed.
func (r Rules) judge(f *Field, lacks []Criterion) (Verdict, []Reason) {
	x := &f.Facts
	// the order of the questions is that of what settles the matter: ground that is not there cannot be had by a visit
	chance, known := f.Measures[Sure].Value().Get()
	if known && chance < r.Leave && x.Unknown < r.Unknown {
		return Leave, []Reason{found(WhyTooLittle, chance, r.Leave)}
	}
	// at its best, since being left for its size is final; not where much of the field was never looked at
	if suited := f.Measures[Suited]; suited.State == Known && suited.High < float64(r.Small) && x.Unknown < r.Unknown {
		return Leave, []Reason{found(WhySmall, suited.High, float64(r.Small))}
	}
	if x.Value.State == Known && x.Value.High < 0 {
		return Leave, []Reason{{Code: WhyLoss}}
	}
	var why []Reason
	add := func(when bool, reason Reason) {
		if when {
			why = append(why, reason)
		}
	}
	risk := f.Measures[Risk].Value().Or(0)
	add(known && chance >= r.Leave && chance < r.Take, found(WhyDoubt, chance, r.Take))
	add(x.Unknown >= r.Unknown && chance < r.Take, found(WhyUnknown, x.Unknown, r.Unknown))
	add(x.Hinges >= r.Hinges, found(WhyHinges, x.Hinges, r.Hinges))
	// pH that hinges makes confidence low too: it is said once, by the reason that tells what to do
	add(x.LowConfidence >= r.Confidence && x.Hinges < r.Hinges, found(WhyConfidence, x.LowConfidence, r.Confidence))
	add(risk >= r.Risk, found(WhyRisk, risk, r.Risk))
	add(x.Value.State == Known && x.Value.Likely < 0, Reason{Code: WhyMayLose})
	// weights order fields, but to take one is to trust in that chance, whatever it weighs
	if !known && !slices.Contains(lacks, Sure) {
		lacks = append(slices.Clone(lacks), Sure)
		slices.Sort(lacks) // as criteria are listed everywhere
	}
	add(len(lacks) > 0, Reason{Code: WhyMissing, Lacks: lacks})
	if len(why) > 0 {
		return VisitFirst, why
	}
	return Take, []Reason{found(WhyEnough, chance, r.Take)}
}

// found is a reason with what was found and the limit that it passed.
func found(code string, value, limit float64) Reason {
	return Reason{Code: code, Found: unit.Some(value), Limit: unit.Some(limit)}
}
