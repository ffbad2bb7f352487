package taskdata

import (
	"strconv"
	"strings"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// inPass returns what of a product goes on in one yearly pass. The passes of a zone add up to its product, so that the
// files of all passes together hold what the lime list says.
// The rate is of product. Pass counts from 1; a zone that needs fewer passes gets nothing in the later ones.
func inPass(product unit.AreaRate, passes int, most unit.AreaRate, pass int) unit.AreaRate {
	if pass == AllPasses || passes <= 1 && pass == 1 {
		return product
	}
	if pass > passes {
		return 0
	}
	if split := lime.Passes(product, most); len(split) == passes {
		return split[pass-1]
	}
	return product / unit.AreaRate(passes) // the run was capped otherwise than it says; equal passes are under any cap
}

// capOf returns the most of a product that the run allowed in a year: the user's figure, or else the profile's; 0 when
// neither is known.
func capOf(r *suitability.Result) unit.AreaRate {
	for _, o := range r.Provenance.Options {
		if number, _, _ := strings.Cut(o.Value, " "); o.Name == "lime-cap" {
			// Only the number counts, should a unit stand behind it.
			if x, err := strconv.ParseFloat(number, 64); err == nil && x > 0 {
				return unit.ShortTonsPerAcre(x)
			}
		}
	}
	if r.Profile != nil {
		return unit.ShortTonsPerAcre(r.Profile.Lime.Cap.Value)
	}
	return 0
}
