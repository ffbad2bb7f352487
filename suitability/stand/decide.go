package stand

import (
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Action is what a count calls for. Codes are stable.
type Action string

// The actions, the best first.
const (
	Keep     Action = "keep"
	KeepThin Action = "keep, yield falls"
	Thicken  Action = "thicken"
	GiveUp   Action = "give up"
)

// Actions lists them.
func Actions() []Action { return []Action{Keep, KeepThin, Thicken, GiveUp} }

// Decision is an action with what it rests on.
type Decision struct {
	Action     Action
	Count      unit.PerArea
	Kind       Kind          // Plants or Stems
	KeepFrom   unit.PerArea  // from here the stand is kept without loss
	GiveUpTo   unit.PerArea  // up to here it is given up
	Loss       unit.AreaRate // hay a year that is missing, by stems
	Source     string
	Status     suitability.Status // of the limits
	Caveat     string             // of [Caveats]: what the limits are worth here
	ThickenWhy string             // source of the year within which seed still takes; "" unless it decided
}

// The sources of the limits.
const (
	stemSource  = "Hall, Penn State, in Hay & Forage Grower, Count stems: evaluating alfalfa stands: most hay from 55 stems/ft², rotate under 40"
	plantSource = "University of Illinois, Pest Management and Crop Development Bulletin 1 (2010); the year of sowing: Glazier, University of California Cooperative Extension, in Progressive Forage"
	lossSource  = "University of Nebraska, G1993 Reseeding or Thickening Thin Alfalfa Stands: a tenth of a ton an acre for a stem under 55"
	yearSource  = "common practice, no source: within a year of sowing; later the old plants poison and shade the new (two years: Oklahoma State University Extension)"
)

// PureStands is the caveat of every limit: they are of pure stands farther north, and in sod the grass fills what the alfalfa leaves.
const PureStands = "limits of pure stands"

// Caveats lists them.
func Caveats() []string { return []string{PureStands} }

// Limits of stems. Source: stemSource.
const (
	StemsKeep   = 55 * unit.PerSquareFoot
	StemsGiveUp = 40 * unit.PerSquareFoot
)

// thickenWithin is how old a stand may be for more alfalfa seed to take. Source: yearSource.
const thickenWithin = 12 // months

// LossPerStem is the hay a year that a stem under [StemsKeep] costs.
//
//	loss = 0.1 short ton/ac × stems/ft² missing
//
// Source: lossSource. Range: 40 to 55 stems/ft²; under 40 the stand is given up and the figure only says that much is lost.
func LossPerStem(stems unit.PerArea) unit.AreaRate {
	missing := max(0, (StemsKeep - stems).PerSquareFoot())
	return unit.ShortTonsPerAcre(0.1 * missing)
}

// ByStems decides by stems that a mower would cut, counted when they are 4 to 6 in tall. They tell more of hay than plants do.
func ByStems(stems unit.PerArea, sown, day time.Time) Decision {
	// the limits of stems are the same in every year of the stand
	d := Decision{Count: stems, Kind: Stems, KeepFrom: StemsKeep, GiveUpTo: StemsGiveUp, Loss: LossPerStem(stems), Source: stemSource, Status: suitability.Published,
		Caveat: PureStands}
	switch {
	case atLeast(stems, StemsKeep):
		d.Action = Keep
	case atLeast(stems, StemsGiveUp):
		d.Action = KeepThin
	default:
		d.thin(sown, day)
	}
	return d
}

// ByPlants decides by plants, by the year of production. Over 25 plants/ft² in the year of sowing and over 12, 8 and 5 in the first, second and
// later springs are kept; 6 in the
// second and 3 later no longer yield. The first year has no published end: that of the second stands in.
func ByPlants(plants unit.PerArea, sown, day time.Time) Decision {
	keep, give := 5.0, 3.0
	status := suitability.Published
	switch year := ProductionYear(sown, day); {
	// the source of the year of sowing names what to keep and not what to give up; the end is that of the second year, by proposal
	case year == 0:
		keep, give, status = 25, 6, suitability.Proposal
	case year == 1:
		keep, give, status = 12, 6, suitability.Proposal
	case year == 2:
		keep, give = 8, 6
	}
	d := Decision{Count: plants, Kind: Plants, KeepFrom: unit.PerArea(keep) * unit.PerSquareFoot, GiveUpTo: unit.PerArea(give) * unit.PerSquareFoot,
		Source: plantSource, Status: status, Caveat: PureStands}
	switch {
	case !atLeast(d.KeepFrom, plants): // over it: the source says "more than"
		d.Action, d.Status = Keep, suitability.Published
	// In its first year a stand that is not thick enough is mended while new seed still takes, long before it would be given up.
	case ProductionYear(sown, day) <= 1 && young(sown, day), atLeast(d.GiveUpTo, plants):
		d.thin(sown, day)
	default:
		d.Action = KeepThin
	}
	return d
}

// thin is what is done with too little: thickened while new seed still takes, given up after.
func (d *Decision) thin(sown, day time.Time) {
	d.Action = GiveUp
	if young(sown, day) {
		d.Action, d.ThickenWhy = Thicken, yearSource
	}
}

// young says whether seed sown on that day would still take beside a stand of that age; not before the stand was sown, nor where nobody
// knows when.
func young(sown, day time.Time) bool {
	return !sown.IsZero() && !day.Before(sown) && day.Before(sown.AddDate(0, thickenWithin, 0))
}

// atLeast compares counts that went through units and back.
func atLeast(a, b unit.PerArea) bool { return a >= b*(1-1e-9) }

// ProductionYear returns the year of production that a day lies in: a stand sown after June has its first in the next calendar
// year. It is 0 before, and where the day of sowing is not known it is taken as an old stand's: 3.
func ProductionYear(sown, day time.Time) int {
	if sown.IsZero() {
		return 3
	}
	first := sown.Year()
	// Sown in fall, a stand yields from the next spring on; sown in spring, in the same year.
	if sown.Month() > time.June {
		first++
	}
	return max(0, day.Year()-first+1)
}
