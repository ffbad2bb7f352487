package words

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// SampleSentences returns the words for the list of samples, for the technician who reads it.
func SampleSentences() export.SampleSentences {
	return export.SampleSentences{Why: sampleWhy, Caution: sampleCaution, Difference: sampleDifference}
}

// sampleWhy says why a sample has no figure, or needs none.
func sampleWhy(s *export.LimeSample) string {
	if no := s.Answer.Refusal; no != nil {
		return no.What + "; " + no.Fix
	}
	// The method's own code for it has words of the survey; a test says the same with its own.
	if s.Answer.Need.Why == lime.AtTarget {
		return LimeWhy(suitability.WhyTestAtTarget, Technician)
	}
	if s.Answer.Need.Why == "" {
		return ""
	}
	return LimeWhy(s.Answer.Need.Why, Technician)
}

// sampleCautions lists, by code, what a figure is worth.
func sampleCautions(s *export.LimeSample) []string {
	if s.Answer.Refusal != nil {
		return nil
	}
	var out []string
	add := func(when bool, code string) {
		if when {
			out = append(out, code)
		}
	}
	need := &s.Answer.Need
	out = append(out, need.Notes...)
	limes := need.Rate.Amount() > 0
	// What weakens a figure says nothing where none is asked for.
	add(limes && !need.Error.Has(), suitability.LimeErrorUnknown)
	add(limes && need.FieldLime.Has() && s.Product.ECCE == 0, suitability.LimeFieldProduct)
	add(s.Age == suitability.AgeOld, suitability.LimeOldTest)
	return out
}

// sampleCaution puts what a figure is worth into one cell.
func sampleCaution(s *export.LimeSample) string { return strings.Join(cautionLines(s), "; ") }

// cautionLines are sampleCautions in words, with what else weakens the sample.
func cautionLines(s *export.LimeSample) (parts []string) {
	for _, c := range sampleCautions(s) {
		parts = append(parts, LimeNote(c, Technician, nil))
	}
	if s.Sample.PHAssumed && s.Answer.Refusal == nil {
		parts = append(parts, waterTaken)
	}
	// A refused sample has its reason; what was taken for granted with it is no matter.
	if !s.Sample.Bottom.Has() && s.Answer.Refusal == nil {
		parts = append(parts, depthTaken)
	}
	if s.Age == suitability.AgeUnknown {
		parts = append(parts, TestAge(s.Age, Technician))
	}
	return parts
}

// What a file leaves open and the list takes for granted.
const (
	waterTaken = "the file does not say what pH was measured in: taken as water"
	depthTaken = "depth not stated: taken as the topsoil"
)

// agrees is how near two figures of lime lie that a spreader cannot tell apart: an eighth of a ton, half of its usual step.
// Source: common practice, no source.
const agrees = 0.125

// sampleDifference explains how a figure differs from the laboratory's own.
func sampleDifference(s *export.LimeSample) string {
	own, ok := limeplan.Own(s.Sample)
	if !ok || s.Answer.Refusal != nil || s.Answer.Need.Method == "laboratory" {
		return ""
	}
	ours, theirs := s.Answer.Need.Rate.Amount().ShortTonsPerAcre(), own.Rate.ShortTonsPerAcre()
	if math.Abs(ours-theirs) <= agrees {
		return "agrees with the laboratory's " + plain(theirs, 2)
	}
	side := "more"
	if ours < theirs {
		side = "less"
	}
	head := fmt.Sprintf("%s short tons/ac %s than the laboratory's %s", plain(math.Abs(ours-theirs), 2), side, plain(theirs, 2))
	return head + ": " + strings.Join(differenceCauses(s, own), "; ")
}

// differenceCauses lists what is known to part the two figures; what the laboratory does not say is said to be unsaid.
func differenceCauses(s *export.LimeSample, own lime.Given) []string {
	need := &s.Answer.Need
	var out []string
	if f, ok := need.FieldLime.Get(); ok {
		out = append(out, fmt.Sprintf("ours is pure lime, %s as common agricultural lime", tons(f.Amount().ShortTonsPerAcre())))
	} else if need.Rate.Amount() > 0 {
		out = append(out, "ours is "+need.Rate.Quality().String())
	}
	ours := "ours is to pH " + plain(float64(s.Target), 2)
	if d, ok := need.Depth.Get(); ok {
		ours += " over " + inches(d) + " of soil"
	}
	out = append(out, ours)
	theirs := "the laboratory's target, slice and quality of lime are its own"
	if own.Crop != "" {
		theirs = "the laboratory's is for " + own.Crop + "; its target, slice and quality of lime are its own"
	}
	return append(out, theirs, againstError(need, own.Rate))
}

// againstError says whether the laboratory's figure lies inside the likely error of ours.
func againstError(need *lime.Requirement, own unit.AreaRate) string {
	least, most, ok := need.Band()
	switch {
	case !ok || need.Rate.Amount() == 0:
		return "the error of ours is not known"
	// Within the error of the method the two do not contradict each other.
	case own >= least.Amount() && own <= most.Amount():
		return "it lies inside the likely error of ours"
	}
	return "it lies outside the likely error of ours: ask the laboratory for its target and slice"
}

// rateOf prints the rate of a sample with its error.
func rateOf(s *export.LimeSample) string {
	need := &s.Answer.Need
	if s.Answer.Refusal != nil {
		return "-"
	}
	x := need.Rate.Amount().ShortTonsPerAcre()
	// The error is a share of the figure; of nothing it is nothing.
	if e, ok := need.Error.Get(); ok && x > 0 {
		return someTons(x) + " ± " + someTons(x*float64(e))
	}
	return someTons(x)
}

// someTons prints tons to hundredths; a need that is less is not printed as none.
func someTons(x float64) string {
	if x > 0 && x < 0.005 {
		return "<0.01"
	}
	return fixed(x, 2)
}

// spreadOf prints the product of a sample.
func spreadOf(o unit.Opt[unit.AreaRate]) string {
	if x, ok := o.Get(); ok {
		return someTons(x.ShortTonsPerAcre())
	}
	return "-"
}
