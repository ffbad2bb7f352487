package words

import (
	"fmt"

	"rootworthy/suitability/caution"
)

// Caution returns the words for a caution of the plan.
func Caution(code string, r Reader) string { return found(planCautions(), code, r) }

// planCautions: what can hurt people, animals or the crop, told where the step stands.
func planCautions() []phrase {
	// Figures come from the package that holds their sources, so that words and sources cannot part.
	beetles := fmt.Sprintf("%d to %d", caution.LethalLeast, caution.LethalMost)
	months := fmt.Sprint(caution.HistoryMonths)
	return []phrase{
		{caution.LimeDust, "lime dust harms eyes and lungs; wear goggles and a dust mask", "lime dust: eye and lung protection", "goggles and dust mask on; nobody downwind"},
		{caution.BurntLime, "burnt and hydrated lime burn skin, eyes and crop; do not spread them on sod", "burnt and hydrated lime are caustic and not for broadcasting on sod", "no burnt or hydrated lime on sod"},
		{caution.Drift, "do not spread lime near ditches, streams or wells, or in strong wind", "keep lime off waterways; no spreading in high wind", "stay off waterways; stop in strong wind"},
		{caution.LabelIsLaw, "the label is the law; some products need a license", "label and licensed practice decide every product and rate", "read the label before you mix"},
		{caution.CarryOver, "weed killers of the last " + months + " months may still kill alfalfa; find out what was sprayed, and read those labels", "spray history of " + months + " months: picloram and sulfonylureas; the label's plant-back interval decides", "spray history of " + months + " months checked before seeding"},
		{caution.CarryOverLong, "some pasture weed killers last longer, and so do hay and manure from sprayed ground", "pyridines (aminopyralid and its like) may persist longer, in hay and manure too", "no hay or manure from sprayed pasture on this ground"},
		{caution.LabelIntervals, "after spraying, the label says how long to wait before you graze or cut; no other figure counts", "grazing and hay intervals: the label decides", "write down the label's waiting days for grazing and hay"},
		{caution.SeedMolybdenum, "never put more molybdenum on the seed than the figure given, and none on seed that has it already", "molybdenum on seed: a ceiling never to be exceeded; none on treated seed", "weigh the molybdenum to the hundredth of an ounce; never more"},
		{caution.Molybdenum, "too much molybdenum in the crop poisons cattle", "excess molybdenum is toxic to cattle (copper deficiency)", "no second dose of molybdenum"},
		{caution.BoronSeedRow, "never put boron next to the seed; it kills seedlings", "boron is broadcast, never in the seed row", "no boron in the drill"},
		{caution.Bloat, "fresh alfalfa can bloat cattle and sheep and kill them: never let hungry animals in, begin slowly, keep grass in the stand, and ask a veterinarian", "bloat: grass share, gradual introduction, never hungry; poloxalene or ionophore on veterinary advice", "animals full before they go in; look at them often"},
		{caution.BlisterBeetles, "beetles crushed in hay can kill horses (" + beetles + " may be enough): look before you cut, and do not crush the hay for horses", "blister beetles: " + beetles + " estimated lethal to a horse; first cut and October usually clear; mow without a conditioner", "look for beetles before mowing; no conditioner for horse hay"},
		{caution.Nitrate, "grass under stress can hold nitrate that poisons cattle; have doubtful hay tested before you feed it", "nitrate: low in alfalfa; test the grass share after stress", "after drought or frost: nitrate test before feeding"},
		{caution.GrazeHeights, "let alfalfa grow to about 6 in (15 cm) in spring, and do not graze it short: keep 7 to 8 in (18 to 20 cm) in the season", "spring grazing from about 6 in; grazing types not below 7 to 8 in in the season (the source's two heights read oddly together)", "out at 7 to 8 in (18 to 20 cm)"},
		{caution.SelfPoisoning, "alfalfa poisons the ground for new alfalfa for about two years; a grass field has no such trouble", "autotoxicity: no alfalfa after alfalfa within about two years; no issue in grass sod", "no new alfalfa where alfalfa stood in the last two years"},
	}
}
