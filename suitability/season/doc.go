// Package season plans the year of a sowing: which autumn window is open, and, counted back from it, by when to sample, lime,
// test again, suppress the sod and sow; counted forward, when to scout, count plants, sample tissue and cut for the last time.
//
// Lime works slowly, so the plan begins at the end. A step has three days: the first on which it can be done, the day by
// which it is due if the whole window is to stay open, and the last; after that the next window counts, and the plan says which:
//
//	start ─ soil test ─ lime ──── 12 months ───▶ retest ─ suppress the sod ─ sow ─ scout …
//	        due ◀──────────────────────────────────────────────────── first day of the window
//	        last ◀─────────────────────────────────────────────────── last day of the window
//
// A later start never yields an earlier sowing. Nothing here reads a clock. Each number that a date rests on stands in [Rules] or in the
// crop profile with its source, or with the word that it has none.
package season
