package suitability

import (
	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// Zone is all pieces of one map unit in one field. Zones of a field tile the part of it that the survey covers.
type Zone struct {
	ID                                      string // field id + "/" + number
	FieldID                                 string
	FieldName                               string
	Number                                  int              // 1…n by falling area, then map unit key
	Shape                                   orb.MultiPolygon // longitude, latitude, 7 decimals, outer rings counter-clockwise
	Area                                    unit.Area        // measured in the equal-area plane before rounding
	Pieces                                  int              // parts of the shape
	SurveyArea, MapUnitKey, Symbol, MapUnit string
	Rating                                  UnitRating // confidence already lowered for this zone's size
	Lime                                    Lime
}

// LimeFirst says whether the ground today is worse than it will be once corrected: lime first, then sow.
func (z Zone) LimeFirst() bool {
	// a greater class is a worse one
	return z.Rating.Class != NotRated && z.Rating.ClassToday > z.Rating.Class
}

// Lime is what a zone gets. From the survey alone it is a screening band, called a budget and not a rate.
type Lime struct {
	Basis             string                  // "survey screening"; from laboratory tests it begins with "test"
	Low, Likely, High unit.Opt[unit.AreaRate] // at 100 % CCE unless AsSold, unrounded; missing = no figure; low and high also where the error is not known
	Bound             string                  // "at least", "at most", "" : the figure is a floor or a ceiling
	Target            unit.PH
	Why               string                  // stable code when there is no figure or zero: "at target", "not rated", "unsuited", "organic", …
	Notes             []string                // stable codes: "outside the table", "floor above 6.5", "nitrogen sod may be more acid", …
	Product           unit.Opt[unit.AreaRate] // as spread: CCE, fineness and moisture applied, rounded for the spreader; likely figure
	ProductMass       unit.Opt[unit.Mass]     // product over the zone
	Passes            int                     // yearly passes on sod; 0 when none
	WaitMonths        int                     // months from the first pass until the last has worked; 0 when none
	Ready             string                  // date by which the last pass has worked, "2027-09-01"; "" when no lime
	Window            string                  // earliest autumn sowing window, "2027-09-15/2027-10-15"; "" when it cannot be sown
	AsSold            bool                    // Low, Likely and High are agricultural lime as sold, whose quality the method's source does not state
	Test              *LimeTest               // what the method made of the samples; nil from the survey alone
}
