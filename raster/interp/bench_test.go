package interp

import (
	"context"
	"testing"
)

// A thousand points on a million cells.
func BenchmarkMillionCells(b *testing.B) {
	samples := scatter(1, 1000, 5000, 0.1)
	f := plane(1000, 1000, 5000)
	for _, m := range []Method{OrdinaryKriging, InverseDistance, Nearest} {
		b.Run(m.String(), func(b *testing.B) {
			for range b.N {
				if _, err := Interpolate(context.Background(), f, samples, Options{Method: m}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Twenty points on a field of ten thousand cells: what a field costs.
func BenchmarkField(b *testing.B) {
	samples := scatter(1, 20, 400, 0.1)
	f := plane(100, 100, 400)
	for range b.N {
		if _, err := Interpolate(context.Background(), f, samples, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
