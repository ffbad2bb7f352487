package seedplan

import (
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Milestone is a day to count plants, what to expect and what to do below it.
type Milestone struct {
	Day         time.Time
	Name        string                 // of [Milestones]
	Expect      unit.PerArea           // plants
	Least       unit.Opt[unit.PerArea] // below it the advice holds; missing where no source says
	Below       string                 // of [Actions]
	Source      string                 // of what to expect
	LeastSource string                 // of Least
	Status      suitability.Status
}

// Milestones lists the names, in order.
func Milestones() []string { return []string{Emerged, NextSpring} }

// The names.
const (
	Emerged    = "emerged"
	NextSpring = "next spring"
)

// What to do below, stable codes.
const (
	FindOut   = "find out why: depth, crickets, drought, herbicide; resow thin spots while the window is open"
	ThickenUp = "thicken with seed within the first year, in the next window"
)

// Actions lists them.
func Actions() []string { return []string{FindOut, ThickenUp} }

// Shares of seed that become plants.
// Source: Rankin, University of Wisconsin Extension, Alfalfa seeding rates: how much is too much? (2008; read in a copy): of 75 seeds/ft²
// 60 % emerge, and about 25 plants are there next spring.
const (
	EmergedShare unit.Fraction = 0.60
	SpringShare  unit.Fraction = 25.0 / 75
)

// NewStandLeast is the least of a stand sown last fall, in spring.
// Source: Hall, Penn State, in Hay & Forage Grower, Count stems: evaluating alfalfa stands: at least 15 plants/ft².
const NewStandLeast = 15 * unit.PerSquareFoot

// SeedlingLeast is the least in the year of sowing.
// Source: Glazier, University of California Cooperative Extension, in Progressive Forage, Autotoxicity in alfalfa: over 25 plants/ft².
const SeedlingLeast = 25 * unit.PerSquareFoot

// weeksToCount is when all that will emerge has. Source: common practice, no source.
const weeksToCount = 6

// Expected returns the days to count after sowing and what to expect of live seeds.
//
//	60 % of seeds after six weeks, a third of them in spring
//
// Source: Rankin, as [EmergedShare]; the days are common practice, no source. Range: sowings near the rates of [Rules]; that thicker
// ones thin themselves is common practice, no source.
func Expected(seeds unit.PerArea, sown time.Time) []Milestone {
	const (
		rankin  = "Rankin, University of Wisconsin Extension (2008; read in a copy)"
		glazier = "Glazier, University of California Cooperative Extension, in Progressive Forage"
		hall    = "Hall, Penn State, in Hay & Forage Grower"
	)
	// mid-March of the year of sowing, moved on a year where that is past or too soon
	spring := time.Date(sown.Year(), time.March, 15, 0, 0, 0, 0, time.UTC)
	// Fall sowings are counted in the spring that follows; those of late winter, whose six weeks are not over by mid-March, a year later.
	if !spring.After(sown.AddDate(0, 0, 7*weeksToCount)) {
		spring = spring.AddDate(1, 0, 0)
	}
	return []Milestone{
		{sown.AddDate(0, 0, 7*weeksToCount), Emerged, seeds * unit.PerArea(EmergedShare), unit.Some(SeedlingLeast), FindOut, rankin, glazier, suitability.Published},
		{spring, NextSpring, seeds * unit.PerArea(SpringShare), unit.Some(NewStandLeast), ThickenUp, rankin, hall, suitability.Published},
	}
}
