package nutrientplan

import (
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Zone is the ground to fertilize and what is known of it.
type Zone struct {
	ID, FieldID string
	Area        unit.Area
	Class       suitability.Class
	Stage       nutrient.Stage // "" means that of the options; a stand that is up, beside ground yet to be sown
	Tests       []Test         // that speak for its topsoil
	Lime        bool           // lime is planned
	Old, Wide   bool           // some test is over three years old; speaks for more than the zone
}

// Test is a soil test with what the laboratory itself advises.
type Test struct {
	nutrient.Soil
	Advised []Advised
}

// Advised is a rate from a laboratory's report, of what fertilizer is sold by. It goes before the table's.
type Advised struct {
	Nutrient nutrient.Nutrient
	Rate     unit.AreaRate
	Source   string
}

// ZonePlan is what a zone gets.
type ZonePlan struct {
	ID, FieldID string
	Area        unit.Area
	Why         string                 // of [Whys], where it has no rates at all
	Rates       []Rate                 // in the order of nutrient.Nutrients; none where Why says so
	Products    []Amount               // in the order of the options
	Levels      []nutrient.HeldLevel   // tests against levels that sources say to hold, test by test; guides, not rates
	ToTest      []nutrient.Nutrient    // what is still to be measured
	Expect      []nutrient.Expectation // without a test: a span to budget with, never a rate
	Notes       []string               // of [Notes]

	unmet  []Nutrition // needs that no product was named for
	excess bool        // some product brings more of another nutrient than is needed
	harm   bool        // some product was left out for what it would bring
}

// Rate is a nutrient on a zone. Rate, Least and Most are of what fertilizer is sold by (K2O, P2O5, Mg, S, B, Mo), kg/m².
type Rate struct {
	Nutrient    nutrient.Nutrient
	Classes     []string                // of the tests, in their order; none of a test whose laboratory's advice was taken
	Rate        unit.Opt[unit.AreaRate] // mean; missing where refused
	Least, Most unit.AreaRate           // of the tests
	Mass        unit.Opt[unit.Mass]     // over the zone
	When        []Application           // of a rate over zero; they add up to it
	Why         string                  // of nutrient.Whys, where it is zero or lies elsewhere
	Refusal     *nutrient.Refusal       // the first, where there is no rate
	EveryYears  int                     // 0 means for this stage alone
	Source      string
	Seen        nutrient.Seen
	Notes       []string // of nutrient.Notes and [Notes]
}

// Application is a part of a rate.
type Application struct {
	When string
	Rate unit.AreaRate
}

// Whys of a zone without rates, stable codes.
const (
	WhyNoTest   = "no test"
	WhyNotRated = "not rated"
	WhyUnsuited = "unsuited"
	WhyNoTable  = "no table"
)

// Whys lists them.
func Whys() []string { return []string{WhyNoTest, WhyNotRated, WhyUnsuited, WhyNoTable} }

// Notes, stable codes.
const (
	PotashFirst     = "potash first"           // want of potash is the first cause of stand loss; common practice, no source
	PotashAsGrass   = "potash as the grass"    // the crop needs as much as the grass does, so both must be fed; common practice, no source
	BoronBroadcast  = "boron broadcast only"   // never in the seed row
	TestFirst       = "test before spreading"  // no rate without a test
	OldTest         = "old test"               // over three years
	WideTest        = "wide test"              // speaks for more than the zone
	PartRefused     = "part of tests refused"  // the rate is the mean of the others
	LaboratoryFirst = "laboratory's advice"    // taken before the table
	NoProduct       = "no product named"       // the order counts the nutrient itself
	Harmful         = "harmful product"        // left out: it would bring more boron or molybdenum than the crop and its eaters bear
	MoreThanAsked   = "more than asked"        // a product carries more of another nutrient than is needed
	BringsNitrogen  = "product holds nitrogen" // which feeds the grass, not the crop
)

// Notes lists them.
func Notes() []string {
	return []string{PotashFirst, PotashAsGrass, BoronBroadcast, TestFirst, OldTest, WideTest, PartRefused, LaboratoryFirst, NoProduct, Harmful, MoreThanAsked, BringsNitrogen}
}

// Unmet lists the needs of the zone that no product was named for.
func (z *ZonePlan) Unmet() []Nutrition { return z.unmet }
