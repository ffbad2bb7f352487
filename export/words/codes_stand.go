package words

import (
	"rootworthy/suitability/seedplan"
	"rootworthy/suitability/stand"
	"rootworthy/suitability/variety"
)

// SeedNote returns the words for a note on the seed plan.
func SeedNote(code string, r Reader) string { return found(seedNotes(), code, r) }

// seedNotes: what is odd about the order, and what must be known on the day.
func seedNotes() []phrase {
	return []phrase{
		{seedplan.RateLow, "this is less seed than is usual", "rate under the usual", "less than usual: check the order"},
		{seedplan.RateHigh, "this is more seed than is usual, and nobody found a gain from it", "rate over the usual; no gain found", "more than usual: check the order"},
		{seedplan.RowsOutside, "rows are usually 7 to 9 in (18 to 23 cm) apart", "row spacing outside 7 to 9 in (18 to 23 cm)", "rows not 7 to 9 in (18 to 23 cm)"},
		{seedplan.WideRows, "in rows 14 in (36 cm) or more apart every other opener is closed and half the seed does", "rows of 14 in (36 cm) or more: alternate openers closed, about half the rate", "close every other opener"},
		{seedplan.HardSeedCounted, "hard seed is counted as alive; some of it comes up late or never", "hard seed counted as live", "hard seed counted"},
		{seedplan.HardSeedLeftOut, "hard seed is not counted, so more is sown", "hard seed not counted", "hard seed not counted"},
		{seedplan.InoculateSeed, "the seed needs inoculant, fresh and for alfalfa, on the day of seeding", "inoculate at planting", "inoculate on the day"},
		{seedplan.InoculantUnknown, "say how much seed a package of inoculant is for, and it goes on the order", "inoculant not named: not in the order", "inoculant missing from the order"},
		{seedplan.InoculantExpired, "the inoculant will be too old by then", "inoculant expires before sowing", "get fresh inoculant"},
		{seedplan.SeedTreatedMo, "the seed has molybdenum on it already: add none", "seed treated with molybdenum: add none", "no molybdenum on this seed"},
		{seedplan.SodShort, "cut or graze the sod to 1 to 2 in (2.5 to 5 cm), take the residue off, and hold it back as a label allows", "sod at 1 to 2 in (2.5 to 5 cm) and suppressed; label decides", "sod at 1 to 2 in (2.5 to 5 cm), sprayed by the label"},
		{seedplan.ShallowOnly, "sow no deeper than half an inch (1.3 cm)", "no deeper than 1/2 in (1.3 cm)", "dig behind the drill: half an inch (1.3 cm) at most"},
		{seedplan.CricketsAfterward, "look for crickets when the seedlings are up; they eat at night", "scout crickets and other seedling insects after emergence", "scout at night after emergence"},
	}
}

// SeedAction returns the words for what to do where fewer plants stand than should.
func SeedAction(code string, r Reader) string { return found(seedActions(), code, r) }

// seedActions: what a count below the expected asks for.
func seedActions() []phrase {
	return []phrase{
		{seedplan.FindOut, "find out why (depth, crickets, drought, spray) and sow thin spots again while there is time", "diagnose: depth, insects, drought, herbicide; resow within the window", "find the cause, resow thin spots in the window"},
		{seedplan.ThickenUp, "sow more alfalfa into it in the next window, within a year of the first sowing", "thicken within the first year, in the next window", "resow in the next window"},
	}
}

// StandAction returns the words for what a count calls for.
func StandAction(code string, r Reader) string { return found(standActions(), code, r) }

// standActions: from the best stand to the worst.
func standActions() []phrase {
	return []phrase{
		{string(stand.Keep), "keep the stand", "keep: no loss of yield by this count", "keep"},
		{string(stand.KeepThin), "keep the stand, but expect less hay; look to potash and pH first", "keep: yield falls; fertility before anything else", "keep; test soil and tissue"},
		{string(stand.Thicken), "too thin: sow more alfalfa into it now, while it is under a year old", "thin and under a year old: thicken with alfalfa", "thicken in the next window"},
		{string(stand.GiveUp), "the alfalfa no longer pays: let the grass have the ground, feed it, and wait two years before alfalfa", "below the source's limit: return to grass; no alfalfa for about two years", "no more alfalfa inputs; nitrogen for the grass"},
	}
}

// StandCaveat returns the words for what the limits of a count are worth.
func StandCaveat(code string, r Reader) string { return found(standCaveats(), code, r) }

// standCaveats: the limits were measured elsewhere, and that goes along with every count.
func standCaveats() []phrase {
	return []phrase{
		{stand.PureStands, "these counts come from fields of alfalfa alone, farther north; in your sod the grass fills the gaps", "limits of pure stands in the north; in sod they say when alfalfa no longer carries its share", "limits are of pure stands"},
	}
}

// Verdict returns the words for what the short list says of a variety.
func Verdict(code string, r Reader) string { return found(verdicts(), code, r) }

// verdicts: what is not known neither fits nor fails.
func verdicts() []phrase {
	return []phrase{
		{string(variety.Listed), "fits", "meets every trait asked for", "fits"},
		{string(variety.Open), "may fit; the table leaves something out", "nothing fails; not everything is known", "ask the seller for what is missing"},
		{string(variety.Out), "does not fit", "a trait fails", "not this one"},
	}
}
