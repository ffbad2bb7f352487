package nutrient

import "rootworthy/soils/unit"

// Expectation is what a table could ask for before anybody has tested the soil: a span to budget with, never a rate.
type Expectation struct {
	Nutrient    Nutrient
	Least, Most unit.AreaRate
	Source      string
	Seen        Seen
}

// Expect returns the span of what the table asks for over all its classes; ok is false where it has no rates.
func (t *Table) Expect(n Nutrient, s Stage) (Expectation, bool) {
	e := Expectation{Nutrient: n, Source: t.Source, Seen: t.Seen}
	any := false
	add := func(least, most unit.AreaRate) {
		if !any {
			e.Least, e.Most, any = least, most, true
		}
		e.Least, e.Most = min(e.Least, least), max(e.Most, most)
	}
	if n == Phosphorus || n == Potassium {
		// every cell of the matrix: nobody knows either class yet
		for _, c := range t.Rates {
			add(c.of(n), c.of(n))
		}
	}
	for _, f := range t.Fixed {
		if f.Nutrient == n && f.Stage == s {
			least := f.Amount
			// given under a condition that may not hold, so the least is nothing
			if f.Below.Has() || f.Class != "" || f.WithoutLime {
				least = 0
			}
			add(least, f.Amount)
		}
	}
	for _, x := range t.Extra {
		// on top of a rate only: without one there is nothing for it to come on top of
		if x.Nutrient == n && x.Stage == s && any {
			e.Least, e.Most = e.Least+x.Amount, e.Most+x.Amount
		}
	}
	return e, any
}
