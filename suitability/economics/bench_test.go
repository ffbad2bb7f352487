package economics_test

import (
	"fmt"
	"testing"

	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// BenchmarkOf works out 10,000 fields of two zones.
func BenchmarkOf(b *testing.B) {
	var zones []suitability.Zone
	for i := range 10000 {
		f := fmt.Sprintf("F%d", i)
		zones = append(zones, zone(f+"/1", f, suitability.Suited, 30, 0.7, 1.4, 2.7, 12), zone(f+"/2", f, suitability.Marginal, 10, 0, 0, 0, 0))
	}
	r, p := result(zones...), invented(b)
	for _, draws := range []int{0, 1000} {
		b.Run(fmt.Sprintf("draws=%d", draws), func(b *testing.B) {
			for b.Loop() {
				economics.Of(r, p, economics.Options{Draws: draws})
			}
		})
	}
}
