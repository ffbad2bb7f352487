package suitability

import (
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// Again rates a unit again from the values that its rating holds, as when a limit of the profile is moved or drainage
// works are declared: no survey is needed. Where p reads the survey as the profile of r did (the same windows of depth,
// the same rules), the answer is that of [Profile.RateUnit] on the unit itself, but for what a rating does not keep: a
// hard layer under a soft one, and carbonates of a surface that reads between the old target and a higher new one.
func (p *Profile) Again(r UnitRating, opt RateOptions) UnitRating {
	if opt.Target.PH == 0 {
		opt.Target = p.DefaultTarget()
	}
	out := UnitRating{Target: opt.Target, Components: make([]ComponentRating, len(r.Components))}
	// the components of r are in the order of sorted already: that order does not hang on the profile, so it holds again
	ends := make([]pHEnds, len(r.Components))
	for i := range r.Components {
		out.Components[i], ends[i] = p.componentAgain(r.Components[i], opt)
	}
	out.Terrain = r.Terrain
	p.weigh(&out, ends, opt)
	// whether the tables describe the unit is no matter of limits, and weigh cannot know it from the components
	if r.WhyNotRated == WhyNoTable {
		out.WhyNotRated = WhyNoTable
	}
	return out
}

// componentAgain rates a component again; c is not changed.
func (p *Profile) componentAgain(c ComponentRating, opt RateOptions) (ComponentRating, pHEnds) {
	// no findings, so nothing to judge; its ends are NotRated throughout, as rateComponent gives them
	if c.Miscellaneous {
		return c, pHEnds{}
	}
	e := evidenceOf(&c, opt.Drained)
	c.Lime = limeAgain(&c, opt.Target)
	// limeAgain makes the figure anew and so without this caveat; componentLime adds it under the same condition
	if c.Lime.Figure.Or(0) > 0 && reckoned(e.Horizons, e.window(Figure{}, p.Rules.SurfaceTo)) {
		c.Lime.Caveats = append(c.Lime.Caveats, LimeReckoned)
	}
	// the rating that was passed in, and any other that shares its findings, stays as it is
	c.Findings = slices.Clone(c.Findings)
	for i := range c.Findings {
		c.Findings[i] = p.findAgain(c.Findings[i], e)
	}
	weighWitnesses(c.Findings, e)
	ends := p.conclude(&c, e, opt)
	return c, ends
}

// evidenceOf is the survey's side of a component as far as its rating tells. What a rating does not keep is absent: restrictions but for
// the one that decided, months, carbonates, pH in calcium chloride. The criteria that would read those are judged from their findings
// instead (see findAgain), never from this.
func evidenceOf(c *ComponentRating, drained bool) *evidence {
	e := &evidence{drained: drained, skipped: c.OrganicSkipped, ph: soils.PHOf}
	e.Name, e.Percent, e.Kind = c.Name, c.Percent, c.Kind
	e.Component.Drainage, _ = soils.ParseDrainage(c.finding(Drainage).Word)
	for _, h := range c.Horizons {
		e.Horizons = append(e.Horizons, soils.Horizon{Name: h.Name, Top: unit.Some(h.Top), Bottom: unit.Some(h.Bottom),
			PH: soils.Range[unit.PH]{Low: h.PHLow, Value: h.PH, High: h.PHHigh}, AWC: h.AWC, Texture: h.Texture, TextureReckoned: h.Reckoned})
	}
	// only a hard layer that decided the depth is known by its depth: AtLeast is where the description ends, no layer
	if f := c.finding(Depth); f.Value.Has() && !f.AtLeast && !f.Soft {
		e.isHard, e.hard = true, soils.Restriction{Kind: f.Word, Top: unit.Some(unit.Depth(f.Value.Or(0)))}
	}
	if c.finding(SubsoilPH).NotApplicable && !e.isHard { // a soft layer hides how deep the hard one lies
		e.isHard, e.hard = true, soils.Restriction{Top: unit.Some(unit.Depth(0))}
	}
	return e
}

// findAgain judges what a finding found by the limits of p.
func (p *Profile) findAgain(f Finding, e *evidence) Finding {
	switch f.Criterion {
	// the class word is all that this criterion reads, so it can be judged from the start, declared works included
	case Drainage:
		out := findDrainage(p, e)
		out.Criterion = f.Criterion
		return out
	case Flooding:
		return p.floodsAgain(f)
	case Ponding:
		return keep(f, p.Ponding.finding(f.Word), f.Note)
	case Depth:
		return p.depthAgain(f)
	case WaterTable:
		return p.waterTableAgain(f, e)
	case SubsoilPH:
		return p.phAgain(f, p.SubsoilPH)
	case SurfacePH:
		return p.phAgain(f, p.SurfacePH)
	case Salinity:
		return keep(f, p.Salinity.finding(f.Value), f.Note)
	case Sodicity:
		return keep(f, p.Sodicity.finding(f.Value), f.Note)
	case AvailableWater:
		return keep(f, p.AvailableWater.finding(f.Value), f.Note)
	case Slope:
		out := p.Slope.finding(f.Value)
		// the note follows from the class, so the old one must not survive a limit that was moved
		note := ""
		if out.Class > Suited {
			note = NoteMachines
		}
		out = keep(f, out, note)
		if f.Elevation {
			out.SurveyClass = p.Slope.finding(f.Survey).Class
		}
		return out
	}
	return f
}

// keep returns a new judgement with everything else that was known of the finding.
func keep(f, judged Finding, note string) Finding {
	out := f
	out.Score, out.Class, out.Limit, out.LimitWord = judged.Score, judged.Class, judged.Limit, judged.LimitWord
	out.Source, out.Status, out.Note = judged.Source, judged.Status, note
	return out
}

// floodsAgain judges flooding; that the floods stay long is known from the note alone, and has a score of its own.
func (p *Profile) floodsAgain(f Finding) Finding {
	out := keep(f, p.Flooding.finding(f.Word), f.Note)
	if f.Note == NoteLongFloods {
		out.rate(p.LongFlooding.Value)
		p.Flooding.attach(&out)
	}
	return out
}

// depthAgain judges depth; a soft layer is at worst marginal, as in findDepth.
func (p *Profile) depthAgain(f Finding) Finding {
	out := keep(f, p.Depth.finding(f.Value), f.Note)
	if f.Soft && out.Class == Unsuited {
		out.rate(MarginalMark)
		p.Depth.attach(&out, SuitedMark)
	}
	return out
}

// waterTableAgain judges the water table. Where no wet layer is described there is no value to judge: the end of the curve stands for
// one, as in findWaterTable, and Value stays missing. The old note falls: whether works lift it, and whether it speaks against the
// drainage class, is decided anew.
func (p *Profile) waterTableAgain(f Finding, e *evidence) Finding {
	if f.NoneDescribed() {
		last := p.WaterTable.Points[len(p.WaterTable.Points)-1]
		return keep(f, p.WaterTable.finding(unit.Some(last.Value)), NoteNoneDescribed)
	}
	out := keep(f, p.WaterTable.finding(f.Value), "")
	if e.drained && e.Component.Drainage > soils.VeryPoorlyDrained {
		if out.lift(p.Rules.DeclaredScore.Value); out.Note == NoteDeclared {
			p.WaterTable.attach(&out, markAbove(out.Class))
		}
	}
	return out
}

// phAgain judges a pH by the curve c. What the survey said beside a test is judged by the new limits too, since reports compare the two.
func (p *Profile) phAgain(f Finding, c Curve) Finding {
	if f.NotApplicable {
		return f
	}
	// how the value came about stays true under other limits; whether it is over one does not
	note := f.Note
	if note == NoteMicronutrients {
		note = ""
	}
	out := keep(f, c.finding(f.Value), note)
	if f.Criterion == SurfacePH {
		p.noteMicronutrients(&out)
	}
	if f.Tested {
		out.SurveyClass = c.finding(f.Survey).Class
	}
	return out
}

// limeAgain asks the texture table for another target.
func limeAgain(c *ComponentRating, target Target) ComponentLime {
	var texture lime.Texture // not recorded, unless its name is found
	for _, t := range lime.Textures() {
		if t.String() == c.Lime.Texture {
			texture = t
		}
	}
	f := c.finding(SurfacePH)
	ph, ok := f.Value.Get()
	// carbonates are known from the old answer alone; a test of the pH outweighs them, as in componentLime
	return screenLime(texture, ph, ok, c.Lime.Why == WhyCalcareous && !f.Tested, target)
}
