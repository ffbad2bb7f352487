package suitability

import (
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// Tested is what laboratory tests say of the pH of one zone. The zero value says nothing.
type Tested struct {
	Surface *TestedPH `json:"surface,omitempty"`
	Subsoil *TestedPH `json:"subsoil,omitempty"`
}

// TestedPH is the pH in water that laboratory samples show for a window of depth in one zone. It stands for every soil in
// the zone, whichever of them was dug.
type TestedPH struct {
	PH           unit.PH           `json:"ph"`    // mean, as it stands
	Least        unit.PH           `json:"least"` // of the samples
	Most         unit.PH           `json:"most"`
	Survey       unit.Opt[unit.PH] `json:"survey"` // mean by percent of what the survey says in its place; filled in by the rating
	Samples      int               `json:"samples"`
	From         unit.Depth        `json:"from_cm"` // top and bottom of what the samples cover of the window
	To           unit.Depth        `json:"to_cm"`
	Covered      unit.Depth        `json:"covered_cm"`             // thickness that samples cover
	DepthAssumed bool              `json:"depth_taken,omitempty"`  // a file that does not say the depth is taken as topsoil
	WaterAssumed bool              `json:"water_taken,omitempty"`  // a file that says "pH" and not in what is taken as in water
	Basis        string            `json:"basis"`                  // how the least sure sample found its place: zone id, coordinates, map unit, field id
	Oldest       string            `json:"oldest,omitempty"`       // day of the oldest and newest sample; "" when none has one
	Newest       string            `json:"newest,omitempty"`       //
	Age          string            `json:"age"`                    // of [TestAges], the worst of the samples
	Laboratories []string          `json:"laboratories,omitempty"` // sorted
	Fit          *SurfaceFit       `json:"surface,omitempty"`      // PH was read from a surface; Least and Most are then of the zone's ground
}

// Ages of a test.
const (
	AgeFresh   = "fresh"   // not older than the crop's lime can trust: three years
	AgeOld     = "old"     // older
	AgeUnknown = "unknown" // no date, or no day to count from
)

// TestAges lists them, the best first. A test of unknown age stands before an old one: it may be young.
func TestAges() []string { return []string{AgeFresh, AgeUnknown, AgeOld} }

// Any says whether anything was tested.
func (t Tested) Any() bool { return t.Surface != nil || t.Subsoil != nil }

// Of returns the test behind a criterion; nil where it was not tested.
func (t Tested) Of(c Code) *TestedPH {
	switch c {
	case SurfacePH:
		return t.Surface
	case SubsoilPH:
		return t.Subsoil
	}
	return nil
}

// Wide says whether some sample speaks for more than the zone: it names only its field or its map unit.
func (t *TestedPH) Wide() bool {
	// Basis is that of the least sure sample, so one such sample is enough
	return t.Basis == lab.ByField.String() || t.Basis == lab.ByMapUnit.String()
}

// Off returns how far the test lies above the survey; missing where the survey says nothing.
func (t *TestedPH) Off() unit.Opt[float64] {
	if t == nil || !t.Survey.Has() {
		return unit.None[float64]()
	}
	return unit.Some(roundInput(float64(t.PH - t.Survey.Or(0))))
}
