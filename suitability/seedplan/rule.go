package seedplan

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Method is how seed is put out.
type Method string

// The methods.
const (
	Drilled   Method = "drilled"
	Broadcast Method = "broadcast"
	IntoSod   Method = "drilled into sod"
)

// Methods lists them.
func Methods() []Method { return []Method{Drilled, Broadcast, IntoSod} }

// Rule is a rate, in pure live seed, with who says so.
type Rule struct {
	Method           Method
	Least, Most      unit.AreaRate
	RowFrom, RowTo   unit.Length // row spacing that it is for; 0 where it is not said
	DepthFrom, Depth unit.Length // least and most depth; 0 where it is not said
	Source           string
	Status           suitability.Status
}

// rule shortens the table: pounds an acre and inches. All rates are pure live seed.
func rule(m Method, least, most, rowFrom, rowTo, depthFrom, depth float64, source string, s suitability.Status) Rule {
	return Rule{m, unit.PoundsPerAcre(least), unit.PoundsPerAcre(most), unit.Inches(rowFrom), unit.Inches(rowTo), unit.Inches(depthFrom), unit.Inches(depth), source, s}
}

// Rules lists what is said of rates. The first of a method is the one that is used; the others show where sources differ.
func Rules() []Rule {
	const practice = "common practice, no source"
	return []Rule{
		rule(Drilled, 20, 25, 7, 9, 0, 0.5, practice, suitability.Practice),
		rule(Broadcast, 22, 25, 0, 0, 0, 0.5, practice, suitability.Practice),
		rule(IntoSod, 22, 25, 7, 9, 0, 0.5, "Wood, Bouton and Hancock (University of Georgia), Eight steps for interseeding alfalfa into bermudagrass, Hay & Forage Grower", suitability.Published),
		rule(IntoSod, 12, 14, 14, 15, 0.25, 0.5, "Tucker (University of Georgia) and Mullenix (Auburn), Complement bermudagrass with alfalfa, Hay & Forage Grower: every other opener closed", suitability.Published),
		rule(IntoSod, 15, 20, 0, 0, 0.25, 0.5, "North Carolina State Extension, Forage planting guide (read in a copy)", suitability.Published),
		rule(IntoSod, 10, 20, 0, 0, 0, 0, "University of Arkansas in Hay & Forage Grower, Sod-seeded alfalfa: no gain over 20, 10 was enough for quality", suitability.Published),
	}
}

// RulesOf lists those of a method.
func RulesOf(m Method) []Rule {
	var out []Rule
	for _, r := range Rules() {
		if r.Method == m {
			out = append(out, r)
		}
	}
	return out
}

// Usual is the rate that is sown where the user names none: the least that every method's first rule allows.
// Source: common practice, no source.
const Usual = 22 * unit.PoundPerAcre

// What is asked of the ground and the drill.
// Source: Wood, Bouton and Hancock (University of Georgia), Eight steps for interseeding alfalfa into bermudagrass.
const (
	DeepestInch   = 0.5 // no deeper
	SodLeastInch  = 1   // mow or graze the sod to this
	SodMostInch   = 2   //
	WideRowsInch  = 14  // from here every other opener is closed and the rate is about halved
	NarrowestInch = 7
	WidestInch    = 9
)
