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

// atEnds judges a component again with only its pH findings changed.
func (p *Profile) atEnds(e *evidence, findings []Finding) (ends pHEnds) {
	subsoil, surface := slices.Index(Codes(), SubsoilPH), slices.Index(Codes(), SurfacePH)
	again := func(ph func(*soils.Horizon) unit.Opt[unit.PH], which ...int) Class {
		fs := slices.Clone(findings)
		x := e.withPH(ph)
		for _, i := range which {
			fs[i] = Criteria()[i].find(p, x)
			fs[i].Criterion = Criteria()[i].Code
		}
		return p.judge(fs, true).class
	}
	ends[subsoilLow], ends[subsoilHigh] = again(lowPH, subsoil), again(highPH, subsoil)
	ends[surfaceLow], ends[surfaceHigh] = again(lowPH, surface), again(highPH, surface)
	ends[bothLow], ends[bothHigh] = again(lowPH, subsoil, surface), again(highPH, subsoil, surface)
	return ends
}

// hinges names the pH that the class of a unit hangs on: it would be another at the low or high end of the survey's
// range, so that survey pH cannot settle it. Where only both together move it, both are named.
func (p *Profile) hinges(class Class, percents []unit.Opt[unit.Percent], ends []pHEnds, total float64) []Code {
	if class == NotRated {
		return nil
	}
	moved := func(variants ...int) bool {
		for _, v := range variants {
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
	if on == nil && moved(bothLow, bothHigh) {
		on = []Code{SubsoilPH, SurfacePH}
	}
	return on
}
