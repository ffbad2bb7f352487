package words

import "rootworthy/suitability"

// ConfidenceReason returns the words for what lowered confidence.
func ConfidenceReason(code string, r Reader) string { return found(confidenceReasons(), code, r) }

// confidenceReasons: what lowers confidence, and what would raise it.
func confidenceReasons() []phrase {
	return []phrase{
		{suitability.ReasonNothingRated, "the survey has too little here to rate", "not rated", "not rated"},
		{suitability.ReasonWinning, "no kind of soil makes up half of this ground", "winning share under 50 percent", "mixed ground: no class holds half"},
		{suitability.ReasonRated, "the survey lacks data for much of this ground", "rated share under 70 percent", "data for under 70 percent of the soils"},
		{suitability.ReasonHinges, "survey pH cannot settle this; sample 12 to 40 in (30 to 100 cm) deep before turning the ground down",
			"class moves within the survey's range of pH; sample 12 to 40 in (30 to 100 cm) deep before turning the ground down",
			"survey pH cannot settle this: sample 12 to 40 in (30 to 100 cm) deep"},
		{suitability.ReasonWitnesses, "the survey tells two stories about how wet it is", "drainage class and wet layer disagree", "witnesses of wetness disagree"},
		{suitability.ReasonSmallZone, "the zone is smaller than the survey can draw", "smaller than the smallest delineation of the survey", "smaller than the survey can draw: check on site"},
		{suitability.ReasonCoarse, "the soil map is a coarse one", "survey coarser than 1:60,000", "coarse survey: screening only"},
		{suitability.ReasonNoTest, "no soil test was given", "no laboratory test of surface and subsoil under three years old", "no soil test"},
		{suitability.ReasonOneTest, "only the topsoil or only the subsoil was tested", "only surface or only subsoil tested", "test the other depth too"},
		{suitability.ReasonOldTest, "a soil test is over three years old", "a test is over three years old", "old test: sample again"},
		{suitability.ReasonUndatedTest, "nobody can tell how old a soil test is", "age of a test not known", "give the tests dates, and --date"},
		{suitability.ReasonWideTest, "the samples were mixed over more than this zone", "composite of more than the zone", "sample the zone by itself"},
		{suitability.ReasonLooseSurface, "the soil tests lie too far apart to know this part", "the surface through the points is off by more than 0.3 pH", "sample more densely"},
	}
}

// Confidence returns the word for a level of confidence.
func Confidence(level string, r Reader) string { return found(confidenceLevels(), level, r) }

// confidenceLevels: three, in words.
func confidenceLevels() []phrase {
	return []phrase{
		{suitability.High, "quite sure", "high", "high"},
		{suitability.Medium, "fairly sure", "medium", "medium"},
		{suitability.Low, "not sure", "low", "low"},
	}
}

// WhyNotRated returns the words for why a component or a zone is not rated.
func WhyNotRated(code string, r Reader) string { return found(whyNotRated(), code, r) }

// whyNotRated: missing data is called missing.
func whyNotRated() []phrase {
	return []phrase{
		{suitability.WhyMiscellaneous, "this is water, rock or a pit, not soil", "miscellaneous area", "not soil"},
		{suitability.WhyCoreMissing, "the survey lacks drainage, depth or pH here", "a core value (drainage, depth, surface or subsoil pH) is missing and nothing known is unsuited", "core value missing, sample"},
		{suitability.WhyNoComponents, "the survey says nothing about this ground", "the map unit has no components", "no data"},
		{suitability.WhyNoTable, "the soil map says which soil this is, but no tables that describe it were given", "the map unit key is in none of the survey tables given", "no tables: give them with --tables"},
		{suitability.WhyUnderHalf, "the survey has too little data for half of this ground", "rated share under 50 percent", "under half rated, sample"},
	}
}

// Trouble returns why a field has no answer, as it is recorded: words already.
func Trouble(f *suitability.Field) string {
	if f.Trouble == "outside the survey" {
		return "lies outside the survey"
	}
	return f.Trouble
}
