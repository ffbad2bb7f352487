package stand_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/suitability/stand"
)

func Example() {
	var faults diag.List
	records, _ := stand.Read("record.csv", strings.NewReader(`field_id,zone_id,date,kind,value,unit,note
home,,2026-10-20,sown,,,
home,home/1,2027-03-18,stems,48,per_ft2,
home,home/1,2029-03-20,stems,31,per_ft2,
`), &faults)
	for _, story := range stand.History(records) {
		for _, y := range story.Years {
			if y.Decision != nil {
				fmt.Printf("%s, year %d: %.0f stems/ft²: %s\n", story.Zone, y.Number, y.Decision.Count.PerSquareFoot(), y.Decision.Action)
			}
		}
	}
	// Output:
	// home/1, year 1: 48 stems/ft²: keep, yield falls
	// home/1, year 3: 31 stems/ft²: give up
}
