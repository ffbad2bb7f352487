package nutrient

import "rootworthy/soils/unit"

// potassium comes from the matrix; on a standing crop what the source adds for the life of the stand comes on top.
func (t *Table) potassium(s Soil, a Ask) Need {
	need := t.matrix(Potassium, s)
	rate, ok := need.Rate.Get()
	if !ok {
		return need
	}
	for _, x := range t.Extra {
		if x.Nutrient == Potassium && x.Stage == a.Stage {
			need.Rate = unit.Some(rate + x.Amount)
			// the extra has days of its own, so the parts of both are brought to shares of the sum
			need.Parts = merged(rate, t.parts(Potassium, a.Stage), x)
			need.Notes = append(need.Notes, SecondHalfCounts)
		}
	}
	return need
}

// merged returns the applications of a rate and of what comes on top of it, as shares of the sum.
func merged(rate unit.AreaRate, parts []Part, x Extra) []Part {
	sum := rate + x.Amount
	if sum <= 0 {
		return nil
	}
	var out []Part
	add := func(amount unit.AreaRate, ps []Part) {
		for _, p := range ps {
			// a rate of zero leaves no parts
			if share := p.Share * unit.Fraction(amount/sum); share > 0 {
				out = append(out, Part{share, p.When})
			}
		}
	}
	add(rate, parts)
	add(x.Amount, x.Parts)
	return out
}

// PotashCause says why potash comes first: want of it is the first cause of stand loss, and the crop needs as much of it as the
// grass it grows in does, so the grass's own potash does not feed it.
// Source: common practice, no source.
const PotashCause = Practice
