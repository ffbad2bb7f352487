package samplesheet

import (
	"rootworthy/suitability/sampling"
)

// Reason says in sentences what the bags of a zone are for, as the truck sheet has it.
func Reason(z *sampling.Zone) string { return reason(z) }
