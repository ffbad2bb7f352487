package nutrient

import "rootworthy/soils/unit"

// Ask is what a rate is wanted for. The zero value asks for the year of sowing, without lime.
type Ask struct {
	Stage Stage // "" means Establish
	Lime  bool  // lime is spread, so low magnesium is a matter of which lime
}

// Need is what a table asks of one nutrient.
type Need struct {
	Nutrient Nutrient
	Class    string                  // "" where it was not rated
	Rate     unit.Opt[unit.AreaRate] // of what fertilizer is sold by; missing where refused
	Why      string                  // of [Whys], where the rate is zero or lies elsewhere
	Refusal  *Refusal                // where there is no rate
	Parts    []Part                  // of a rate over zero
	Every    int                     // years; 0 means for this stage alone
	Source   string
	Seen     Seen
	Notes    []string // of [Notes]
}

// Why there is nothing to spread, stable codes.
const (
	Enough    = "enough in the soil"      // the table asks for none in this class
	LimeBears = "dolomitic lime bears it" // low magnesium where lime is spread
	OnSeed    = "goes on the seed"        // molybdenum in the year of sowing
	NotAsked  = "not asked for"           // the source names no such fertilizer in this stage
)

// Whys lists them.
func Whys() []string { return []string{Enough, LimeBears, OnSeed, NotAsked} }

// Notes on classes and rates, stable codes.
const (
	ExtractantFromMemory  = "extractant from memory"           // that the table is for this extractant is remembered, not read
	TableExtractantUnsaid = "table does not say extractant"    // so the comparison is a rough one
	OddCell               = "odd cell kept as printed"         // the matrix breaks its own pattern here
	OnlyFor               = "source restricts the table"       // to what Table.Only says
	NotInSeedRow          = "never in the seed row"            // boron harms seedlings
	SecondHalfCounts      = "potash comes on top of the table" // Extra
)

// Notes lists them.
func Notes() []string {
	return []string{ExtractantFromMemory, TableExtractantUnsaid, OddCell, OnlyFor, NotInSeedRow, SecondHalfCounts}
}

// Require returns what the table asks for on a soil that was tested, a need for each of [Nutrients] in that order. Every need
// has a rate, a reason, or a refusal with the question to ask.
func (t *Table) Require(s Soil, a Ask) []Need {
	if a.Stage == "" {
		a.Stage = Establish
	}
	var out []Need
	for _, n := range Nutrients() {
		need := t.need(n, s, a)
		need.Nutrient, need.Source, need.Seen = n, t.Source, t.Seen
		// a refusal has no parts and no reason but its own
		if r, ok := need.Rate.Get(); ok {
			need.finish(t, r, a.Stage)
		}
		out = append(out, need)
	}
	return out
}

// need asks the file of the nutrient.
func (t *Table) need(n Nutrient, s Soil, a Ask) Need {
	switch n {
	case Potassium:
		return t.potassium(s, a)
	case Phosphorus:
		return t.phosphorus(s)
	case Magnesium:
		return t.magnesium(s, a)
	case Boron:
		return t.boron(s, a)
	case Molybdenum:
		return t.molybdenum(a)
	}
	return t.sulfur(s, a)
}

// finish adds what every rate has.
func (n *Need) finish(t *Table, r unit.AreaRate, s Stage) {
	if r == 0 {
		if n.Why == "" {
			n.Why = Enough
		}
		return
	}
	// potassium and molybdenum may have brought their own
	if n.Parts == nil {
		n.Parts = t.parts(n.Nutrient, s)
	}
	if t.Only != "" {
		n.Notes = append(n.Notes, OnlyFor)
	}
}

// refused is a need without a rate. err is a *Refusal.
func refused(class string, err error) Need {
	r, ok := err.(*Refusal)
	if !ok {
		r = refuse(BadValue, "correct it", "%v", err)
	}
	return Need{Class: class, Refusal: r}
}
