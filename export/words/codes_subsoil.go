package words

import "rootworthy/soils/lime"

// GypsumFinding returns the words for a finding on gypsum.
func GypsumFinding(code string, r Reader) string { return found(gypsumFindings(), code, r) }

// gypsumFindings: research does not agree, so both sides are told to everybody, and no rate to anybody.
func gypsumFindings() []phrase {
	return []phrase{
		{"gypsum raised yield", "for it: in one trial on acid red clay, gypsum on top helped alfalfa over 4 years, and lime dug in deep helped more",
			"for: surface gypsum raised alfalfa yield over 4 years on an acid Typic Hapludult, lime to 1 m raised it more", "for: one trial, 4 years, acid red clay"},
		{"gypsum left aluminum", "against it: in another trial it took nothing that counts off the poison of the subsoil in 3 years",
			"against: no significant cut of subsoil aluminum in 3 years", "against: no cut of aluminum in 3 years"},
		{"gypsum on red Piedmont soils", "against haste: one state laboratory asks for a test of the soil at 15 in (38 cm) first, and means red Piedmont soils only",
			"with limits: a subsoil test at 15 in (38 cm) first, red Piedmont soils only", "test at 15 in (38 cm) first; red Piedmont soils only"},
	}
}

// Magnesium returns the words for what magnesium means for the choice of lime.
func Magnesium(a lime.MagnesiumAdvice, r Reader) string {
	return found(magnesiumAdvice(), string(a), r)
}

// magnesiumAdvice: which lime to buy.
func magnesiumAdvice() []phrase {
	pounds := plain(lime.MagnesiumWithoutLime.PoundsPerAcre(), 0)
	return []phrase{
		{string(lime.Dolomitic), "magnesium is low, so buy dolomitic lime", "magnesium low and lime needed: dolomitic lime", "order dolomitic lime"},
		{string(lime.ByPrice), "magnesium is not low, so buy the lime that works for the least money", "magnesium not low: the cheapest effective ton", "any lime; by price of the effective ton"},
		{string(lime.MagnesiumOnly), "magnesium is low and no lime is needed: ask for " + pounds + " lb of magnesium an acre", "magnesium low, no lime needed: " + pounds + " lb/ac of magnesium", "magnesium " + pounds + " lb/ac, no lime"},
		{string(lime.NoLime), "it needs no lime and no magnesium", "neither lime nor magnesium needed", "nothing to spread"},
	}
}
