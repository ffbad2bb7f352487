package nutrient

import (
	"strings"

	"rootworthy/soils/unit"
)

// matrix returns what the matrix of phosphorus by potassium asks of one of the two. Where the other class is not known the
// rate stands if the matrix gives the same whatever it is.
func (t *Table) matrix(n Nutrient, s Soil) Need {
	class, err := t.Classify(n, s)
	if err != nil {
		return refused("", err)
	}
	// the class is told all the same: it is what the laboratory's own report goes by
	if len(t.Rates) == 0 {
		return Need{Class: class.Name, Notes: class.Notes, Refusal: refuse(RateNotPrinted,
			"take the rate from the laboratory's report; a class of one state is no row of another's table",
			"%s rates %s as %s, but the rates of its source were not readable", t.Name, n, class.Name)}
	}
	other := Potassium
	if n == Potassium {
		other = Phosphorus
	}
	// a class that cannot be had of the other nutrient stands for all of its classes
	otherName := ""
	if c, err := t.Classify(other, s); err == nil {
		otherName = c.Name
	}
	out := Need{Class: class.Name, Notes: class.Notes}
	cells := t.cells(n, class.Name, otherName)
	rate, same := oneRate(cells, n)
	if !same {
		out.Refusal = refuse(OtherClassNeeded, "have the soil tested for "+other.String()+" too", "the rate of %s depends on %s", n.Sold(), other)
		return out
	}
	out.Rate = unit.Some(rate)
	// with several cells nobody knows whether the odd one is meant
	if len(cells) == 1 && cells[0].Flag != "" {
		out.Notes = append(out.Notes, OddCell)
	}
	return out
}

// cells returns the cells of a class of n and a class of the other; "" for every class of the other.
func (t *Table) cells(n Nutrient, class, other string) []Pair {
	var out []Pair
	for _, c := range t.Rates {
		own, others := c.Phosphorus, c.Potassium
		if n == Potassium {
			own, others = others, own
		}
		if strings.EqualFold(own, class) && (other == "" || strings.EqualFold(others, other)) {
			out = append(out, c)
		}
	}
	return out
}

// oneRate returns the rate of n that all cells share; same is false where they differ or there is none.
func oneRate(cells []Pair, n Nutrient) (rate unit.AreaRate, same bool) {
	for i, c := range cells {
		r := c.of(n)
		if i > 0 && r != rate {
			return 0, false
		}
		rate = r
	}
	return rate, len(cells) > 0
}

// of returns the rate of one of the two nutrients.
func (c Pair) of(n Nutrient) unit.AreaRate {
	if n == Potassium {
		return c.K2O
	}
	return c.P2O5
}
