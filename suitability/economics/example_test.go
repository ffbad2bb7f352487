package economics_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// A suited zone of ten acres that needs two tons of lime, by the prices of a file.
func Example() {
	const file = `
date     = 2026-11-25
place    = "invented"
currency = "USD"
[lime]
low    = 40
likely = 50
high   = 70
unit   = "per short ton"
source = "invented"
year   = 2026
`
	var faults diag.List
	p, err := economics.ReadPrices("prices.toml", strings.NewReader(file), &faults)
	if err != nil || p == nil {
		fmt.Println(err, &faults)
		return
	}
	r := result(zone("F1/1", "F1", suitability.Suited, 10, 1, 2, 4, 12))
	s := economics.Of(r, p, economics.Options{})
	cost, _ := s.Fields[0].PerSuited.Get()
	fmt.Printf("between %.0f and %.0f %s an acre, likely %.0f\n", cost.Low.PerAcre(), cost.High.PerAcre(), p.Currency, cost.Likely.PerAcre())
	fmt.Println("no value without", s.Wants[0])
	// Output:
	// between 40 and 280 USD an acre, likely 100
	// no value without hay
}
