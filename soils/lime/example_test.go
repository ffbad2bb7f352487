package lime_test

import (
	"fmt"

	"rootworthy/soils/lime"
)

func Example() {
	s := lime.Screen(lime.SandyLoam, 5.5, 6.5)
	fmt.Printf("%.2f short tons an acre of calcium carbonate\n", s.Rate.Or(0).ShortTonsPerAcre())
	p := lime.Product{ECCE: 63, Moisture: 8}
	fmt.Printf("%.2f as spread\n", p.AsSpread(lime.Of(s.Rate.Or(0), lime.Carbonate)).ShortTonsPerAcre())
	// Output:
	// 1.31 short tons an acre of calcium carbonate
	// 2.25 as spread
}
