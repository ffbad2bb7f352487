package change

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Difference says in what two zones on the same ground differ.
type Difference struct {
	Class, Limiting        bool // once corrected or today
	Surface, Subsoil, Lime bool // figures that print otherwise, or that one of the two lacks
}

// Any says whether they differ in anything.
func (d Difference) Any() bool { return d != Difference{} }

// DifferenceOf compares two zones. Names, numbers and map units are none of it: they say how ground is called.
func DifferenceOf(a, b *suitability.Zone) Difference {
	x, y := StateOf(a), StateOf(b)
	return Difference{
		Class:    turned(a, b),
		Limiting: x.Limiting != y.Limiting || x.LimitingToday != y.LimitingToday,
		Surface:  apart(figure(a.Rating.Values.PHSurface), figure(b.Rating.Values.PHSurface)),
		Subsoil:  apart(figure(a.Rating.Values.PHSubsoil), figure(b.Rating.Values.PHSubsoil)),
		// A floor and a figure of the same number are two things to order lime by, and so are lime as sold and pure lime.
		Lime: apart(likely(a), likely(b)) || unlike(a, b) || a.Lime.Bound != b.Lime.Bound,
	}
}

func apart(a, b unit.Opt[float64]) bool {
	x, inA := a.Get()
	y, inB := b.Get()
	return inA != inB || tenths(x) != tenths(y)
}

// Differs says whether the ground of a pair is another in the second run, whatever its size.
func (c *Comparison) Differs(p Pair) bool {
	a, b := p.A.Zone(c.A), p.B.Zone(c.B)
	if a == nil || b == nil { // outside both surveys is alike; ground that one run has alone is not
		return p.A != p.B
	}
	return DifferenceOf(a, b).Any()
}
