package economics_test

import (
	"os"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/suitability/economics"
)

// invented reads the prices of the tests.
func invented(t testing.TB) *economics.Prices {
	t.Helper()
	f, err := os.Open("testdata/prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var faults diag.List
	p, err := economics.ReadPrices("prices.toml", f, &faults)
	if err != nil || p == nil {
		t.Fatalf("%v\n%s", err, &faults)
	}
	return p
}
