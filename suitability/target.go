package suitability

import (
	"fmt"
	"strings"

	"rootworthy/soils/unit"
)

// highestTarget is the highest target a user may ask for: above it the crop gains nothing and micronutrients fail.
// Source: upper end of published targets for alfalfa (7.0, Pennsylvania and the Texas Coastal Plain).
const highestTarget = 7.0

// DefaultTarget is the target where no state is named.
func (p *Profile) DefaultTarget() Target {
	f := p.Lime.Target
	return Target{PH: unit.PH(f.Value), Source: f.Source, Status: f.Status}
}

// TargetOf returns the target of a state by its postal code, in any case; "" gives the default. For a state without a
// figure it is the default with Missing set, and the program says so.
func (p *Profile) TargetOf(state string) Target {
	state = strings.ToUpper(strings.TrimSpace(state))
	if state == "" {
		return p.DefaultTarget()
	}
	// a state that was looked for without a figure is as one that is not listed
	for _, t := range p.Targets {
		if t.State == state && !t.Missing {
			return t
		}
	}
	t := p.DefaultTarget()
	t.State, t.Missing = state, true
	return t
}

// ChosenTarget returns a target that the user chose. The error says which values are possible.
func (p *Profile) ChosenTarget(ph unit.PH) (Target, error) {
	least := p.Lime.TargetLeast.Value
	if !(float64(ph) >= least && ph <= highestTarget) { // also refuses NaN
		return Target{}, fmt.Errorf("a target pH of %g is not possible; give one from %g to %g", float64(ph), least, highestTarget)
	}
	return Target{PH: ph, Source: "chosen by the user", Status: Practice}, nil
}
