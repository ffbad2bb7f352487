package uncertainty

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Options tunes [Of]; the zero value draws until every chance is sure to two in a hundred.
type Options struct {
	Seed     uint64  // the same seed gives the same answer; zero is a seed like any other
	Error    float64 // draw until every chance is known this well, 19 times in 20; 0 means 0.02
	Least    int     // draws at least; 0 means 400
	Most     int     // draws at most; 0 means 20,000
	AsMapped bool    // every zone holds its components in just the percents of the map unit
	NoSpread bool    // every value is the survey's or the test's own, and lime that of the table
	Enough   Enough  // of what the chance is wanted in [Field].Enough; the zero value asks for none
}

// Enough is how much suited ground is enough for a field: a share of it or an area, whichever is less.
type Enough struct {
	Share float64 // of the field, 0…1
	Area  unit.Area
}

// Of returns how much is enough for a field; ok is false where nothing was asked.
func (e Enough) Of(f *suitability.Field) (area unit.Area, ok bool) {
	return min(unit.Area(e.Share)*f.Area, e.Area), e != Enough{}
}

// filled puts the defaults in the place of zeros.
func (o Options) filled() Options {
	if o.Error <= 0 {
		o.Error = 0.02
	}
	if o.Least <= 0 {
		o.Least = 400
	}
	if o.Most <= 0 {
		o.Most = 20000
	}
	o.Most = max(o.Most, o.Least)
	return o
}

// Judgement is one assumption behind the chances, with what it rests on.
type Judgement struct {
	Name   string
	What   string
	Value  float64
	Unit   string
	Source string
	Status suitability.Status
}

// The numbers of the judgements.
const (
	coreSD   = 0.30 // pH, from core to core within one soil
	labSD    = 0.10 // pH, of one bag in the laboratory
	oldSD    = 0.30 // pH, added by the years to a test that is old or of unknown age
	limeSD   = 0.10 // of the need: what a buffer test leaves open beyond the pH of its bag
	mostBods = 64   // bodies beyond which a zone is as good as mapped
)

// Judgements lists every assumption that the chances rest on. None of them was measured on the ground in question.
func Judgements() []Judgement {
	const ours = "judgement of this program"
	return []Judgement{
		{"triangle", "survey values lie between low and high, most often at the representative value", 0, "", "the meaning of low and high as percentiles is not published", suitability.Proposal},
		{"one deviate", "soils of one name are high or low together: all their horizons, in all zones of a field", 0, "", ours, suitability.Proposal},
		{"each by itself", "pH, rooting depth, water table, slope and available water lie each where it likes in its range; a shallower layer does not cut the water that is counted", 0, "", ours, suitability.Proposal},
		{"body", "a soil as large as the smallest area of the map would have been drawn: a zone holds its area divided by that many bodies, each a component with the chance of its percent", 0, "", ours, suitability.Proposal},
		{"most bodies", "a zone with more bodies is drawn as if it had this many", mostBods, "", ours, suitability.Proposal},
		{"core", "pH differs from core to core within one soil by this standard deviation", coreSD, "pH", "from memory, not checked", suitability.Memory},
		{"laboratory", "pH of one bag differs from laboratory to laboratory by this standard deviation", labSD, "pH", "from memory, not checked", suitability.Memory},
		{"age", "a test that is old or undated is off by this standard deviation more", oldSD, "pH", ours, suitability.Proposal},
		{"band", "the need differs from the screening table from its low to its high factor, on a scale of factors, by one factor for all zones of a field", 0, "", ours, suitability.Proposal},
		{"buffer test", "what a lime test leaves open of the need, beyond what its bag misses of the zone's pH", limeSD, "of the need", ours, suitability.Proposal},
		{"apart", "bodies of soil, and what tests miss, are each zone's own", 0, "", ours, suitability.Proposal},
	}
}

// ranged are the criteria that a survey may give a range for.
var ranged = []suitability.Code{suitability.SubsoilPH, suitability.SurfacePH, suitability.Depth, suitability.WaterTable, suitability.AvailableWater, suitability.Slope}

// Fixed lists the criteria that a rating keeps without a range: their values are taken as they stand. So are those of all others
// where the survey gives no low and high.
func Fixed() []suitability.Code {
	var out []suitability.Code
	for _, c := range suitability.Codes() {
		if !slices.Contains(ranged, c) {
			out = append(out, c)
		}
	}
	return out
}
