package soils

import (
	"cmp"

	"rootworthy/soils/unit"
)

// UnitMean returns the mean of a component property over a map unit, weighted by percent.
//
//	mean = Σ value × percent / Σ percent    over the components that have a value and a percent
//
// weight is Σ percent of those components: how much of the unit the mean speaks for. The percents of a unit need not
// sum to 100, and a component without a value is left out of both sums, never taken as zero. Properties with depth
// are averaged within the component first.
func UnitMean[T ~float64](u *MapUnit, value func(*Component) unit.Opt[T]) (mean unit.Opt[T], weight unit.Percent) {
	var sum float64
	for i := range u.Components {
		c := &u.Components[i]
		v, has := value(c).Get()
		p, counted := c.Percent.Get()
		if has && counted && p > 0 {
			sum += float64(v) * float64(p)
			weight += p
		}
	}
	if weight == 0 {
		return mean, 0
	}
	return unit.Some(T(sum / float64(weight))), weight
}

// UnitWindowMean is [WindowMean] of every component, then [UnitMean].
func UnitWindowMean[T ~float64](u *MapUnit, w Window, value func(*Horizon) unit.Opt[T]) (mean unit.Opt[T], weight unit.Percent) {
	return UnitMean(u, func(c *Component) unit.Opt[T] {
		m, _ := WindowMean(c.Horizons, w, value)
		return m
	})
}

// UnitCover returns how much of a map unit's percent × depth in a window has a value, in percent of the window:
// 100 when every component has values throughout and the percents sum to 100.
func UnitCover[T ~float64](u *MapUnit, w Window, value func(*Horizon) unit.Opt[T]) unit.Percent {
	var sum float64
	for i := range u.Components {
		c := &u.Components[i]
		_, covered := WindowMean(c.Horizons, w, value)
		// percent times centimetres, divided by centimetres below
		sum += float64(c.Percent.Or(0)) * float64(covered)
	}
	if w.Thickness() == 0 {
		return 0
	}
	return unit.Percent(sum / float64(w.Thickness()))
}

// UnitSum returns the percent of the components for which is says true.
func UnitSum(u *MapUnit, is func(*Component) bool) unit.Percent {
	var sum unit.Percent
	for i := range u.Components {
		if is(&u.Components[i]) {
			sum += u.Components[i].Percent.Or(0)
		}
	}
	return sum
}

// TotalPercent returns the sum of the recorded percents.
func (u *MapUnit) TotalPercent() unit.Percent {
	return UnitSum(u, func(*Component) bool { return true })
}

// DominantComponent returns the component with the largest percent; of equals the steeper one, then the first as
// sorted. ok is false when no component has a percent.
// Source: the tie rule agrees with slopegraddcp of all 559 units of the general soil map of Utah.
func (u *MapUnit) DominantComponent() (c *Component, ok bool) {
	steepness := func(c *Component) float64 { return c.Slope.Value.Or(-1) } // a slope not recorded loses
	for i := range u.Components {
		x := &u.Components[i]
		p, has := x.Percent.Get()
		if !has {
			continue
		}
		// greater and not "or equal": of equals the first stays
		if c == nil || cmp.Or(cmp.Compare(p, c.Percent.Or(0)), cmp.Compare(steepness(x), steepness(c))) > 0 {
			c = x
		}
	}
	return c, c != nil
}

// DominantCondition returns the class that holds the largest percent of the map unit among the components that among
// accepts (nil accepts all), and that percent. What was not recorded is a class of its own, the zero value, and may
// win. A tie goes to the class that compares higher. Components without a percent are left out; without any
// the result is the zero class and ok is false.
// Source: "Dominant Condition" of the agency's aggregation methods, tie-break "higher" (sdvattribute of an export).
func DominantCondition[C comparable](u *MapUnit, among func(*Component) bool, class func(*Component) C, compare func(a, b C) int) (best C, percent unit.Percent, ok bool) {
	sum := map[C]unit.Percent{}
	var seen []C // in the order of the components, so that no map order shows
	for i := range u.Components {
		c := &u.Components[i]
		p, has := c.Percent.Get()
		if !has || (among != nil && !among(c)) {
			continue
		}
		k := class(c)
		if _, old := sum[k]; !old {
			seen = append(seen, k)
		}
		sum[k] += p
	}
	for _, k := range seen {
		if !ok || cmp.Or(cmp.Compare(sum[k], percent), compare(k, best)) > 0 {
			best, percent, ok = k, sum[k], true
		}
	}
	return best, percent, ok
}

// Substantial says whether the component has at least 15 percent of its map unit: the limit of the agency's minima
// and maxima over a unit. It differs from the flag for major components.
// Source: column descriptions of muaggatt ("composition … equals or exceeds 15%").
func (c *Component) Substantial() bool { return c.Percent.Or(0) >= 15 }
