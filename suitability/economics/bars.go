package economics

import (
	"cmp"
	"math"
	"slices"

	"rootworthy/soils/unit"
)

// bars moves each input alone from its low to its high, the zones sown staying the same. Inputs that move nothing have no bar.
func (b *book) bars(area unit.Area) []Bar {
	if !(area > 0) {
		return nil
	}
	var out []Bar
	for i := range itemCount {
		low, high := b.moved(i, atLow, area), b.moved(i, atHigh, area)
		// Prices of one figure move nothing, and so do items that no ground to sow uses.
		if low != high {
			out = append(out, Bar{i, low, high})
		}
	}
	slices.SortStableFunc(out, func(x, y Bar) int {
		return cmp.Compare(math.Abs(float64(y.High-y.Low)), math.Abs(float64(x.High-x.Low)))
	})
	return out
}

// moved is the value of an area of the farm's ground with one input at one end. area is that of all plots together, in m².
func (b *book) moved(i Item, at level, area unit.Area) PerArea {
	var c picks
	c[i].level = at
	v := b.in.at(&c)
	sum := 0.0
	// the plots are those chosen at likely values: a bar shows what one price does to a decision that was made, not another decision
	for k := range b.plots {
		sum += b.plots[k].valueAt(&v)
	}
	return PerArea(sum / float64(area))
}
