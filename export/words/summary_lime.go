package words

import (
	"fmt"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// order is the lime of several zones together.
// The masses of low, likely and high are of lime, the product as it is spread. floor says that some zone may need more than its figure.
type order struct {
	low, likely, high, product unit.Mass
	limed                      unit.Area
	floor                      bool
	pure                       bool // some rate is not lime as sold
}

// limeOrder prints the lime of all zones together: what tests ask for apart from what is only a budget.
func (s *summary) limeOrder() {
	var budget, byTests order
	for _, z := range export.Zones(s.r) {
		l := &z.Lime
		likely, ok := l.Likely.Get()
		o := &budget
		if byTest(l) {
			o = &byTests
		}
		// Before zones without a figure are left out: one of at least nothing makes the sum a floor too.
		o.floor = o.floor || l.Bound == suitability.AtLeast
		if !ok || likely == 0 {
			continue
		}
		o.likely += likely.Over(z.Area)
		o.low += l.Low.Or(likely).Over(z.Area)
		o.high += l.High.Or(likely).Over(z.Area)
		o.product += l.ProductMass.Or(0)
		o.limed += z.Area
		o.pure = o.pure || !l.AsSold
	}
	if budget.limed+byTests.limed == 0 {
		return
	}
	s.heading("Lime")
	if byTests.limed > 0 {
		product := "lime as sold, whatever its ECCE,"
		if byTests.pure {
			product = "product"
		}
		s.text("", "", fmt.Sprintf("By soil test: order %s short tons (%s kg) of "+product+" for %s.", tons(byTests.product.ShortTons()), fixed(float64(byTests.product), 0), acresAndHectares(byTests.limed)))
	}
	if budget.limed > 0 {
		more := ""
		if budget.floor {
			more = ", or more"
		}
		s.text("", "", fmt.Sprintf("About %s short tons of pure lime (100 %% CCE) on %s: between %s and %s%s. A budget, not a rate: a soil test sets the rate.",
			tons(budget.likely.ShortTons()), acresAndHectares(budget.limed), tons(budget.low.ShortTons()), tons(budget.high.ShortTons()), more))
	}
}
