package nutrient

import "fmt"

// Refusal is the error where a table has no answer: a test is missing or by another extractant, or the source of the table
// does not print what is asked for.
type Refusal struct {
	Code string // of [Refusals]
	What string // what is wrong
	Fix  string // what to do about it; often the question to ask the laboratory
}

// Error returns the refusal in a sentence.
func (r *Refusal) Error() string { return r.What + "; " + r.Fix }

// Codes of refusals, stable.
const (
	NotMeasured      = "not measured"          // the sample has no figure for the nutrient
	NotStated        = "extractant not stated" // so nobody knows what the figure means
	WrongExtractant  = "wrong extractant"      // not the one that the table was calibrated with
	SeveralFigures   = "several figures"       // and the table does not say which it is for
	NoDensity        = "density not given"     // a figure by volume cannot be had by mass
	BeyondDetection  = "beyond detection"      // "<25" where the class changes below 25
	BadValue         = "value not possible"    // negative, or no number
	ClassNeeded      = "class needed"          // the table knows classes but not where they end
	ClassUnknown     = "class not in table"    // the class the laboratory printed is none of the table's
	NotRated         = "not rated by table"    // the table does not rate the nutrient at all
	RateNotPrinted   = "rate not in table"     // the class is known; its rate was not readable in the source
	OtherClassNeeded = "other class needed"    // the rate depends on the class of another nutrient too
)

// Refusals lists every code.
func Refusals() []string {
	return []string{NotMeasured, NotStated, WrongExtractant, SeveralFigures, NoDensity, BeyondDetection, BadValue, ClassNeeded, ClassUnknown,
		NotRated, RateNotPrinted, OtherClassNeeded}
}

// refuse makes a refusal: code, what to do, and what is wrong in words.
func refuse(code, fix, format string, args ...any) *Refusal {
	return &Refusal{Code: code, What: fmt.Sprintf(format, args...), Fix: fix}
}
