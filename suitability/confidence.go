package suitability

import (
	"slices"

	"rootworthy/soils/unit"
)

// confidence says how sure the class of a unit is. From a survey alone it is medium at best: high needs laboratory
// tests of surface and subsoil younger than three years.
func (p *Profile) confidence(r *UnitRating, opt RateOptions) Confidence {
	lower := []string{}
	add := func(when bool, reason string) {
		if when {
			lower = append(lower, reason)
		}
	}
	// the order is that of ConfidenceReasons, which the outputs keep
	add(r.Class == NotRated, ReasonNothingRated)
	// under half: most of the ground is something else, whatever holds the largest share
	add(r.Class != NotRated && r.Shares.Of(r.Class) < p.Rules.ConfidentWinning.Value, ReasonWinning)
	// the rest of the ground is not known, and thinly described minor soils are rated more often when they are bad than when they are
	// good
	add(r.Shares.Rated < p.Rules.ConfidentRated.Value, ReasonRated)
	add(len(r.HingesOn) > 0, ReasonHinges)
	add(witnessesDisagree(r), ReasonWitnesses)
	add(opt.General || float64(opt.Scale.Or(0)) > p.Rules.CoarsestScale.Value, ReasonCoarse)
	short := shortOfHigh(opt.Tested)
	switch {
	case len(lower) > 0:
		return Confidence{Low, append(lower, short...)}
	case len(short) > 0:
		return Confidence{Medium, short}
	}
	return Confidence{Level: High}
}

// shortOfHigh lists what the tests of a zone lack to make its class sure: both depths, young, and of the zone itself. Empty means that
// nothing is lacking.
func shortOfHigh(t Tested) []string {
	if !t.Any() {
		return []string{ReasonNoTest}
	}
	var out []string
	add := func(when bool, reason string) {
		// surface and subsoil may lack the same thing; it is said once
		if when && !slices.Contains(out, reason) {
			out = append(out, reason)
		}
	}
	either := func(is func(*TestedPH) bool) bool {
		return t.Surface != nil && is(t.Surface) || t.Subsoil != nil && is(t.Subsoil)
	}
	add(t.Surface == nil || t.Subsoil == nil, ReasonOneTest)
	add(either(func(x *TestedPH) bool { return x.Age == AgeOld }), ReasonOldTest)
	add(either(func(x *TestedPH) bool { return x.Age == AgeUnknown }), ReasonUndatedTest)
	add(either((*TestedPH).Wide), ReasonWideTest)
	add(either((*TestedPH).loose), ReasonLooseSurface)
	return out
}

// witnessesDisagree says whether drainage class and wet layer disagree in a component of the winning class.
func witnessesDisagree(r *UnitRating) bool {
	for i := range r.Components {
		c := &r.Components[i]
		// a component of another class, or of no percent, has no part in the answer, so its doubts are none about it
		if c.Class == r.Class && c.Class != NotRated && c.Percent.Or(0) > 0 &&
			slices.ContainsFunc(c.Findings, func(f Finding) bool { return f.Note == NoteWitnesses }) {
			return true
		}
	}
	return false
}

// ForZone returns the rating for a zone of the given area: confidence is low where the zone is smaller than the
// smallest area that the survey draws at its scale (a denominator; missing changes nothing). r is not changed; what
// it points to is shared.
func (p *Profile) ForZone(r UnitRating, area unit.Area, scale unit.Opt[int]) UnitRating {
	denominator, ok := scale.Get()
	// what is smaller than anything the surveyor would have drawn is a sliver that the boundary cut, and the soil lines are not that
	// exact
	if !ok || area >= p.SmallestZone(denominator) {
		return r
	}
	r.Confidence = r.Confidence.lowered(ReasonSmallZone)
	return r
}

// SmallestZone returns the smallest area that a survey of scale 1:denominator draws.
//
//	area = area on the map × denominator²      0.4 cm² at 1:20,000 is 16,000 m², 4 acres
//
// Source: Rules.SmallestOnMap of the profile.
func (p *Profile) SmallestZone(denominator int) unit.Area {
	const cm2 = 1e-4 // m²
	d := float64(denominator)
	return unit.Area(p.Rules.SmallestOnMap.Value * cm2 * d * d)
}

// lowered returns the confidence with one more reason to be low, the reasons in the order of [ConfidenceReasons].
func (c Confidence) lowered(reason string) Confidence {
	var reasons []string
	for _, x := range ConfidenceReasons() {
		if x == reason || slices.Contains(c.Reasons, x) {
			reasons = append(reasons, x)
		}
	}
	// a new slice: the old one is shared by every zone of the map unit
	return Confidence{Low, reasons}
}
