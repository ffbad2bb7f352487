package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// evidence is what the survey says of one component, counted from its mineral surface, as the criteria look at it.
type evidence struct {
	soils.Component
	skipped    unit.Depth // litter taken off the top
	hard, soft soils.Restriction
	isHard     bool
	isSoft     bool
	drained    bool // the user declares works
	// how a horizon's pH in water is read: the value, or an end of its range
	ph func(*soils.Horizon) unit.Opt[unit.PH]
}

// gather counts a component from its mineral surface and finds the layers that stop roots; all depths after it start there.
func gather(c soils.Component, drained bool) *evidence {
	e := &evidence{drained: drained, ph: soils.PHOf}
	e.Component, e.skipped = c.MineralSurface()
	// after re-zeroing, or their depths would count the litter
	e.hard, e.isHard = e.HardRestriction()
	e.soft, e.isSoft = e.SoftRestriction()
	return e
}

// window returns the span from one figure to another, cut at the hard restriction: roots see nothing below it.
func (e *evidence) window(from, to Figure) soils.Window {
	w := soils.Window{From: unit.Depth(from.Value), To: unit.Depth(to.Value)}
	if e.isHard {
		return w.CutAt(e.hard.Top)
	}
	return w
}

// withPH returns the same evidence with pH read by another function, as the low or high of the survey's range.
func (e *evidence) withPH(ph func(*soils.Horizon) unit.Opt[unit.PH]) *evidence {
	x := *e
	x.ph = ph
	return &x
}

// lowPH and highPH read the ends of the survey's range; where an end is not recorded, the value itself.
func lowPH(h *soils.Horizon) unit.Opt[unit.PH]  { return endOf(h.PH.Low, h.PH.Value) }
func highPH(h *soils.Horizon) unit.Opt[unit.PH] { return endOf(h.PH.High, h.PH.Value) }

// endOf is an end of the range where both it and the value are recorded, else the value, recorded or not.
func endOf(end, value unit.Opt[unit.PH]) unit.Opt[unit.PH] {
	// an end without a value is not used: a rating at the value and one at the ends must rest on the same horizons
	if !value.Has() || !end.Has() {
		return value
	}
	return end
}

// meanOf is the mean of a property over a window: missing, with the note that says why, when values cover under half.
func meanOf[T ~float64](e *evidence, w soils.Window, value func(*soils.Horizon) unit.Opt[T]) (mean unit.Opt[float64], covered unit.Depth, note string) {
	m, covered := soils.HalfCoveredMean(e.Horizons, w, value)
	if v, ok := m.Get(); ok {
		return unit.Some(roundInput(float64(v))), covered, ""
	}
	// nothing covered is plainly "not recorded" and needs no note
	if covered > 0 {
		note = NoteCovered
	}
	return mean, covered, note
}
