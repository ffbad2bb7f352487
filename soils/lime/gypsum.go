package lime

import "rootworthy/soils/unit"

// Finding is one published result about a practice.
type Finding struct {
	Code   string // stable
	Favour bool   // it speaks for the practice
	Text   string
	Source string
}

// GypsumQuestion returns the findings on gypsum for an acid subsoil, both ways: research does not agree, so gypsum is a
// question to a local adviser and never a rate. ok is false when the subsoil is not acid or nobody knows: then there is
// no question.
func GypsumQuestion(subsoil unit.Opt[unit.PH]) (findings []Finding, ok bool) {
	ph, known := subsoil.Get()
	if !known || !(ph < AcidSubsoil) {
		return nil, false
	}
	return []Finding{
		{"gypsum raised yield", true, "surface gypsum gave 25 % more alfalfa over 4 years on an acid Typic Hapludult; lime to 1 m gave 50 % more",
			"Sumner, Shahandeh, Bouton and Hammel 1986 (abstract)"},
		{"gypsum left aluminum", false, "no significant cut of subsoil aluminum in 3 years", "SARE project LS99-100"},
		{"gypsum on red Piedmont soils", false, "test the subsoil at 15 in before gypsum; red Piedmont soils only",
			"University of Georgia Agricultural and Environmental Services Laboratories, crop code 025"},
	}, true
}

// AcidSubsoil is the subsoil pH under which roots of alfalfa meet toxic aluminum.
// Source: Redmon, SARE project OS02-006: 5.5 at least through the upper four feet; the same figure at one foot, University
// of Georgia Extension, Colquitt County (2014).
const AcidSubsoil unit.PH = 5.5
