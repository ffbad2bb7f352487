package lime_test

import (
	"fmt"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

func Example_soilTest() {
	soil := lime.Soil{PH: unit.Some(unit.PH(5.2)), Mehlich: unit.Some(unit.PHMehlich(6.2))}
	for _, name := range []string{"nc-mehlich", "georgia-lbc"} {
		m, _ := lime.MethodByName(name)
		r, err := m.Require(soil, lime.Ask{Target: 6.5})
		if err != nil {
			fmt.Println(err)
			continue
		}
		least, most, _ := r.Band()
		fmt.Printf("%s: %.2f short tons/ac, %.2f to %.2f, of %s\n", m.Name, r.Rate.Amount().ShortTonsPerAcre(),
			least.Amount().ShortTonsPerAcre(), most.Amount().ShortTonsPerAcre(), r.Rate.Quality())
	}
	// Output:
	// nc-mehlich: 1.49 short tons/ac, 1.09 to 1.88, of agricultural lime as sold
	// georgia-lbc: lime buffer capacity was not measured; ask the laboratory for it, or use another method
}

func Example() {
	s := lime.Screen(lime.SandyLoam, 5.5, 6.5)
	fmt.Printf("%.2f short tons an acre of calcium carbonate\n", s.Rate.Or(0).ShortTonsPerAcre())
	p := lime.Product{ECCE: 63, Moisture: 8}
	fmt.Printf("%.2f as spread\n", p.AsSpread(lime.Of(s.Rate.Or(0), lime.Carbonate)).ShortTonsPerAcre())
	// Output:
	// 1.31 short tons an acre of calcium carbonate
	// 2.25 as spread
}
