package lime

import "rootworthy/soils/unit"

// Form is a pure liming compound.
type Form struct {
	Name    string
	CCE     unit.Percent // as printed, whole percent
	OneTon  unit.Mass    // that equals a short ton of calcium carbonate, as printed in whole tens of pounds
	Caustic bool         // burned or hydrated: not for broadcasting on sod (from memory, not checked)
}

// Forms lists the pure compounds.
// Source: University of Nebraska PASSeL, Liming materials, table 4.4.
func Forms() []Form {
	return []Form{
		{"calcium carbonate", 100, 2000 * unit.Pound, false},
		{"magnesium carbonate", 119, 1680 * unit.Pound, false},
		{"calcium hydroxide", 135, 1480 * unit.Pound, true},
		{"magnesium hydroxide", 172, 1160 * unit.Pound, true},
		{"calcium oxide", 178, 1120 * unit.Pound, true},
		{"magnesium oxide", 250, 800 * unit.Pound, true},
	}
}

// Minimum is what a state's law asks of agricultural lime. A missing figure is not asked for.
type Minimum struct {
	State  string // postal code
	Index  unit.Opt[unit.Percent]
	CCE    unit.Opt[unit.Percent]
	Passes []Pass
	Source string
	Year   int // of the edition read; laws change
}

// Minima lists the laws that were read with a date. Florida's sieves (90 % through 8, 80 % through 20, 50 % through 50
// mesh) were read without one and are left out; North Carolina sets no least CCE.
func Minima() []Minimum {
	percent := unit.Some[unit.Percent]
	return []Minimum{
		{State: "KY", CCE: percent(80), Passes: []Pass{{10, 90}, {50, 35}}, Source: "list of state limestone specifications", Year: 2001},
		{State: "MS", Index: percent(63), Source: "2 Miss. Code R. 1-3-04-100.01", Year: 2025},
		{State: "TN", Index: percent(65), Source: "Tenn. Comp. R. & Regs. 0080-05-15-.04; 5 % allowance in .06", Year: 2025},
	}
}

// Short says which figures of a label fall short of the law, in words such as "CCE 78, at least 80"; none when all that
// are known reach it. A figure that the label does not give is not judged.
func (m Minimum) Short(index, cce unit.Opt[unit.Percent], passes ...Pass) []string {
	var short []string
	judge := func(what string, have, least unit.Opt[unit.Percent]) {
		h, ok := have.Get()
		// neither a figure that the law does not ask for nor one that the label leaves out is short
		if l, asked := least.Get(); ok && asked && !(h >= l) {
			short = append(short, what+" "+figure(float64(h))+", at least "+figure(float64(l)))
		}
	}
	judge("index", index, m.Index)
	judge("CCE", cce, m.CCE)
	for _, want := range m.Passes {
		for _, p := range passes {
			if p.Mesh == want.Mesh {
				judge("through "+figure(float64(p.Mesh))+" mesh", unit.Some(p.Percent), unit.Some(want.Percent))
			}
		}
	}
	return short
}
