package samplesheet

import (
	"rootworthy/suitability/sampling"
)

// Reason says in sentences what the bags of a zone are for, as the truck sheet has it.
// The page shows it beside a zone in the words of the sheet, so that both say the same.
func Reason(z *sampling.Zone) string { return reason(z) }
