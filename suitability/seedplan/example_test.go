package seedplan_test

import (
	"fmt"
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability/seedplan"
)

// Coated seed for forty acres of sod, and what to catch behind the drill.
func Example() {
	tag := seedplan.Tag{Purity: 66, Germination: 90, Coating: 34, Inoculated: true}
	plan := seedplan.Make([]seedplan.Zone{{ID: "home/1", FieldID: "home", Area: unit.Acres(40)}},
		seedplan.Options{Tag: tag, Sown: time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC)})
	fmt.Printf("%.0f lb/ac of live seed is %.0f lb/ac from the bag: %d bags\n", plan.PLS.PoundsPerAcre(), plan.Bulk.PoundsPerAcre(), plan.Bags)
	fmt.Printf("%.0f live seeds a foot of row\n", plan.PerRow.PerFoot())
	for _, c := range seedplan.Catches(plan.Bulk, plan.Spacing, seedplan.Distances())[:2] {
		fmt.Printf("%.0f ft: %.0f g a row\n", c.Distance.Feet(), c.Row.Grams())
	}
	for _, m := range plan.Milestones {
		fmt.Printf("%s: %.0f plants/ft², act below %.0f\n", m.Day.Format(time.DateOnly), m.Expect.PerSquareFoot(), m.Least.Or(0).PerSquareFoot())
	}
	// Output:
	// 22 lb/ac of live seed is 37 lb/ac from the bag: 32 bags
	// 69 live seeds a foot of row
	// 50 ft: 12 g a row
	// 100 ft: 24 g a row
	// 2026-12-01: 67 plants/ft², act below 25
	// 2027-03-15: 37 plants/ft², act below 15
}
