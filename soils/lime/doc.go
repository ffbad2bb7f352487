// Package lime is the arithmetic of liming: how much calcium carbonate a soil asks for, how much of a product that is,
// and how many passes over sod it makes.
//
// A soil test decides. [Methods] are the ways to a requirement, each with its source, its range, the slice of soil that its
// figure is for and the quality of lime it is written in; outside its range a method refuses. Every lime buffer has its
// own type, so that the reading of one is not taken for that of another.
//
//	m, _ := lime.MethodByName("nc-mehlich")
//	r, err := m.Require(lime.Soil{PH: unit.Some(unit.PH(5.2)), Mehlich: unit.Some(unit.PHMehlich(6.2))}, lime.Ask{Target: 6.5})
//	r.Rate                                        // 1.49 short tons/ac of lime as sold
//	least, most, ok := r.Band()                   // 1.09 to 1.88: what a buffer leaves open
//	r.AsSpread(lime.Product{ECCE: 63})            // the same 1.49: quality is built into lime as sold
//
// A [Rate] carries its quality, and only [Product.AsSpread] turns it into product: quality is never divided by twice.
//
// From a soil survey alone there is only a screening figure by texture and pH ([Screen]); it is a budget, not a rate,
// because survey pH is a class midpoint under unknown liming and the table's own origin is not known. Its rates
// are kg/m² of calcium carbonate (100 % CCE).
//
//	s := lime.Screen(lime.SandyLoam, 5.5, 6.5)   // 6 lb per 100 ft², 1.31 short tons/ac
//	p := lime.Product{ECCE: 63, Moisture: 8}
//	p.AsSpread(lime.Of(s.Rate.Or(0), lime.Carbonate)) // what the spreader must put down
package lime
