package taskdata

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability/limeplan"
)

// inPass returns what of a product goes on in one yearly pass, or in all of them at once. The passes of a zone add up to its product, so
// that the files of all passes together hold what the lime list says.
// The rate is of product. Pass counts from 1; a zone that needs fewer passes gets nothing in the later ones.
func inPass(product unit.AreaRate, passes int, most unit.AreaRate, pass int) unit.AreaRate {
	if pass == AllPasses || passes <= 1 && pass == 1 {
		return product
	}
	return limeplan.OfPass(product, passes, most, pass)
}
