package economics

import "rootworthy/soils/unit"

// Unit is a way of giving a figure.
type Unit struct {
	Name  string
	Scale float64 // one of it in SI: money per kg or m², kg/m², kg/kg, a share out of 1, years
}

// What one of each is in SI.
const (
	perTon  = 1 / float64(unit.ShortTon)
	perLb   = 1 / float64(unit.Pound)
	perAcre = 1 / float64(unit.Acre)
	perHa   = 1 / float64(unit.Hectare)
	perT    = 1 / float64(unit.Tonne)
)

// The units of the items, customary ones first. The first unit of each is the one of reports, of the bounds and of the built-in figures.
var (
	byShortTon   = []Unit{{"per short ton", perTon}, {"per tonne", perT}, {"per lb", perLb}, {"per kg", 1}}
	byPound      = []Unit{{"per lb", perLb}, {"per kg", 1}, {"per short ton", perTon}, {"per tonne", perT}}
	byAcre       = []Unit{{"per acre", perAcre}, {"per hectare", perHa}}
	byAcreYear   = []Unit{{"per acre and year", perAcre}, {"per hectare and year", perHa}}
	byField      = []Unit{{"per field", 1}}
	byPoint      = []Unit{{"per point and short ton", perTon}, {"per point and tonne", perT}}
	inTonsYear   = []Unit{{"short tons per acre and year", float64(unit.ShortTonPerAcre)}, {"tonnes per hectare and year", float64(unit.TonnePerHectare)}}
	inPounds     = []Unit{{"lb per acre", float64(unit.PoundPerAcre)}, {"kg per hectare", float64(unit.TonnePerHectare) / 1000}}
	inPoundsYear = []Unit{{"lb per acre and year", float64(unit.PoundPerAcre)}, {"kg per hectare and year", float64(unit.TonnePerHectare) / 1000}}
	inPoundsTon  = []Unit{{"lb per short ton", 1.0 / 2000}, {"kg per tonne", 1.0 / 1000}}
	inYears      = []Unit{{"years", 1}}
	inPoints     = []Unit{{"points", 1}}
	inPercent    = []Unit{{"percent a year", 0.01}}
)
