package lab

import (
	"time"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// Sample is one bag of soil and what the laboratory found in it. A value that was not measured is missing.
type Sample struct {
	ID        string // as written on the bag
	LabNumber string // the laboratory's own number
	Lab       string // name of the laboratory; empty when the file does not say
	Place     Place
	Cores     unit.Opt[int]        // cores mixed into the bag; more than one is a composite
	Top       unit.Opt[unit.Depth] // of the layer sampled
	Bottom    unit.Opt[unit.Depth]
	Taken     unit.Opt[time.Time] // day it was dug, midnight UTC
	Reported  unit.Opt[time.Time] // day the laboratory received or reported it, midnight UTC

	PH        unit.Opt[unit.PH]      // in water
	PHAssumed bool                   // PH comes from a column that says "pH" but not in what; water is the usual, not certain
	PHCaCl2   unit.Opt[unit.PHCaCl2] // in 0.01 M calcium chloride
	Buffer    Buffers
	Acidity   []Acidity                      // sorted by method; at most one of each
	LBC       unit.Opt[unit.LimeBuffering]   // mg CaCO3 per kg and pH, 30 minutes
	LBCeq     unit.Opt[unit.LimeBufferingEq] // the same at equilibrium

	CEC           unit.Opt[unit.Charge]
	CECByVolume   unit.Opt[unit.VolumeCharge]
	OrganicMatter Reading[unit.Percent]
	Sand          unit.Opt[unit.Percent]
	Silt          unit.Opt[unit.Percent]
	Clay          unit.Opt[unit.Percent]
	Density       unit.Opt[unit.BulkDensity]  // of the soil as scooped in the laboratory, not as it lay
	BulkDensity   unit.Opt[unit.BulkDensity]  // of the soil as it lies, from a core of known volume
	EC            unit.Opt[unit.Conductivity] // soluble salts; the extract is in the column's words
	Saturation    []Saturation                // sorted by element
	Nutrients     []Nutrient                  // sorted by element, then extractant; at most one of a pair

	Lime []Recommendation // what the laboratory itself advises, in the order of the file

	File  string // as the user named it
	Sheet string // of a spreadsheet; else empty
	Line  int    // 1-based line or spreadsheet row; 0 when the format has no lines
}

// Place says where a sample comes from, as far as the file tells. Any part may be empty.
type Place struct {
	Field   string              // field id
	Zone    string              // zone id
	MapUnit string              // key of the survey's map unit
	Point   unit.Opt[orb.Point] // longitude, latitude in degrees, WGS 84
}

// Buffers holds the buffer pH, each in the type of its buffer.
type Buffers struct {
	Mehlich     unit.Opt[unit.PHMehlich]
	AdamsEvans  unit.Opt[unit.PHAdamsEvans]
	MooreSikora unit.Opt[unit.PHMooreSikora]
	SMP         unit.Opt[unit.PHSMP]
	Sikora      unit.Opt[unit.PHSikora]
	Woodruff    unit.Opt[unit.PHWoodruff]
}

// Acidity is the acidity that lime must neutralise, by mass or, from laboratories that scoop, by volume: one of the two
// is measured.
type Acidity struct {
	Method   AcidityMethod
	ByMass   Reading[unit.Charge]
	ByVolume Reading[unit.VolumeCharge]
}

// Saturation is the share of the exchange capacity that a cation holds.
type Saturation struct {
	Element Element
	Percent unit.Percent
}

// Nutrient is how much of an element an extractant took out. By mass, or by volume from laboratories that scoop:
// one of the two is measured.
type Nutrient struct {
	Element    Element
	Extractant Extractant
	ByMass     Reading[unit.Content]
	ByVolume   Reading[unit.VolumeContent]
	Given      string // as the laboratory printed it, with its unit
}

// Recommendation is lime as the laboratory itself advises it, taken as given: its own target and its own slice.
type Recommendation struct {
	Rate  unit.Opt[unit.AreaRate] // missing when the file gives no unit
	Crop  string
	Text  string // words beside the figure, such as the target pH or the material
	Given string // the figure as printed, with its unit
}

// Date returns the day the sample was taken or, failing that, reported.
func (s *Sample) Date() unit.Opt[time.Time] {
	if s.Taken.Has() {
		return s.Taken
	}
	return s.Reported
}

// Nutrient returns the reading of an element by an extractant; ok is false when there is none.
func (s *Sample) Nutrient(e Element, x Extractant) (n Nutrient, ok bool) {
	for _, n := range s.Nutrients {
		if n.Element == e && n.Extractant == x {
			return n, true
		}
	}
	return Nutrient{}, false
}

// Composite says whether the bag is known to mix several cores.
func (s *Sample) Composite() bool { return s.Cores.Or(1) > 1 }
