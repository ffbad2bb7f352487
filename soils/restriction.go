package soils

import "rootworthy/soils/unit"

// Restriction is a layer that stops roots or water. Source: SSURGO corestrictions.
type Restriction struct {
	Kind        string // reskind in the survey's words, e.g. "Fragipan", "Lithic bedrock"
	Hardness    string // reshard
	Top, Bottom unit.Opt[unit.Depth]
}
