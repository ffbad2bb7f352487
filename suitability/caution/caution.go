package caution

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Step is the work at which a caution is told. A step is named by the work in hand, not by a date or a product: a caution is of use at
// the moment at which somebody can act on it.
type Step string

// The steps, in the order of the year.
const (
	Liming      Step = "liming"
	Suppressing Step = "suppressing the sod"
	Fertilizing Step = "fertilizing"
	Seeding     Step = "seeding"
	Spraying    Step = "spraying insects or weeds"
	Haymaking   Step = "making hay"
	Grazing     Step = "grazing"
)

// Steps lists them.
func Steps() []Step {
	return []Step{Liming, Suppressing, Fertilizing, Seeding, Spraying, Haymaking, Grazing}
}

// Caution is one thing to be told.
type Caution struct {
	Code   string
	Steps  []Step // at which it is told
	Source string
	Status suitability.Status
}

// The codes, stable.
const (
	LimeDust       = "lime dust"
	BurntLime      = "burnt and hydrated lime"
	Drift          = "lime near water or in wind"
	CarryOver      = "herbicide carry-over"
	CarryOverLong  = "pyridine carry-over may last longer"
	LabelIntervals = "grazing and hay intervals" // the label decides
	LabelIsLaw     = "label is the law"
	SeedMolybdenum = "molybdenum on seed"
	Molybdenum     = "molybdenum poisons cattle"
	BoronSeedRow   = "boron in the seed row"
	Bloat          = "bloat"
	BlisterBeetles = "blister beetles"
	Nitrate        = "nitrate in stressed grass"
	GrazeHeights   = "grazing heights"
	SelfPoisoning  = "alfalfa after alfalfa"
)

const (
	// what the outputs print as the source of a caution
	uga       = "University of Georgia Agricultural and Environmental Services Laboratories, crop code 025"
	oklahoma  = "Oklahoma State University Extension, Agronomic calendar for Oklahoma alfalfa growers"
	texas     = "Knutson, Texas AgriLife, Blister beetles: reducing the risk of contamination in alfalfa hay"
	potash    = "Potash and Phosphate Institute, Dual-purpose alfalfa in the Southeast, No. 8 (2000); the two heights read oddly together"
	practice  = "common practice, no source"
	memorized = "from memory, not checked"
)

// All lists every caution, in the order of the steps. A caution without a publication is told all the same, with that said beside it: to
// leave it out would be the greater harm.
func All() []Caution {
	return []Caution{
		{LimeDust, []Step{Liming}, practice, suitability.Practice},
		{BurntLime, []Step{Liming}, memorized, suitability.Memory},
		{Drift, []Step{Liming}, practice, suitability.Practice},
		{LabelIsLaw, []Step{Suppressing, Spraying, Seeding}, practice, suitability.Practice},
		{CarryOver, []Step{Suppressing, Seeding}, oklahoma, suitability.Published},
		{CarryOverLong, []Step{Suppressing, Seeding}, memorized, suitability.Memory},
		{LabelIntervals, []Step{Suppressing, Spraying, Haymaking, Grazing}, practice, suitability.Practice},
		{BoronSeedRow, []Step{Fertilizing, Seeding}, memorized, suitability.Memory},
		{SeedMolybdenum, []Step{Seeding}, uga, suitability.Published},
		{Molybdenum, []Step{Fertilizing, Seeding}, memorized, suitability.Memory},
		{SelfPoisoning, []Step{Seeding}, oklahoma, suitability.Published},
		{BlisterBeetles, []Step{Haymaking}, texas, suitability.Published},
		{Nitrate, []Step{Haymaking, Grazing}, memorized, suitability.Memory},
		{Bloat, []Step{Grazing}, memorized, suitability.Memory},
		{GrazeHeights, []Step{Grazing}, potash, suitability.Published},
	}
}

// At lists the cautions of a step.
func At(s Step) []Caution {
	// All returns a new list each time, so it may be cut down in place
	return slices.DeleteFunc(All(), func(c Caution) bool { return !slices.Contains(c.Steps, s) })
}

// The figures that the cautions name.
const (
	// LethalLeast and LethalMost are how many blister beetles are estimated to kill a horse. Source: Knutson, Texas AgriLife.
	LethalLeast, LethalMost = 50, 545

	// HistoryMonths is how far back picloram and sulfonylureas matter. Source: Oklahoma State University Extension; the label goes first.
	HistoryMonths = 36

	// SelfPoisonYears is how long no alfalfa follows alfalfa. Source: Oklahoma State University Extension.
	SelfPoisonYears = 2

	// GrazeFrom is when spring grazing begins; grazing types are never taken below GrazeLeast to GrazeLeastMost in the season.
	// Source: Potash and Phosphate Institute 2000; the two read oddly together.
	GrazeFrom      = 6 * unit.Foot / 12
	GrazeLeast     = 7 * unit.Foot / 12
	GrazeLeastMost = 8 * unit.Foot / 12
)
