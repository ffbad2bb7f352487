package nutrientplan_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
)

// Two zones: one with a test whose classes the laboratory printed, one without.
func Example() {
	var faults diag.List
	report, _ := nutrientplan.ReadReport("report.csv", strings.NewReader("sample_id,nutrient,class\n7,k,low\n7,p,high\n"), &faults)
	table, _ := nutrient.TableByName("south-carolina")
	potash, _ := nutrientplan.ParseProduct("muriate=0-0-60")
	zones := []nutrientplan.Zone{
		{ID: "home/1", FieldID: "home", Area: unit.Acres(10), Class: suitability.Suited, Tests: []nutrientplan.Test{report.Of(&lab.Sample{ID: "7"})}},
		{ID: "home/2", FieldID: "home", Area: unit.Acres(5), Class: suitability.Marginal},
	}
	plan := nutrientplan.Make(zones, nutrientplan.Options{Table: table, Products: []nutrientplan.Product{potash}})
	for _, z := range plan.Zones {
		if z.Why != "" {
			fmt.Printf("%s: %s; budget for %.0f to %.0f lb/ac of %s\n", z.ID, z.Why, z.Expect[0].Least.PoundsPerAcre(), z.Expect[0].Most.PoundsPerAcre(), z.Expect[0].Nutrient.Sold())
			continue
		}
		fmt.Printf("%s: %.0f lb/ac of %s, %s\n", z.ID, z.Rates[0].Rate.Or(0).PoundsPerAcre(), z.Rates[0].Nutrient.Sold(), z.Rates[0].When[0].When)
	}
	for _, l := range plan.Order {
		fmt.Printf("order %.0f lb of %s\n", l.Mass.Pounds(), l.Name)
	}
	// Output:
	// home/1: 300 lb/ac of K2O, three months before sowing
	// home/2: no test; budget for 0 to 300 lb/ac of K2O
	// order 5000 lb of muriate
}
