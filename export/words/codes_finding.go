package words

import "rootworthy/suitability"

// Criterion returns the name of a criterion.
func Criterion(c suitability.Code, r Reader) string { return found(criterionNames(), string(c), r) }

// criterionNames: the landowner reads what a criterion is about, the others its name.
func criterionNames() []phrase {
	return []phrase{
		{string(suitability.Drainage), "wet or dry ground", "drainage", "drainage"},
		{string(suitability.Depth), "depth for roots", "rooting depth", "rooting depth"},
		{string(suitability.WaterTable), "water in the ground", "water table", "water table"},
		{string(suitability.Ponding), "standing water", "ponding", "ponding"},
		{string(suitability.Flooding), "floods", "flooding", "flooding"},
		{string(suitability.SubsoilPH), "how acid the subsoil is (pH)", "subsoil pH", "subsoil pH"},
		{string(suitability.SurfacePH), "how acid the topsoil is (pH)", "surface pH", "surface pH"},
		{string(suitability.Salinity), "salt", "salinity", "salinity"},
		{string(suitability.Sodicity), "sodium", "sodicity", "sodicity"},
		{string(suitability.AvailableWater), "water the soil can hold", "available water", "available water"},
		{string(suitability.Slope), "slope", "slope", "slope"},
	}
}

// FindingNote returns the words for a note of a finding.
func FindingNote(code string, r Reader) string { return found(findingNotes(), code, r) }

// findingNotes: what stands beside a value.
func findingNotes() []phrase {
	return []phrase{
		{suitability.NoteWitnesses, "the survey tells two stories about how wet it is; the wetter one counts",
			"drainage class and wet layer disagree by two classes; the worse counts", "witnesses of wetness disagree: look on site"},
		{suitability.NoteDeclared, "counts as drained because you say so",
			"lifted to marginal at best by the drainage works declared", "rated as drained: check that the drains run"},
		{suitability.NoteMicronutrients, "the soil is on the sweet side (high pH); iron, zinc, manganese and boron may run short",
			"above the usual range of pH: watch Fe, Zn, Mn and B", "high pH: test Fe, Zn, Mn and B"},
		{suitability.NoteMachines, "the slope is a limit for machines and washes soil away; the plants do not mind",
			"a limit of machines and erosion, not of the stand", "limit of machines and erosion: plan passes across the slope"},
		{suitability.NoteCaCl2, "the survey gives pH by another method only, which does not compare",
			"only a pH in CaCl2 is recorded; it is not converted", "pH only in CaCl2: sample"},
		{suitability.NoteShallow, "the survey did not look deep enough to say that nothing stops roots",
			"no restriction seen, but described too shallow to say none", "not described deep enough: probe"},
		{suitability.NoteCovered, "the survey has figures for less than half of this depth",
			"values cover under half of the window, so there is no mean", "values for under half the depth: sample"},
		{suitability.NoteLongFloods, "floods may stay a week or more",
			"occasional floods of seven days or more", "floods of a week or more"},
		{suitability.NoteObsolete, "the survey uses an old word here, read as occasional",
			`obsolete class "Common", read as occasional`, "old flooding class, read as occasional"},
		{suitability.NoteNoneDescribed, "the survey describes no wet layer from November to June",
			"moisture is described and no layer is wet from November to June", "no wet layer described"},
		{suitability.NoteRockHorizon, "the survey shows rock here in its layers",
			"the restriction is an R or Cr horizon without a row of its own", "rock by horizon name"},
		{suitability.NoteAboveWindow, "rock or a pan lies above the subsoil, so its acidity does not matter",
			"hard restriction at the top of the window or above: not applicable", "hard layer above the subsoil"},
		{suitability.NotePanByName, "the survey shows a pan in the names of its layers",
			"the restriction is a horizon with x in its name; the survey has no table of restrictions", "pan by horizon name: probe"},
	}
}

// Status returns the words for how well a number is founded.
func Status(code string, r Reader) string { return found(statuses(), code, r) }

// statuses: a judgement of ours is called a proposal to everybody.
func statuses() []phrase {
	return []phrase{
		{string(suitability.Published), "published", "published", "published"},
		{string(suitability.Practice), "common practice", "common practice, no source", "common practice, no source"},
		{string(suitability.Proposal), "our proposal", "proposal", "proposal"},
		{string(suitability.Memory), "from memory, not checked", "memory", "memory"},
	}
}

// Correctable returns whether a limit can be corrected; "" for no limit.
func Correctable(c suitability.Correctable, r Reader) string {
	if c == suitability.NotLimited {
		return ""
	}
	return found(correctables(), string(c), r)
}

// correctables: what can be done about a limit.
func correctables() []phrase {
	return []phrase{
		{string(suitability.Yes), "lime can mend it", "correctable by lime", "lime"},
		{string(suitability.Partly), "surface lime mends it only in part and over years", "correctable in part, over years", "surface lime works in part, over years"},
		{string(suitability.No), "that cannot be changed from the surface", "not correctable", "leave out"},
		{string(suitability.AsDeclaredOnly), "it rests on the drains you told of", "as declared: drainage works", "rests on declared drains"},
	}
}
