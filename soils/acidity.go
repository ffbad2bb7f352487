package soils

import (
	"math"

	"rootworthy/soils/unit"
)

// PHOf is the reaction in water of a horizon: the representative value, for [WindowMean] and its kin.
func PHOf(h *Horizon) unit.Opt[unit.PH] { return h.PH.Value }

// WindowMeanPH returns the pH of the mean acidity over a window, and the thickness that has a value.
//
//	pH = -log10( Σ 10^-pH × overlap / Σ overlap )
//
// It is lower than the arithmetic mean where layers differ. The agency reports the arithmetic mean; a figure made
// this way must say so.
func WindowMeanPH(horizons []Horizon, w Window) (ph unit.Opt[unit.PH], covered unit.Depth) {
	acidity, covered := WindowMean(horizons, w, acidityOf)
	if a, ok := acidity.Get(); ok {
		return unit.Some(unit.PH(-math.Log10(a))), covered
	}
	return ph, covered
}

// UnitMeanPH is [WindowMeanPH] for a map unit: acidity averaged over depth, then over components by percent.
func UnitMeanPH(u *MapUnit, w Window) (ph unit.Opt[unit.PH], weight unit.Percent) {
	acidity, weight := UnitMean(u, func(c *Component) unit.Opt[float64] {
		// acidity goes through both means and is turned into pH once, at the end: a mean of two pH would be the arithmetic one again
		mean, _ := WindowMean(c.Horizons, w, acidityOf)
		return mean
	})
	if a, ok := acidity.Get(); ok {
		return unit.Some(unit.PH(-math.Log10(a))), weight
	}
	return ph, weight
}

// acidityOf is the hydrogen ion activity of a horizon, 10^-pH.
func acidityOf(h *Horizon) unit.Opt[float64] {
	if v, ok := h.PH.Value.Get(); ok {
		return unit.Some(math.Pow(10, -float64(v)))
	}
	return unit.None[float64]()
}
