package taskdata

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/suitability"
)

// testBasis begins the basis of a rate that rests on laboratory tests.
const testBasis = "test"

// untestedMark begins the name of every task whose rates nobody tested.
const untestedMark = "UNTESTED"

// UntestedError refuses to make a spreader's file of rates that rest on a survey.
type UntestedError struct {
	Zones  []string // ids of the zones that would get such a rate
	Fields []string // ids of their fields, in the order of the run
}

// mostListed is how many zones a sentence lists.
const mostListed = 12

// Error says why, and what to sample.
func (e *UntestedError) Error() string {
	zones := strings.Join(e.Zones[:min(len(e.Zones), mostListed)], ", ")
	if more := len(e.Zones) - mostListed; more > 0 {
		zones += fmt.Sprintf(" and %d more", more)
	}
	// Named at once: beside them a run may have zones with tests, and whoever paid for those should not read that nothing was tested.
	come, sample := "the rates of zones "+zones+" come", "Sample each of them apart (15 to 20 cores each"
	if len(e.Zones) == 1 {
		come, sample = "the rate of zone "+zones+" comes", "Sample it (15 to 20 cores"
	}
	return come + " from the soil survey and not from a lime test; the survey is decades old and says nothing of lime since: a budget, not a rate to spread. " +
		sample + ", 0 to 3 in deep on sod, and what your laboratory asks for), have pH and buffer pH tested, " +
		"and run again with the results. To make the file all the same: --untested-ok \"REASON\", which marks every file"
}

// Untested says whether some rate rests on a survey alone and was let through.
func (p *Plan) Untested() bool { return p.options.UntestedReason != "" }

// UntestedText is the stamp for every file: that the rates are untested, and why they were let through; "" for tested
// rates.
func (p *Plan) UntestedText() string {
	if !p.Untested() {
		return ""
	}
	return "UNTESTED: rates from a soil survey, without a lime test. Let through because: " + visible(p.options.UntestedReason)
}

// Refusal returns the [UntestedError] that [NewPlan] would, nil where it would not, and works nothing out: to know
// beforehand whether a run can be spread.
func Refusal(r *suitability.Result, o Options) error {
	fields, err := chosen(r, o.Fields)
	if err != nil {
		return err
	}
	return (&Plan{options: o}).refuseUntested(r, fields)
}

// refuseUntested refuses untested rates without a reason, and forgets a reason that is not needed: a stamp on tested
// rates would teach people to pass over it.
func (p *Plan) refuseUntested(r *suitability.Result, fields []*suitability.Field) error {
	e := &UntestedError{}
	for _, f := range fields {
		for _, z := range export.ZonesOf(r, f) {
			if z.Lime.Product.Or(0) > 0 && !strings.HasPrefix(z.Lime.Basis, testBasis) {
				e.Zones = append(e.Zones, z.ID)
				if n := len(e.Fields); n == 0 || e.Fields[n-1] != f.ID {
					e.Fields = append(e.Fields, f.ID)
				}
			}
		}
	}
	switch {
	case len(e.Zones) == 0:
		p.options.UntestedReason = ""
	// A reason of blanks is none.
	case visible(p.options.UntestedReason) == "":
		return e
	}
	return nil
}
