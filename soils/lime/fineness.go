package lime

import (
	"fmt"
	"slices"

	"rootworthy/soils/unit"
)

// Scheme is how a state or a laboratory turns a sieve test into fineness: its own sieves, its own factors. The index it
// gives goes by the state's own name, and a figure of one scheme is not comparable with another's.
type Scheme struct {
	Name   string  // as options write it
	Index  string  // what the state calls CCE × fineness: ECCE, ENV, RNV
	Sieves []Sieve // finest first
	Source string
}

// Sieve is a US mesh and the share of what stops between it and the next finer one that works in time.
type Sieve struct {
	Mesh   int
	Factor unit.Fraction
}

// Pass is the percent of a material that falls through a mesh, cumulative: what a label prints.
type Pass struct {
	Mesh    int
	Percent unit.Percent
}

// Schemes lists the schemes whose factors were read. Where the label gives the state's own figure, that one counts.
// Kentucky's and Tennessee's sieves are known and their factors are not; Alabama's, Georgia's, the Carolinas' and
// Virginia's are not known: use the label's own figure there.
func Schemes() []Scheme {
	return []Scheme{
		{"ohio", "ECCE", []Sieve{{60, 1}, {20, 0.6}, {8, 0.2}},
			"British Columbia Ministry of Agriculture, Evaluation of Agricultural Limestone, factsheet 637.200-2 (2015)"},
		{"new-york", "ENV", []Sieve{{100, 1}, {60, 0.8}, {20, 0.4}},
			"Cornell University CCA study material, performance objective 41"},
		{"mississippi", "RNV", []Sieve{{50, 1}, {10, 0.5}},
			"2 Miss. Code R. 1-3-04-100.01: CCE × (through 10 mesh + through 50 mesh) / 2"},
	}
}

// SchemeByName returns a scheme of [Schemes].
func SchemeByName(name string) (Scheme, bool) {
	all := Schemes()
	if i := slices.IndexFunc(all, func(s Scheme) bool { return s.Name == name }); i >= 0 {
		return all[i], true
	}
	return Scheme{}, false
}

// Fineness returns the percent of a material that works, from what falls through each sieve of the scheme; other sieves
// on the label are left aside.
//
//	fineness = Σ factor × (through this sieve - through the next finer one)
//
// Range: passes from 0 to 100, none smaller than that of a finer sieve. An error names the sieve that is missing or wrong.
func (s Scheme) Fineness(passes ...Pass) (unit.Percent, error) {
	var sum, finer unit.Percent
	// finest first, so that what fell through the finer sieve is known at each
	for _, sieve := range s.Sieves {
		i := slices.IndexFunc(passes, func(p Pass) bool { return p.Mesh == sieve.Mesh })
		if i < 0 {
			return 0, fmt.Errorf("%s %s needs what falls through %d mesh; take it from the label", s.Name, s.Index, sieve.Mesh)
		}
		through := passes[i].Percent
		// less through a coarser sieve would mean that fractions were written in the place of cumulative percent
		if !(through >= finer && through <= 100) {
			return 0, fmt.Errorf("%g %% through %d mesh is not possible after %g %% through the next finer sieve; give cumulative percent up to 100",
				float64(through), sieve.Mesh, float64(finer))
		}
		sum += unit.Percent(sieve.Factor) * (through - finer)
		finer = through
	}
	return sum, nil
}
