package export_test

import (
	"fmt"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
)

// The columns say what a file holds; the row of a zone has its values in the same order.
func ExampleZoneColumns() {
	zone := &quillmoor.Result().Zones[0]
	row := export.ZoneRow(zone, export.Sentences{})
	for i, c := range export.ZoneColumns() {
		if x, ok := row[i].Float(); ok && c.Unit == "short ton per acre" {
			fmt.Printf("%s (%s): %g\n", c.Name, c.Short(), x)
		}
	}
	// Output:
	// lime_low_st_ac (lime_low_s): 0.6752
	// lime_st_ac (lime_st_ac): 1.3504
	// lime_high_st_ac (lime_high_): 2.7007
}
