package nutrient

import "rootworthy/soils/unit"

// SeedMolybdenum is what is put on seed, in just enough water to moisten it. Too much poisons cattle that graze the crop (from
// memory, not checked), so the figure is never exceeded.
type SeedMolybdenum struct {
	Mo, Molybdate unit.Mass // the same dose as the element, and as sodium molybdate
	Seed          unit.Mass // that it is for
}

// MostMolybdenum is the most molybdenum that the source here puts on a standing crop at a time.
// Source: 3 oz/ac every two years, University of Georgia, crop code 026; that more poisons cattle is from memory, not checked.
const MostMolybdenum = 3.0 / 16 * unit.PoundPerAcre * (1 + 1e-9)

// Most returns the dose for a mass of seed. It is a ceiling: seed that comes treated gets none.
//
//	dose × seed ÷ seed the dose is printed for
//
// Source: University of Georgia, crop code 025: 1/4 oz molybdenum (2/3 oz sodium molybdate) for 60 lb of seed, not to be
// exceeded. Range: any mass of seed; nothing for what is not over zero.
func (m SeedMolybdenum) Most(seed unit.Mass) (mo, molybdate unit.Mass) {
	if !(seed > 0) || !(m.Seed > 0) {
		return 0, 0
	}
	part := unit.Mass(seed / m.Seed)
	return m.Mo * part, m.Molybdate * part
}

// SprayMolybdenum is what is sprayed on a standing crop.
type SprayMolybdenum struct {
	Mo, Molybdate unit.AreaRate
	Water         unit.Water
	EveryYears    int
	When          string
}

// molybdenum goes on the seed in the year of sowing, and on the leaves later where the source says so.
func (t *Table) molybdenum(a Ask) Need {
	spray, ok := t.Spray.Get()
	switch {
	case a.Stage == Establish && t.Seed.Has():
		return Need{Why: OnSeed}
	case a.Stage == Maintain && ok:
		return Need{Rate: unit.Some(spray.Mo), Every: spray.EveryYears, Parts: []Part{{1, spray.When}}}
	}
	// no soil test stands behind molybdenum, so there is none to ask for
	return Need{Why: NotAsked}
}
