package suitability

import (
	"math"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// verdict is what a set of findings makes of a component.
type verdict struct {
	class    Class
	score    unit.Opt[float64] // lowest of those used; missing when not rated
	limiting Code              // "" when suited or not rated
}

// judge finds the worst criterion. A known unsuited value decides whatever is missing; otherwise a missing core value
// makes the component not rated. With corrected, surface acidity that lime corrects is left out.
func (p *Profile) judge(findings []Finding, corrected bool) verdict {
	var v verdict
	missing := false
	worst, lowest := math.Inf(1), math.Inf(1)
	for i, c := range Criteria() {
		f := findings[i]
		// a subsoil that does not exist is not a value that is missing: it never keeps ground from being rated
		if f.Class == NotRated {
			missing = missing || c.Core && !f.NotApplicable
			continue
		}
		if corrected && p.correctable(f) {
			continue
		}
		s := f.Score.Or(0)
		lowest = min(lowest, s)
		// the first of equals stays: findings come in the order that breaks ties
		if f.Class > v.class || f.Class == v.class && s < worst {
			v.class, v.limiting, worst = f.Class, f.Criterion, s
		}
	}
	// nothing that is still unknown could make an unsuited component better; it could make a suited one worse
	if v.class != Unsuited && missing || v.class == NotRated {
		return verdict{}
	}
	// the lowest of good scores limits nothing
	if v.class == Suited {
		v.limiting = ""
	}
	v.score = unit.Some(lowest)
	return v
}

// scoreMean is the geometric mean of the scores used: a second figure, to rank ground of equal score.
func (p *Profile) scoreMean(findings []Finding) unit.Opt[float64] {
	sum, n := 0.0, 0
	for _, f := range findings {
		if s, ok := f.Score.Get(); ok && !p.correctable(f) {
			// a score of 0 has the logarithm -Inf, and the mean is then 0: as it should be, and no case of its own
			sum += math.Log(s)
			n++
		}
	}
	if n == 0 {
		return unit.None[float64]()
	}
	return unit.Some(roundScore(math.Exp(sum / float64(n))))
}

// rateComponent rates one component. ends is what the same component would be at the ends of its pH ranges.
func (p *Profile) rateComponent(c soils.Component, opt RateOptions) (r ComponentRating, ends pHEnds) {
	r = ComponentRating{Name: c.Name, Percent: c.Percent, Kind: c.Kind, Miscellaneous: c.Miscellaneous()}
	e := gather(c, opt.Drained)
	opt.Terrain.replaceSlope(e)
	r.OrganicSkipped = e.skipped
	r.Horizons = horizonsUsed(e.Horizons)
	// before the miscellaneous areas leave: they too say why they have no figure
	r.Lime = p.componentLime(e, opt.Target, opt.Tested)
	if r.Miscellaneous {
		r.WhyNotRated = WhyMiscellaneous
		return r, ends
	}
	r.Findings = p.findAll(e)
	// after findAll, so that the survey's own value and class are there to be kept beside the test
	p.overrule(r.Findings, opt.Tested)
	p.besideElevation(r.Findings, c, opt.Terrain)
	ends = p.conclude(&r, e, opt)
	return r, ends
}

// conclude draws the rating of a component from its findings. It is shared by a rating from the survey and one from an earlier rating,
// and so sets again all that depends on the findings.
func (p *Profile) conclude(r *ComponentRating, e *evidence, opt RateOptions) (ends pHEnds) {
	r.WhyNotRated, r.Missing, r.ScoreMean = "", nil, unit.None[float64]()
	// both always: ground that is suited once limed is another purchase than ground that is suited today
	v, today := p.judge(r.Findings, true), p.judge(r.Findings, false)
	r.Class, r.Score, r.Limiting = v.class, v.score, v.limiting
	r.ClassToday, r.ScoreToday, r.LimitingToday = today.class, today.score, today.limiting
	if r.Class == NotRated {
		r.WhyNotRated = WhyCoreMissing
	} else {
		r.ScoreMean = p.scoreMean(r.Findings)
	}
	for _, f := range r.Findings {
		if f.Class == NotRated && !f.NotApplicable {
			r.Missing = append(r.Missing, f.Criterion)
		}
	}
	// by the subsoil's suited limit all the way up, topsoil included
	if low, ok := p.SubsoilPH.lowerLimit(); ok {
		r.LimitDepth = soils.FirstBelow(e.Horizons, unit.PH(low), opt.Tested.phOf)
	}
	return p.atEnds(e, r.Findings, opt.Tested)
}

// horizonsUsed keeps the horizons that have both depths, in their order: without them a horizon has no part in any mean.
func horizonsUsed(horizons []soils.Horizon) []HorizonUsed {
	out := make([]HorizonUsed, 0, len(horizons))
	for i := range horizons {
		h := &horizons[i]
		top, okTop := h.Top.Get()
		bottom, okBottom := h.Bottom.Get()
		if okTop && okBottom {
			out = append(out, HorizonUsed{Name: h.Name, Top: top, Bottom: bottom, PH: h.PH.Value, PHLow: h.PH.Low,
				PHHigh: h.PH.High, AWC: h.AWC, Texture: h.Texture, Reckoned: h.TextureReckoned})
		}
	}
	return out
}
