package suitability

import (
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// The ends of the survey's pH ranges at which a component is rated again. In the last two, surface and subsoil move
// together.
const (
	subsoilLow = iota
	subsoilHigh
	surfaceLow
	surfaceHigh
	bothLow
	bothHigh
	pHVariants
)

// pHEnds is the class of a component at each of them.
type pHEnds [pHVariants]Class

// atEnds judges a component again with only its pH findings changed. What was tested does not move. The class is the one once corrected,
// which is what [Profile.hinges] compares it with.
func (p *Profile) atEnds(e *evidence, findings []Finding, t Tested) (ends pHEnds) {
	subsoil, surface := slices.Index(Codes(), SubsoilPH), slices.Index(Codes(), SurfacePH)
	// judged many times over with two entries changed: the findings themselves go into the rating and stay
	scratch := slices.Clone(findings)
	class := func(subsoilPH, surfacePH Finding) Class {
		scratch[subsoil], scratch[surface] = subsoilPH, surfacePH
		return p.judge(scratch, true).class
	}
	at := func(ph func(*soils.Horizon) unit.Opt[unit.PH]) (sub, sur Finding) {
		x := e.withPH(ph)
		sub, sur = findSubsoilPH(p, x), findSurfacePH(p, x)
		sub.Criterion, sur.Criterion = SubsoilPH, SurfacePH
		// the range is the survey's; ground that was tested has a number of its own, and its low and high are equal
		p.overruleOne(&sub, t.Subsoil)
		p.overruleOne(&sur, t.Surface)
		return sub, sur
	}
	subLow, surLow := at(lowPH)
	subHigh, surHigh := at(highPH)
	sub, sur := findings[subsoil], findings[surface]
	return pHEnds{subsoilLow: class(subLow, sur), subsoilHigh: class(subHigh, sur), surfaceLow: class(sub, surLow),
		surfaceHigh: class(sub, surHigh), bothLow: class(subLow, surLow), bothHigh: class(subHigh, surHigh)}
}

// hinges names the pH that the class of a unit hangs on: it would be another at the low or high end of the survey's
// range, so that survey pH cannot settle it. Where only both together move it, both are named.
func (p *Profile) hinges(class Class, percents []unit.Opt[unit.Percent], ends []pHEnds, total float64) []Code {
	if class == NotRated {
		return nil
	}
	moved := func(variants ...int) bool {
		for _, v := range variants {
			// all components move to the same end at once, as if the survey read low, or high, throughout
			s := shareOut(percents, func(i int) Class { return ends[i][v] }, total)
			if p.dominant(s) != class {
				return true
			}
		}
		return false
	}
	var on []Code
	if moved(subsoilLow, subsoilHigh) {
		on = append(on, SubsoilPH)
	}
	if moved(surfaceLow, surfaceHigh) {
		on = append(on, SurfacePH)
	}
	// together is the last question, as it would always name both where one alone does it
	if on == nil && moved(bothLow, bothHigh) {
		on = []Code{SubsoilPH, SurfacePH}
	}
	return on
}
