package samplesheet

import (
	"rootworthy/export/words"
	"rootworthy/suitability/sampling"
)

// Reason says in sentences what the bags of a zone are for, as the truck sheet has it.
func Reason(z *sampling.Zone) string { return reason(z) }

// Bags says what is taken in a zone: "1 topsoil bag and 1 subsoil bag".
func Bags(z *sampling.Zone) string {
	var parts []string
	if z.Top > 0 {
		parts = append(parts, words.Count(z.Top, "topsoil bag", "topsoil bags"))
	}
	if z.Deep > 0 {
		parts = append(parts, words.Count(z.Deep, "subsoil bag", "subsoil bags"))
	}
	return words.Listed(parts)
}
