package geo

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

// TestOrientAgainstBigIntegers checks the 128-bit branch against math/big, the slow obvious twin.
func TestOrientAgainstBigIntegers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.OneOf(rapid.Int64Range(-3, 3), rapid.Int64Range(-maxUnit, maxUnit))
		pt := rapid.Custom(func(t *rapid.T) Pt { return Pt{coord.Draw(t, "x"), coord.Draw(t, "y")} })
		a, b, p := pt.Draw(t, "a"), pt.Draw(t, "b"), pt.Draw(t, "p")
		sub := func(x, y int64) *big.Int { return new(big.Int).Sub(big.NewInt(x), big.NewInt(y)) }
		l := new(big.Int).Mul(sub(b.X, a.X), sub(p.Y, a.Y))
		r := new(big.Int).Mul(sub(b.Y, a.Y), sub(p.X, a.X))
		if got, want := Orient(a, b, p), l.Cmp(r); got != want {
			t.Fatalf("Orient(%v, %v, %v) = %d, want %d", a, b, p, got, want)
		}
	})
}
