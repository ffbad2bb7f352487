package uncertainty_test

import (
	"fmt"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// A field of 40 acres on one map unit: four parts of five a good soil, one part a soil with an acid subsoil. By hand: 40
// acres are eight bodies, and five or more of eight are good in 0.944 of all cases.
func ExampleOf() {
	u := soils.MapUnit{Key: "1", Components: []soils.Component{soil(80, 6.9, 0.3), soil(20, 4.9, 0.3)}}
	p := suitability.DefaultProfile()
	z := suitability.Zone{ID: "F1/1", FieldID: "F1", MapUnitKey: "1", Area: unit.Acres(40), Rating: p.RateUnit(u, suitability.RateOptions{})}
	r := &suitability.Result{Profile: p, Zones: []suitability.Zone{z}, Fields: []suitability.Field{{ID: "F1", Area: z.Area, Zones: []int{0}}}}

	s := uncertainty.Of(r, uncertainty.Options{Seed: 1})
	fmt.Println("rated", z.Rating.Class)
	fmt.Printf("suited %.2f ± %.2f\n", s.Zones[0].Class.Of(suitability.Suited), s.Zones[0].Error)
	fmt.Printf("a spot taken blindly: suited %.1f\n", s.Zones[0].Spots.Of(suitability.Suited))
	// Output:
	// rated suited
	// suited 0.95 ± 0.02
	// a spot taken blindly: suited 0.8
}
