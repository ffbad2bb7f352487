package words

import (
	"strings"

	"rootworthy/suitability"
)

// LimeWhy returns the words for why there is no lime figure, or none is needed.
func LimeWhy(code string, r Reader) string {
	return found(append(limeWhys(), testedLimeWhys()...), code, r)
}

// limeWhys: why there is no figure, or zero.
func limeWhys() []phrase {
	return []phrase{
		{suitability.WhyAtTarget, "the topsoil is not too acid, so it needs no lime by the survey", "surface pH at the target or above", "at target: no lime"},
		{suitability.WhyCalcareous, "there is lime in the soil already", "the surface holds carbonates", "calcareous: no lime"},
		{suitability.WhyAboveTable, "little or no lime is needed; only a soil test can tell", "between pH 6.5, where the table ends, and a higher target: at least zero", "table ends at pH 6.5: test"},
		{suitability.WhyOrganic, "the soil is peat or muck, which the lime table does not cover", "organic surface: no figure", "organic surface: test"},
		{suitability.WhyAcidSand, "the soil is a very acid sand, which the lime table does not cover", "sand below pH 5.0: no figure", "acid sand: test"},
		{suitability.WhyNoTexture, "the survey does not say if the soil is sand, loam or clay", "texture not recorded", "no texture: test"},
		{suitability.WhyNoSurfacePH, "there is no pH value in the survey", "surface pH not recorded", "no pH: test"},
		{suitability.WhyNotSoil, "this is water, rock or a pit, not soil", "miscellaneous area", "not soil"},
		{suitability.WhyZoneNotRated, "the zone is not rated", "the zone is not rated", "no lime planned"},
		{suitability.WhyZoneUnsuited, "lime would not make this ground fit for alfalfa", "unsuited: no lime unless asked for", "leave out"},
		{suitability.WhyNothingToShow, "the survey has no data that a lime figure could rest on", "no component has a figure", "no figure: test"},
	}
}

// LimeNote returns the words for a note on a lime figure. The profile names the pH from which to sow; nil means the
// usual one.
func LimeNote(code string, r Reader, p *suitability.Profile) string {
	return strings.ReplaceAll(found(append(limeNotes(), testedLimeNotes()...), code, r), sowFromMark, plain(sowFrom(p), 2))
}

// sowFromMark stands in the words for the least pH to sow at.
// It is put in when a phrase is read, since lists of phrases know no profile.
const sowFromMark = "{sow_from}"

// usualSowFrom is that pH where no profile is at hand. Source: common practice, no source.
const usualSowFrom = 6.2

// sowFrom is the pH from which the profile allows sowing.
func sowFrom(p *suitability.Profile) float64 {
	if p == nil || p.Lime.SowFrom.Value == 0 {
		return usualSowFrom
	}
	return p.Lime.SowFrom.Value
}

// limeNotes: what a figure is worth.
func limeNotes() []phrase {
	return []phrase{
		{suitability.LimeBudget, "this is a budget, not a rate; a soil test sets the rate", "screening figure, a budget and not a rate; a soil test sets the rate", "budget, not a rate: do not spread without a soil test"},
		{suitability.LimeTableOrigin, "the lime table is a rough one of unknown origin", "origin, depth and CCE of the texture table are not known; 100 % CCE assumed", "rough table; 100 % CCE assumed"},
		{suitability.LimeBelowTable, "the soil is more acid than the table goes; it may need more", "below pH 5.0: the value at 5.0 is a floor", "below pH 5.0: a floor"},
		{suitability.LimeAboveTable, "the table stops at pH 6.5; to go higher may need more", "target above 6.5: the figure to 6.5 is a floor", "target above 6.5: a floor"},
		{suitability.LimeOutside, "the table has no column for clay; it may need more", "clay: outside the table, clay loam column as a floor", "clay: a floor"},
		{suitability.LimeSand, "the table has no column for sand; it may need less", "sand: sandy loam column as a ceiling", "sand: a ceiling"},
		{suitability.LimeReckoned, "the survey does not name the texture; it is taken from its sand, silt and clay", "texture class by sand, silt and clay: the survey names none", "texture by sand, silt, clay"},
		{suitability.LimeBoundsMixed, "it may need more or less than this", "floor and ceiling mixed: neither holds for the sum", "may be more or less"},
		{suitability.LimePartOnly, "part of the zone has no figure", "some components have no figure", "part of the zone has no figure"},
		{suitability.LimeNoNeed, "the survey shows no need; grass that got nitrogen may have made the soil more acid, so test", "no need shown by the survey; sod that got nitrogen may be more acid; test", "no need by the survey; test sod that got nitrogen"},
		{suitability.LimeSurfaceOnly, "lime on top works mainly in the first inch or two (2 to 5 cm) and will not mend an acid subsoil", "surface lime works mainly in the top inch or two (2 to 5 cm) and will not repair an acid subsoil", "works in the top inch or two (2 to 5 cm) only"},
		{suitability.LimeRetest, "test again before you sow, and sow only if the pH reads at least " + sowFromMark, "retest before sowing; sow only if the retest reads at least pH " + sowFromMark, "retest before sowing: pH " + sowFromMark + " or more"},
		{suitability.LimeLargePass, "this much lime at once calls for a new test after two years", "cap above the usual one: retest after two years", "large pass: retest after two years"},
		{suitability.LimeStateMissing, "no lime target of your state was found, so the usual one is used", "no published target of the state was found; default used", "default target: state has none on file"},
		{suitability.LimeUnsuitedAsked, "you asked for lime on ground that lime will not make fit", "lime on unsuited ground, as asked", "unsuited ground, limed as asked"},
	}
}

// Bound returns the words for which way a figure errs; "" for none.
func Bound(code string, r Reader) string {
	if code == "" {
		return ""
	}
	return found(bounds(), code, r)
}

// bounds: the landowner reads them after the figure, the others before it.
func bounds() []phrase {
	return []phrase{
		{suitability.AtLeast, "or more", "at least", "at least"},
		{suitability.AtMost, "or less", "at most", "at most"},
	}
}
