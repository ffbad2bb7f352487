package variety_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/suitability/variety"
)

func Example() {
	var faults diag.List
	table, _, _ := variety.Read("own.csv", strings.NewReader("variety,dormancy,anthracnose\nfirst,6,R\nsecond,4,HR\nthird,7,\n"), &faults)
	for _, v := range variety.ShortList(table, variety.Need{}) {
		fmt.Print(v.Name, ": ", v.Verdict)
		for _, t := range v.Traits {
			fmt.Printf(", %s %q (wanted %s)", t.Name, t.Found, t.Wanted)
		}
		fmt.Println()
	}
	// Output:
	// first: listed
	// third: not known, anthracnose "" (wanted at least MR)
	// second: fails, dormancy "4" (wanted 5 to 8)
}
