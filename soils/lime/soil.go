package lime

import "rootworthy/soils/unit"

// Soil is what a laboratory found in one sample, as far as lime is concerned. Every buffer has its own field and its
// own type, so that the reading of one cannot be taken for that of another. What was not measured is missing.
type Soil struct {
	PH      unit.Opt[unit.PH]      // in water
	PHCaCl2 unit.Opt[unit.PHCaCl2] // in 0.01 M calcium chloride

	Mehlich     unit.Opt[unit.PHMehlich]
	AdamsEvans  unit.Opt[unit.PHAdamsEvans]
	MooreSikora unit.Opt[unit.PHMooreSikora]
	SMP         unit.Opt[unit.PHSMP]
	Sikora      unit.Opt[unit.PHSikora]
	Woodruff    unit.Opt[unit.PHWoodruff]

	MehlichAcidity unit.Opt[unit.VolumeCharge] // from the Mehlich buffer, meq/100 cm³, as North Carolina reports it
	Exchangeable   unit.Opt[unit.Charge]       // from the modified Mehlich buffer, meq/100 g, as Penn State reports it

	LBC   unit.Opt[unit.LimeBuffering]   // 30 minutes
	LBCeq unit.Opt[unit.LimeBufferingEq] // at equilibrium

	Aluminum  unit.Opt[unit.Charge] // exchangeable, by 1 M KCl, as are the next two
	Calcium   unit.Opt[unit.Charge]
	Magnesium unit.Opt[unit.Charge]

	CEC     unit.Opt[unit.Charge]
	Density unit.Opt[unit.BulkDensity] // of the soil as it lies, not as the laboratory scooped it
	Class   Class

	Given []Given // lime that the laboratory itself advises
}

// Given is a laboratory's own recommendation.
type Given struct {
	Rate unit.AreaRate
	Crop string
	Text string // as printed
}

// Class is North Carolina's soil class, by humic matter. The zero value is mineral, which most soils are.
type Class uint8

// The classes.
const (
	Mineral        Class = iota // MIN
	MineralOrganic              // M-O
	Organics                    // ORG
)

// Classes lists the classes.
func Classes() []Class { return []Class{Mineral, MineralOrganic, Organics} }

// String returns the class as reports print it.
func (c Class) String() string {
	switch c {
	case MineralOrganic:
		return "M-O"
	case Organics:
		return "ORG"
	}
	return "MIN"
}

// ParseClass reads a class as reports print it.
func ParseClass(s string) (Class, bool) {
	for _, c := range Classes() {
		if c.String() == s {
			return c, true
		}
	}
	return Mineral, false
}
