package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// PHReading judges one component at other values than those found, first of all of its pH, by the rules of a profile. Everything
// else about the component stays. Get it from [Profile.Reading]; it is not safe for use by several goroutines at once. It exists because
// drawing thousands of possible values per component by a full rating would gather the same evidence each time.
type PHReading struct {
	profile          *Profile
	evidence         *evidence
	findings         []Finding
	surface, subsoil int // indexes into findings; -1 on what is no soil
	texture          lime.Texture
	// whether the survey records carbonates, as far as the lime figure of the rating tells
	chalk  bool
	target unit.PH
}

// Reading returns the judge of a component of a rating whose lime is for target; c is not changed.
func (p *Profile) Reading(c *ComponentRating, target unit.PH) *PHReading {
	r := &PHReading{profile: p, surface: -1, subsoil: -1, target: target}
	for _, t := range lime.Textures() {
		if t.String() == c.Lime.Texture {
			r.texture = t
		}
	}
	if c.Miscellaneous {
		return r
	}
	// whether works were declared is not kept in the rating; it shows in the notes, but only where the works lifted something (see DeclareDrained)
	r.evidence = evidenceOf(c, c.finding(Drainage).Note == NoteDeclared || c.finding(WaterTable).Note == NoteDeclared)
	for i, f := range c.Findings {
		// a copy, entry by entry: Class changes two of them for a while
		r.findings = append(r.findings, f)
		switch f.Criterion {
		case SurfacePH:
			r.surface, r.chalk = i, c.Lime.Why == WhyCalcareous && !f.Tested
		case SubsoilPH:
			r.subsoil = i
		}
	}
	return r
}

// DeclareDrained tells the judge that works are declared on the field. Works that lifted nothing as the survey has it leave no trace in
// the rating; yet at the shallow end of the range of the water table they would lift it, and [PHReading.Judged] must do so too.
func (r *PHReading) DeclareDrained() {
	// what is no soil has no findings to lift
	if r.evidence != nil {
		r.evidence.drained = true
	}
}

// Found returns the pH of the two windows as the rating has it; missing where it has none.
func (r *PHReading) Found() (surface, subsoil unit.Opt[float64]) {
	if r.surface < 0 || r.subsoil < 0 {
		return surface, subsoil
	}
	return r.findings[r.surface].Value, r.findings[r.subsoil].Value
}

// Means returns the pH of the two windows when that of every horizon is what at makes of the survey's low, value and
// high; an end that is not recorded is the value itself. It is missing where [PHReading.Found] is.
func (r *PHReading) Means(at func(low, value, high unit.PH) unit.PH) (surface, subsoil unit.Opt[float64]) {
	top, deep := r.Found()
	if r.evidence == nil {
		return top, deep
	}
	move := func(found unit.Opt[float64], w soils.Window) unit.Opt[float64] {
		x, ok := found.Get()
		if !ok {
			return found
		}
		usual, _ := soils.HalfCoveredMean(r.evidence.Horizons, w, soils.PHOf)
		moved, _ := soils.HalfCoveredMean(r.evidence.Horizons, w, func(h *soils.Horizon) unit.Opt[unit.PH] {
			v, ok := h.PH.Value.Get()
			if !ok {
				return h.PH.Value
			}
			return unit.Some(at(min(v, h.PH.Low.Or(v)), v, max(v, h.PH.High.Or(v))))
		})
		// what a rating does not keep (a hard layer under a soft one) may cut the window elsewhere: the step is added to
		// what was found, so that without a step the finding is met exactly
		return unit.Some(x + float64(moved.Or(0)-usual.Or(0)))
	}
	rules := &r.profile.Rules
	return move(top, r.evidence.window(Figure{}, rules.SurfaceTo)), move(deep, r.evidence.window(rules.SubsoilFrom, rules.SubsoilTo))
}

// Class returns the class of the component at other values, once corrected and today. A missing value leaves the finding
// as it is; where a hard layer leaves no subsoil, its pH counts for nothing.
func (r *PHReading) Class(surface, subsoil unit.Opt[float64]) (class, today Class) {
	if r.surface < 0 || r.subsoil < 0 {
		return NotRated, NotRated
	}
	top, deep := r.findings[r.surface], r.findings[r.subsoil]
	r.put(r.surface, r.profile.SurfacePH, surface)
	r.put(r.subsoil, r.profile.SubsoilPH, subsoil)
	class, today = r.profile.judge(r.findings, true).class, r.profile.judge(r.findings, false).class
	r.findings[r.surface], r.findings[r.subsoil] = top, deep
	return class, today
}

// put judges a pH in the place of the finding i. Only what judge looks at is filled in.
func (r *PHReading) put(i int, c Curve, v unit.Opt[float64]) {
	if !v.Has() || r.findings[i].NotApplicable {
		return
	}
	code := r.findings[i].Criterion
	r.findings[i] = c.finding(v)
	r.findings[i].Criterion = code
}

// Lime returns the screening figure of the component at a surface pH; missing where the table has none.
func (r *PHReading) Lime(surface unit.Opt[float64]) unit.Opt[unit.AreaRate] {
	if r.surface < 0 {
		return unit.None[unit.AreaRate]()
	}
	ph, ok := surface.Get()
	// the source of the target does not move the figure
	return screenLime(r.texture, ph, ok, r.chalk, Target{PH: r.target}).Figure
}

// Dominant returns the class that shares of a zone make, as a rating draws it.
func (p *Profile) Dominant(s Shares) Class { return p.dominant(s) }
