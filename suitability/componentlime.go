package suitability

import (
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// componentLime is the screening figure of a component: what its surface texture and pH ask for. Carbonates in a
// surface that reads under the target mean no need all the same, unless a test read it; an organic surface, or one without
// pH or texture, has no figure. A tested pH takes the place of the survey's.
func (p *Profile) componentLime(e *evidence, target Target, t Tested) ComponentLime {
	if e.Miscellaneous() {
		return ComponentLime{Why: WhyNotSoil}
	}
	// Figure{} has the value 0: from the mineral surface
	w := e.window(Figure{}, p.Rules.SurfaceTo)
	texture, _ := lime.SurfaceTexture(e.Horizons, w)
	mean, _, _ := meanOf(e, w, e.ph)
	ph, ok := mean.Get()
	chalk := calcareous(e, w)
	if t.Surface != nil {
		// carbonates keep a soil near neutral; a sample that reads under the target all the same shows that this ground has none to spare
		ph, ok, chalk = float64(t.Surface.PH), true, false
	}
	l := screenLime(texture, ph, ok, chalk, target)
	if l.Figure.Or(0) > 0 && reckoned(e.Horizons, w) {
		l.Caveats = append(l.Caveats, LimeReckoned)
	}
	return l
}

// reckoned says whether the survey names no texture of a horizon in the window.
func reckoned(horizons []soils.Horizon, w soils.Window) bool {
	return slices.ContainsFunc(horizons, func(h soils.Horizon) bool { return h.TextureReckoned && h.Top.Or(0) < w.To })
}

// screenLime is the figure of a surface of known texture and pH; ok is false where no pH is recorded. chalk says that the survey records
// carbonates. The order of the cases is that of what can be said at all: without a pH an organic surface is named as such, since a pH
// would not give it a figure either.
func screenLime(texture lime.Texture, ph float64, ok, chalk bool, target Target) ComponentLime {
	switch {
	case !ok && texture == lime.Organic:
		return ComponentLime{Why: WhyOrganic, Texture: texture.String()}
	case !ok:
		return ComponentLime{Why: WhyNoSurfacePH, Texture: texture.String()}
	case chalk && ph < float64(target.PH):
		return ComponentLime{Figure: unit.Some(unit.AreaRate(0)), Why: WhyCalcareous, Texture: texture.String()}
	}
	s := lime.Screen(texture, unit.PH(ph), target.PH)
	return ComponentLime{Figure: s.Rate, Texture: texture.String(), Column: s.Column.String(), Bound: s.Bound, Why: s.Why, Caveats: s.Caveats}
}

// calcareous says whether the survey records carbonates in the window.
func calcareous(e *evidence, w soils.Window) bool {
	mean, _ := soils.WindowMean(e.Horizons, w, func(h *soils.Horizon) unit.Opt[unit.Percent] { return h.Carbonate })
	// no value recorded counts as none: nothing is claimed that nobody described
	return mean.Or(0) > 0
}
