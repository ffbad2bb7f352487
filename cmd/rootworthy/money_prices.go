package main

import (
	"fmt"
	"os"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/suitability/economics"
)

// openPrices reads a file of prices. One with a fault is refused: a wrong price would be wrong everywhere.
func openPrices(path string) (*economics.Prices, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var faults diag.List
	p, err := economics.ReadPrices(baseName(path), f, &faults)
	if err != nil {
		return nil, err
	}
	if p == nil {
		return nil, fmt.Errorf("the prices have faults, and nothing was written:\n%s", strings.TrimRight(faults.String(), "\n"))
	}
	return p, nil
}
