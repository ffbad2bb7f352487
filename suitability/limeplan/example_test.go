package limeplan_test

import (
	"fmt"
	"time"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// A budget for ten acres of acid loam, in a product of 63 % ECCE, from late autumn on.
func Example() {
	p := suitability.DefaultProfile()
	ground := soils.MapUnit{Components: []soils.Component{soil(100, horizon(0, 30, "L", 5.5), horizon(30, 150, "CL", 6.5))}}
	window, err := season.Region(p, "piedmont")
	if err != nil {
		fmt.Println(err)
		return
	}
	l := limeplan.Plan(p, p.RateUnit(ground, suitability.RateOptions{}), unit.Acres(10), limeplan.Options{
		ECCE: 63, Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Window: &window})
	fmt.Printf("%.2f to %.2f short tons an acre at 100 %% CCE, likely %.2f\n",
		l.Low.Or(0).ShortTonsPerAcre(), l.High.Or(0).ShortTonsPerAcre(), l.Likely.Or(0).ShortTonsPerAcre())
	fmt.Printf("order %.1f short tons, %d passes, ready %s, sow %s\n", l.ProductMass.Or(0).ShortTons(), l.Passes, l.Ready, l.Window)
	// Output:
	// 0.87 to 3.48 short tons an acre at 100 % CCE, likely 1.74
	// order 27.5 short tons, 2 passes, ready 2028-11-25, sow 2029-09-15/2029-10-15
}
