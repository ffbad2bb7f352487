package nutrient_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
)

// A laboratory's file, a table by Mehlich-1 and a bag that was tested by Mehlich-3: it is refused with the question.
func Example() {
	file := `field_id,sample_id,top_cm,bottom_cm,p_m1_lb_ac,k_m1_lb_ac,k_m3_ppm
home,1,0,15,25,180,
home,2,0,15,48,,90
`
	var faults diag.List
	read, _ := lab.Read("tests.csv", strings.NewReader(file), int64(len(file)), &lab.Mapping{SliceLbAc: 2e6}, &faults)
	table, _ := nutrient.TableByName("georgia-piedmont")
	for i := range read.Samples {
		soil := nutrient.Soil{Sample: &read.Samples[i]}
		for _, n := range []nutrient.Nutrient{nutrient.Phosphorus, nutrient.Potassium} {
			class, err := table.Classify(n, soil)
			if err != nil {
				fmt.Println(read.Samples[i].ID, n, "refused:", err)
				continue
			}
			fmt.Println(read.Samples[i].ID, n, class.Name)
		}
	}
	// Output:
	// 1 phosphorus medium
	// 1 potassium medium
	// 2 phosphorus high
	// 2 potassium refused: potassium was measured by Mehlich-3, and georgia-piedmont holds for Mehlich-1; ask the laboratory for Mehlich-1, or for its class and rate for alfalfa; the figures are not converted
}

// The class that the laboratory printed, and what the matrix of the state asks for.
func ExampleTable_Require() {
	table, _ := nutrient.TableByName("south-carolina")
	soil := nutrient.Soil{Printed: []nutrient.Printed{{nutrient.Phosphorus, "medium"}, {nutrient.Potassium, "low"}}}
	for _, need := range table.Require(soil, nutrient.Ask{}) {
		rate, ok := need.Rate.Get()
		switch {
		case ok:
			fmt.Printf("%s: %.0f lb/ac\n", need.Nutrient.Sold(), rate.PoundsPerAcre())
		case need.Refusal != nil:
			fmt.Printf("%s: %s\n", need.Nutrient.Sold(), need.Refusal.Code)
		default:
			fmt.Printf("%s: %s\n", need.Nutrient.Sold(), need.Why)
		}
	}
	// Output:
	// K2O: 300 lb/ac
	// P2O5: 100 lb/ac
	// Mg: not rated by table
	// S: not rated by table
	// B: not measured
	// Mo: not asked for
}
