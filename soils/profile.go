package soils

import "rootworthy/soils/unit"

// Window is a span of depth, From included, To not; From < To.
type Window struct{ From, To unit.Depth }

// Thickness returns the length of the window in centimetres, zero when it is empty.
func (w Window) Thickness() unit.Depth { return max(0, w.To-w.From) }

// CutAt returns the part of the window above limit; a missing limit cuts nothing. The result may be empty.
func (w Window) CutAt(limit unit.Opt[unit.Depth]) Window {
	if l, ok := limit.Get(); ok {
		w.To = min(w.To, l)
	}
	return w
}

// overlap returns how much of horizon h lies in w; ok is false when the survey does not say where h lies.
func (w Window) overlap(h *Horizon) (cm unit.Depth, ok bool) {
	top, okTop := h.Top.Get()
	bottom, okBottom := h.Bottom.Get()
	if !okTop || !okBottom {
		return 0, false
	}
	return max(0, min(bottom, w.To)-max(top, w.From)), true
}

// WindowMean returns the mean of a property over a window, weighted by thickness.
//
//	mean = Σ value × overlap / Σ overlap    over the horizons that have a value
//
// covered is Σ overlap in centimetres: the mean says nothing of the rest of the window, which the caller must judge.
// pH is averaged as it stands, as the agency reports it; see [WindowMeanPH] for the mean of acidity.
// Source: aggregation by horizon overlap as in the agency's own weighted averages over a depth range.
func WindowMean[T ~float64](horizons []Horizon, w Window, value func(*Horizon) unit.Opt[T]) (mean unit.Opt[T], covered unit.Depth) {
	var sum float64
	for i := range horizons {
		v, has := value(&horizons[i]).Get()
		cm, placed := w.overlap(&horizons[i])
		// a value in a horizon that does not reach into the window speaks of other ground
		if has && placed && cm > 0 {
			sum += float64(v) * float64(cm)
			covered += cm
		}
	}
	if covered == 0 {
		return mean, 0
	}
	return unit.Some(T(sum / float64(covered))), covered
}

// HalfCoveredMean is [WindowMean], missing when values cover less than half of the window. An empty window has no mean.
// Source: half is a judgement; common practice, no source.
func HalfCoveredMean[T ~float64](horizons []Horizon, w Window, value func(*Horizon) unit.Opt[T]) (mean unit.Opt[T], covered unit.Depth) {
	mean, covered = WindowMean(horizons, w, value)
	// just half is enough
	if 2*covered < w.Thickness() {
		return unit.None[T](), covered
	}
	return mean, covered
}

// WindowSum returns Σ value × overlap over a window; depth without a value counts as nothing. It is missing only when
// no placed horizon of the profile, inside the window or below it, has a value: a profile whose first value lies
// deeper sums to zero. covered is as for [WindowMean].
func WindowSum[T ~float64](horizons []Horizon, w Window, value func(*Horizon) unit.Opt[T]) (sum unit.Opt[float64], covered unit.Depth) {
	var total float64
	any := false
	for i := range horizons {
		v, has := value(&horizons[i]).Get()
		cm, placed := w.overlap(&horizons[i])
		if !has || !placed {
			continue
		}
		// also for a horizon below the window: the profile was measured, and holds nothing so far up
		any = true
		total += float64(v) * float64(cm)
		if cm > 0 {
			covered += cm
		}
	}
	if !any {
		return sum, 0
	}
	return unit.Some(total), covered
}

// AvailableWater returns the water the profile holds for plants between the surface and depth, and the thickness that
// has a value. The survey's capacity is already net of rock fragments and salinity.
//
//	water = Σ awc (cm/cm) × thickness (cm) × 10 mm/cm
func AvailableWater(horizons []Horizon, depth unit.Depth) (water unit.Opt[unit.Water], covered unit.Depth) {
	return waterBy(horizons, depth, func(h *Horizon) unit.Opt[float64] { return h.AWC })
}

// WaterEnds returns [AvailableWater] with every horizon at the low and at the high end of its range; an end that is not recorded is
// the value itself.
func WaterEnds(horizons []Horizon, depth unit.Depth) (low, high unit.Opt[unit.Water]) {
	end := func(e func(*Horizon) unit.Opt[float64]) func(*Horizon) unit.Opt[float64] {
		return func(h *Horizon) unit.Opt[float64] {
			if x := e(h); x.Has() && h.AWC.Has() {
				return x
			}
			return h.AWC
		}
	}
	low, _ = waterBy(horizons, depth, end(func(h *Horizon) unit.Opt[float64] { return h.AWCLow }))
	high, _ = waterBy(horizons, depth, end(func(h *Horizon) unit.Opt[float64] { return h.AWCHigh }))
	return low, high
}

// waterBy sums up capacity read by awc, to a depth in centimetres.
func waterBy(horizons []Horizon, depth unit.Depth, awc func(*Horizon) unit.Opt[float64]) (water unit.Opt[unit.Water], covered unit.Depth) {
	sum, covered := WindowSum(horizons, Window{0, depth}, awc)
	if cm, ok := sum.Get(); ok {
		// centimetres of water to millimetres
		return unit.Some(unit.Water(10 * cm)), covered
	}
	return water, covered
}

// DescribedDepth returns the bottom of the deepest horizon, zero when none is placed. It is where the describer
// stopped (often 152 or 203 cm, that is 60 or 80 inches), which is no evidence of rock.
func DescribedDepth(horizons []Horizon) unit.Depth {
	var deepest unit.Depth
	for i := range horizons {
		deepest = max(deepest, horizons[i].Bottom.Or(0))
	}
	return deepest
}

// FirstBelow returns the top of the shallowest horizon whose value is under limit; missing when there is none.
func FirstBelow[T ~float64](horizons []Horizon, limit T, value func(*Horizon) unit.Opt[T]) unit.Opt[unit.Depth] {
	var first unit.Opt[unit.Depth]
	for i := range horizons {
		if v, ok := value(&horizons[i]).Get(); ok && v < limit {
			first = shallower(first, horizons[i].Top)
		}
	}
	return first
}

// shallower returns the lesser of two depths, either of which may be missing.
func shallower(a, b unit.Opt[unit.Depth]) unit.Opt[unit.Depth] {
	x, okA := a.Get()
	y, okB := b.Get()
	if !okA || (okB && y < x) {
		return b
	}
	return a
}
