package taskdata

import (
	"slices"

	"rootworthy/soils/unit"
)

// mostCodes is how many rates above zero zone codes can name: codes go to 254, 0 is for no lime, and one is kept for
// the headland.
const mostCodes = 252

// distinct returns the rates above zero, each once, in rising order.
func distinct(grounds []ground) []int32 {
	var out []int32
	for _, g := range grounds {
		if g.rate > 0 {
			out = append(out, g.rate)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// fewer puts near rates together until there are at most so many, and says whether it had to. Rates that fall into one
// of equal intervals get their mean by area, so the lime stays the same.
func fewer(grounds []ground, most int) bool {
	rates := distinct(grounds)
	if len(rates) <= most {
		return false
	}
	// int64, since the product of a rate in mg/m² and the number of intervals may be more than 32 bits hold.
	low, high := int64(rates[0]), int64(rates[len(rates)-1])
	// Intervals of one width from the lowest rate to the highest; the one added keeps the highest in the last interval.
	bin := func(rate int32) int { return int((int64(rate) - low) * int64(most) / (high - low + 1)) }
	mass, area := make([]unit.Mass, most), make([]unit.Area, most)
	for _, g := range grounds {
		if g.rate > 0 {
			b := bin(g.rate)
			mass[b] += rateOf(g.rate).Over(g.area)
			area[b] += g.area
		}
	}
	for i := range grounds {
		g := &grounds[i]
		if b := 0; g.rate > 0 {
			if b = bin(g.rate); area[b] > 0 {
				g.rate = milligrams(unit.AreaRate(mass[b] / unit.Mass(area[b])))
			}
		}
	}
	return true
}

// rateCode is a zone code with its rate.
type rateCode struct {
	code uint8
	rate int32
}

// codes gives each rate of a task its zone code, from 1; 0 is no lime. A headland counts as a rate.
// Rates rise with their codes, so that the list on a terminal reads in order.
func (t *Task) codes() []rateCode {
	rates := distinct(t.grounds)
	if t.headland != nil && t.headland.rate > 0 && !slices.Contains(rates, t.headland.rate) {
		rates = append(rates, t.headland.rate)
		slices.Sort(rates)
	}
	out := make([]rateCode, len(rates))
	for i, r := range rates {
		out[i] = rateCode{uint8(i + 1), r}
	}
	return out
}
