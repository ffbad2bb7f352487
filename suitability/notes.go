package suitability

import (
	"slices"

	"rootworthy/soils/lime"
)

// Stable codes of everything that the rating and the lime plan may say beside a number. Package export/words has a
// sentence for each; a test there walks these lists.

// Notes of a [Finding].
const (
	NoteWitnesses      = "witnesses disagree"          // drainage class and wet layer tell two different stories; the worse counts
	NoteDeclared       = "as declared"                 // lifted to marginal by the drainage works that the user declares
	NoteMicronutrients = "micronutrients"              // surface pH above the usual range: iron, zinc, manganese, boron
	NoteMachines       = "limit of machines"           // slope limits machines and erodes; the stand does not mind
	NoteCaCl2          = "only in CaCl2"               // the survey has pH in calcium chloride alone; it is not converted
	NoteShallow        = "not described deep enough"   // no restriction seen, but the description ends too early to say none
	NoteCovered        = "values cover under half"     // a mean over less than half of its window is no mean
	NoteLongFloods     = "floods stay long"            // occasional, but seven days or more
	NoteObsolete       = "obsolete class"              // "Common", read as occasional
	NoteNoneDescribed  = "none described"              // water table: moisture is described and no layer is wet
	NoteRockHorizon    = "rock horizon"                // the restriction is an R or Cr horizon without a row of its own
	NoteAboveWindow    = "hard layer above the window" // subsoil pH does not apply
	NotePanByName      = "pan by name"                 // the restriction is a horizon with x in its name: the survey has no table of restrictions
)

// FindingNotes lists the notes of a finding.
func FindingNotes() []string {
	return []string{NoteWitnesses, NoteDeclared, NoteMicronutrients, NoteMachines, NoteCaCl2, NoteShallow, NoteCovered,
		NoteLongFloods, NoteObsolete, NoteNoneDescribed, NoteRockHorizon, NoteAboveWindow, NotePanByName}
}

// Reasons of a [Confidence].
const (
	ReasonNoTest       = "no laboratory test"  // why it is not high
	ReasonWinning      = "winning share small" // under 50 percent
	ReasonRated        = "rated share small"   // under 70 percent
	ReasonHinges       = "hinges on pH"        // another class at the low or high end of the survey's pH
	ReasonWitnesses    = NoteWitnesses         // in a component of the winning class
	ReasonSmallZone    = "smaller than the map shows"
	ReasonCoarse       = "coarse survey"
	ReasonNothingRated = "not rated"
	ReasonOneTest      = "only surface or subsoil tested" // the other is the survey's
	ReasonOldTest      = "old test"                       // a sample is over three years old
	ReasonUndatedTest  = "test of unknown age"            // a sample without a date, or no day to count from
	ReasonWideTest     = "test of more than the zone"     // a composite of the field or of the map unit
	ReasonLooseSurface = "loose surface of tests"         // off by more than 0.3 pH where the zone lies
)

// ConfidenceReasons lists the reasons, in the order in which they are given.
func ConfidenceReasons() []string {
	return []string{ReasonNothingRated, ReasonWinning, ReasonRated, ReasonHinges, ReasonWitnesses, ReasonSmallZone, ReasonCoarse, ReasonNoTest,
		ReasonOneTest, ReasonOldTest, ReasonUndatedTest, ReasonWideTest, ReasonLooseSurface}
}

// The levels of a [Confidence].
const (
	High   = "high" // laboratory tests of surface and subsoil younger than three years
	Medium = "medium"
	Low    = "low"
)

// Why a component or a unit is not rated.
const (
	WhyMiscellaneous = "miscellaneous area"   // water, pits, rock: not soil
	WhyCoreMissing   = "core value missing"   // component: drainage, depth or pH is not recorded and nothing known is unsuited
	WhyNoComponents  = "no components"        // unit: the survey is not completed here, or has no rows
	WhyUnderHalf     = "less than half rated" // unit
	WhyNoTable       = "no survey tables"     // unit: it is on the map, but in none of the tables given
)

// WhyNotRatedCodes lists them.
func WhyNotRatedCodes() []string {
	return []string{WhyMiscellaneous, WhyCoreMissing, WhyNoComponents, WhyUnderHalf, WhyNoTable}
}

// Why a component or a zone has no lime figure, or zero.
const (
	WhyAtTarget      = lime.AtTarget             // zero: surface pH is at the target or above
	WhyCalcareous    = "calcareous"              // zero: the surface holds carbonates
	WhyAboveTable    = lime.AboveTable           // zero at least: between pH 6.5, where the table ends, and a higher target
	WhyOrganic       = lime.OrganicSurface       // no figure
	WhyAcidSand      = lime.AcidSand             // no figure
	WhyNoTexture     = lime.NoTexture            // no figure
	WhyNoSurfacePH   = "surface pH not recorded" // no figure
	WhyNotSoil       = WhyMiscellaneous          // component: no figure
	WhyZoneNotRated  = "not rated"               // zone: no figure
	WhyZoneUnsuited  = "unsuited"                // zone: no lime unless asked for
	WhyNothingToShow = "no component has a figure"
	WhyTestAtTarget  = "tests at target"    // zero: every sample reads the target or above
	WhyBufferUnmoved = lime.BufferUnmoved   // zero by the method's own reading
	WhyCreditCovers  = lime.CreditCovers    // zero: lime spread before is enough
	WhyTestZero      = "tests ask for none" // zero, for several of these reasons
)

// LimeWhys lists them.
func LimeWhys() []string {
	return []string{WhyAtTarget, WhyCalcareous, WhyAboveTable, WhyOrganic, WhyAcidSand, WhyNoTexture, WhyNoSurfacePH,
		WhyNotSoil, WhyZoneNotRated, WhyZoneUnsuited, WhyNothingToShow,
		WhyTestAtTarget, WhyBufferUnmoved, WhyCreditCovers, WhyTestZero}
}

// Bounds of a lime figure.
const (
	AtLeast = lime.AtLeast
	AtMost  = lime.AtMost
)

// Notes of a [Lime].
const (
	LimeBudget        = "budget, not a rate"      // a screening figure; a soil test sets the rate
	LimeTableOrigin   = "table of unknown origin" // origin, depth and CCE of the texture table are not known
	LimeBelowTable    = lime.BelowTable           // soil more acid than the table: its value at 5.0 is a floor
	LimeAboveTable    = lime.TargetAbove          // target above 6.5: the figure to 6.5 is a floor
	LimeOutside       = lime.OutsideTable         // clays: the clay loam figure is a floor
	LimeSand          = lime.SandCeiling          // sands: the sandy loam figure is a ceiling
	LimeBoundsMixed   = "floor and ceiling mixed" // components pull both ways: neither bound holds for the sum
	LimePartOnly      = "part of the zone has no figure"
	LimeNoNeed        = "test nitrogen sod"      // zero by the survey; sod that got nitrogen may be more acid
	LimeSurfaceOnly   = "works near the surface" // top inch or two; will not repair an acid subsoil
	LimeRetest        = "retest before sowing"   // sow only if the retest reads at least SowFrom
	LimeLargePass     = "retest after two years" // a cap above the usual one was allowed
	LimeStateMissing  = "no target of the state found"
	LimeUnsuitedAsked = "lime on unsuited ground" // given because it was asked for
	LimeReckoned      = "texture reckoned"        // by sand, silt and clay: the survey names no texture
)

// Notes of a [Lime] that rests on laboratory tests, or might have. The notes of the method itself, [lime.Notes], come
// after them.
const (
	LimeMethodRefused = "method refused"              // no sample of the zone has a figure by the method: the survey's band stands in
	LimeNoMethod      = "no lime method chosen"       // the topsoil was tested: the survey's band at the tested pH stands in
	LimePartRefused   = "part of the samples refused" // the mean is over the rest
	LimeErrorUnknown  = "error of the method unknown"
	LimeFieldProduct  = "agricultural lime as measured" // as spread it is lime of the effectiveness that the method's source measured
	LimeOldTest       = "lime by an old test"
	LimeWideTest      = "lime by a wide composite" // the samples speak for the whole field or map unit
	LimeOtherDepth    = "dug to another depth"     // the sample's layer is not the soil that the figure is for
)

// LimeNotes lists them.
func LimeNotes() []string {
	return slices.Concat([]string{LimeBudget, LimeTableOrigin, LimeBelowTable, LimeAboveTable, LimeOutside, LimeSand, LimeBoundsMixed,
		LimePartOnly, LimeNoNeed, LimeSurfaceOnly, LimeRetest, LimeLargePass, LimeStateMissing, LimeUnsuitedAsked, LimeReckoned,
		LimeMethodRefused, LimeNoMethod, LimePartRefused, LimeErrorUnknown, LimeFieldProduct, LimeOldTest, LimeWideTest, LimeOtherDepth}, lime.Notes())
}
