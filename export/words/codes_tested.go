package words

import (
	"rootworthy/soils/lime"
	"rootworthy/suitability"
)

// testedLimeNotes: what a rate from laboratory tests is worth, and what the method says of its own figure.
func testedLimeNotes() []phrase {
	return []phrase{
		{suitability.LimeMethodRefused, "the lime method has no answer for these soil tests, so the survey's rough figure stands in", "the method refuses the samples: screening band in its place", "method refused: budget, not a rate"},
		{suitability.LimeNoMethod, "no lime method was chosen, so this is still a rough figure; ask your laboratory which method is used in your state", "no lime method chosen: screening table at the tested pH", "no lime method chosen: add --lime-method"},
		{suitability.LimePartRefused, "some samples have no answer and are left out", "some samples are refused; mean over the rest", "some samples left out: see the faults"},
		{suitability.LimeErrorUnknown, "nobody has published how far this method may be off", "error of the method not known", "error of the method not known"},
		{suitability.LimeFieldProduct, "spread as common ground limestone, which works less well than pure lime; ask your dealer for the figure of yours", "as spread: agricultural lime as effective as the method's source measured; an ECCE takes its place", "product is common ag lime; give --lime-ecce for yours"},
		{suitability.LimeOldTest, "the soil test is over three years old; test again before you lime by it", "a sample is over three years old", "old test: sample again"},
		{suitability.LimeWideTest, "the samples were mixed over more than this zone", "composite of more than the zone", "composite of more than the zone"},
		{suitability.LimeOtherDepth, "the soil was dug to another depth than the figure is for", "sampled to another depth than the figure is for; --lime-depth scales it in proportion", "dug to another depth than the figure is for: see --lime-depth"},
		{lime.NoteMemory, "part of the method is from memory and was not checked", "a formula from memory, not checked", "formula from memory: check with the laboratory"},
		{lime.NoteLaboratory, "this is the laboratory's own advice, for its own target", "taken as given: target, slice and credit are the laboratory's", "laboratory's own figure"},
		{lime.NoteAluminumOnly, "this takes away the poison of aluminum and reaches no pH", "corrects aluminum saturation; reaches no target pH", "aluminum only: no target pH"},
		{lime.NoteAsSold, "this is lime as your dealer sells it, not pure lime", "quality not stated by the source: agricultural lime as sold, no ECCE applied", "lime as sold: ECCE not applied"},
		{lime.NoteCredit, "lime spread before is taken off", "residual credit taken off", "credit for earlier lime taken off"},
		{lime.NoteScaled, "worked out for another depth than the method is made for", "scaled in proportion from the method's slice", "scaled by depth"},
		{lime.NoteSliceMemory, "the depth that the method is made for was not found in its source", "the slice it is scaled from is from memory, not checked", "slice from memory"},
		{lime.NoteGap, "the source does not say what holds at just this value", "on an edge that the source leaves open", "on an edge of the source's table"},
		{lime.NoteFlat, "the source gives one rate for all soils of little acidity", "flat rate of the source for little acidity", "flat rate"},
		{lime.NoteWaterPH, "the pH was worked out from one by another method", "water pH inferred: calcium chloride + 0.6", "water pH inferred from CaCl2"},
		{lime.NoteLBCFitted, "one figure was worked out from a shorter test", "LBC at equilibrium estimated from the 30-minute value", "LBC at equilibrium estimated"},
		{lime.NotePlowSlice, "the weight of the soil is taken as usual", "2,000,000 lb of soil an acre taken: no bulk density given", "2,000,000 lb/ac of soil taken"},
		{lime.NoteInterpolated, "the figure lies between two rows of the table", "straight line between neighbouring rows or targets", "between rows of the table"},
		{lime.NoteLarge, "this is more than soils of this kind usually need; check it", "over 5 short tons/ac: more than soils of this method usually need", "over 5 tons: check"},
	}
}

// testedLimeWhys: why samples ask for none.
func testedLimeWhys() []phrase {
	return []phrase{
		{suitability.WhyTestAtTarget, "your soil test reads the pH aimed at, or more", "tested pH at the target or above", "at target by test: no lime"},
		{suitability.WhyBufferUnmoved, "your soil test found no acidity to lime away", "the buffer was not moved: no acidity to neutralise", "no acidity by test: no lime"},
		{suitability.WhyCreditCovers, "the lime spread before is enough", "residual lime covers the requirement", "earlier lime covers it"},
		{suitability.WhyTestZero, "none of your soil tests asks for lime", "no sample asks for lime", "no sample asks for lime"},
	}
}

// LimeRefusal returns the words for why a method has no figure for a sample.
func LimeRefusal(code string, r Reader) string { return found(limeRefusals(), code, r) }

// limeRefusals: a method answers only inside its range.
func limeRefusals() []phrase {
	return []phrase{
		{lime.NotMeasured, "the laboratory did not measure what this method needs", "a value that the method needs was not measured", "not measured: ask the laboratory"},
		{lime.OutsidePH, "the pH lies where this method does not work", "pH outside the method's range", "pH outside the method"},
		{lime.OutsideTarget, "this method does not work for the pH aimed at", "target outside the method's range", "target outside the method"},
		{lime.OutsideBuffer, "the buffer reading lies where this method does not work", "buffer pH outside the method's range", "buffer pH outside the method"},
		{lime.OutsideSoil, "this method is not made for such a soil", "soil outside the method's range", "soil outside the method"},
		{lime.OutsideDepth, "nobody can lime that deep", "depth not possible", "depth not possible"},
		{lime.NoSlice, "the method does not say for which depth its figure is", "slice not stated, so no other depth", "slice not stated"},
		{lime.NotAllowed, "part of this method is from memory, which you did not allow", "formula from memory, not allowed", "formula from memory: not allowed"},
		{lime.NotAsked, "the method needs a decision from you", "a decision that the method needs was not given", "a setting is missing"},
		{lime.Ambiguous, "the lab gives more than one rate", "several recommendations, none chosen", "several figures: choose one"},
		{lime.BadValue, "a figure in the file cannot be right", "value not possible", "impossible value: correct the file"},
	}
}

// TestAge returns the words for how old a test is.
func TestAge(code string, r Reader) string { return found(testAges(), code, r) }

// testAges: three years is the age from which a test counts as old.
func testAges() []phrase {
	return []phrase{
		{suitability.AgeFresh, "under three years old", "under three years old", "under three years old"},
		{suitability.AgeOld, "over three years old", "over three years old", "over three years old: sample again"},
		{suitability.AgeUnknown, "of unknown age", "of unknown age", "of unknown age: give dates and --date"},
	}
}
