package change

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// BenchmarkCompare is two runs whose fields were each cut anew into nine zones. Ten times the fields must cost about ten times the time.
func BenchmarkCompare(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		x, y := &suitability.Result{}, &suitability.Result{}
		r := rand.New(rand.NewPCG(1, 1))
		for i := range n {
			at, id := orb.Point{-91 + 0.011*float64(i%100), 33 + 0.011*float64(i/100)}, fmt.Sprint(i)
			lattice(r, id, at, 0.01, 3, x)
			lattice(r, id, at, 0.01, 3, y)
		}
		b.Run(fmt.Sprint("fields=", n), func(b *testing.B) {
			for b.Loop() {
				c := mustCompare(b, x, y)
				if s := c.Sum(); len(s.Turns) == 0 {
					b.Fatal("nothing changed")
				}
			}
		})
	}
}
