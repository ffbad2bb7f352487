package soils

import (
	"strings"

	"rootworthy/soils/unit"
)

// MonthSet is a set of months of the year. The zero value is empty.
type MonthSet uint16

// MonthsFrom returns the months from first to last, 1…12, both included and through the turn of the year:
// MonthsFrom(11, 6) is November to June.
func MonthsFrom(first, last int) MonthSet {
	var s MonthSet
	for m := first; ; m = m%12 + 1 {
		s |= 1 << m
		// the second ends a round whose last month does not exist
		if m == last || s == AllMonths {
			return s
		}
	}
}

// The sets in use.
const (
	AllMonths      MonthSet = 0b1_1111_1111_1110
	AprilToJune    MonthSet = 1<<4 | 1<<5 | 1<<6
	NovemberToJune MonthSet = 1<<11 | 1<<12 | 1<<1 | 1<<2 | 1<<3 | AprilToJune
)

// Has says whether month m, 1…12, is in the set.
func (s MonthSet) Has(m int) bool { return m >= 1 && m <= 12 && s>>m&1 == 1 }

// ShallowestWet returns the top of the shallowest layer with free water in the months given.
// known says whether the survey speaks of moisture in those months at all: known without a depth means that no free
// water is described; not known means that nobody said. A row without a status says nothing.
func (c Component) ShallowestWet(in MonthSet) (depth unit.Opt[unit.Depth], known bool) {
	wet, known := c.WetRange(in)
	return wet.Value, known
}

// WetRange is [Component.ShallowestWet] with the low and the high of the layer that it speaks of; of several at one depth the
// widest range.
func (c Component) WetRange(in MonthSet) (wet Range[unit.Depth], known bool) {
	for _, m := range c.Months {
		if !in.Has(m.Month) {
			continue
		}
		for _, l := range m.Layers {
			// a dry layer is word of moisture as well
			known = known || l.Status != ""
			if l.Wet() {
				wet = shallowerWet(wet, l)
			}
		}
	}
	return wet, known
}

// shallowerWet returns the range so far, or that of a layer which lies less deep.
func shallowerWet(so Range[unit.Depth], l MoistureLayer) Range[unit.Depth] {
	top, ok := l.Top.Get()
	was, had := so.Value.Get()
	switch {
	case !ok || had && was < top:
		return so
	case !had || top < was:
		return Range[unit.Depth]{Low: l.TopLow, Value: l.Top, High: l.TopHigh}
	}
	// the same top in another month: only the range may widen
	so.Low = shallower(so.Low, l.TopLow)
	if high, ok := l.TopHigh.Get(); ok && high > so.High.Or(high-1) {
		so.High = l.TopHigh
	}
	return so
}

// Flooding returns the highest flooding class over the year, and whether floods of that class stay long in some month
// (a duration class of "Long" or "Very long": seven days or more, after the domain flooding_duration_class of SSURGO).
// Without a class in any month it is FrequencyUnknown, which is not "None".
func (c Component) Flooding() (class Frequency, long bool) {
	return c.worst(func(m *Month) (Frequency, string) { return m.Flooding, m.FloodDuration })
}

// Ponding is [Component.Flooding] for standing water.
func (c Component) Ponding() (class Frequency, long bool) {
	return c.worst(func(m *Month) (Frequency, string) { return m.Ponding, m.PondingDuration })
}

// worst is the highest class of any month, and whether it lasts long in any month of that class.
func (c Component) worst(of func(*Month) (Frequency, string)) (class Frequency, long bool) {
	for i := range c.Months {
		f, duration := of(&c.Months[i])
		// how long floods of a rarer class stay no longer matters
		if f > class {
			class, long = f, false
		}
		if f == class && f != FrequencyUnknown {
			long = long || lastsLong(duration)
		}
	}
	return class, long
}

// lastsLong tells "Long" and "Very long" from the shorter classes; exports add what they mean: "Long (7 to 30 days)".
func lastsLong(duration string) bool {
	class, _, _ := strings.Cut(duration, "(")
	return among(strings.TrimSpace(class), longDurations)
}

var longDurations = []string{"Long", "Very long"}
