// Package lime is the arithmetic of liming: how much calcium carbonate a soil asks for, how much of a product that is,
// and how many passes over sod it makes.
//
// From a soil survey alone there is only a screening figure by texture and pH ([Screen]); it is a budget, not a rate,
// because survey pH is a class midpoint under unknown liming and the table's own origin is not known. Rates are kg/m²
// of calcium carbonate (100 % CCE) until [Product.AsSpread] turns them into the product that goes over the ground.
//
//	s := lime.Screen(lime.SandyLoam, 5.5, 6.5)   // 6 lb per 100 ft², 1.31 short tons/ac
//	p := lime.Product{ECCE: 63, Moisture: 8}
//	p.AsSpread(s.Rate.Or(0))                     // what the spreader must put down
package lime
