package geo

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func bigOf(a Int128) *big.Int {
	v := new(big.Int).Lsh(big.NewInt(a.Hi), 64)
	return v.Add(v, new(big.Int).SetUint64(a.Lo))
}

// TestInt128AgainstBigIntegers checks sums, signs, floats and ratios against math/big.
func TestInt128AgainstBigIntegers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.OneOf(rapid.Int64Range(-3, 3), rapid.Int64Range(-1<<61, 1<<61))
		draw := func(name string) Int128 { return Product(word.Draw(t, name), word.Draw(t, name)) }
		a, b, c, d := draw("a"), draw("b"), draw("c"), draw("d")
		if got, want := bigOf(a.Add(b).Sub(c)), new(big.Int).Sub(new(big.Int).Add(bigOf(a), bigOf(b)), bigOf(c)); got.Cmp(want) != 0 {
			t.Fatalf("%v + %v - %v = %v, want %v", a, b, c, got, want)
		}
		if a.Sign() != bigOf(a).Sign() || a.Neg().Sign() != -a.Sign() {
			t.Fatalf("sign of %v is %d", a, a.Sign())
		}
		if want, _ := new(big.Float).SetInt(bigOf(a)).Float64(); math.Abs(a.Float()-want) > 3e-16*math.Abs(want) {
			t.Fatalf("%v as a float is %v, want %v", a, a.Float(), want)
		}
		if b.Sign() == 0 || d.Sign() == 0 {
			return
		}
		want := new(big.Rat).SetFrac(bigOf(a), bigOf(b)).Cmp(new(big.Rat).SetFrac(bigOf(c), bigOf(d)))
		if got := CompareRatios(a, b, c, d); got != want {
			t.Fatalf("%v/%v against %v/%v is %d, want %d", a, b, c, d, got, want)
		}
	})
}

// TestDoubledArea checks a ring far from the origin and wider than 64 bits can hold.
func TestDoubledArea(t *testing.T) {
	const far, side = 1 << 50, 1 << 40
	ring := []Pt{{far, far}, {far + side, far}, {far + side, far + side}, {far, far + side}}
	want := new(big.Int).Lsh(big.NewInt(1), 81)
	if got := bigOf(DoubledArea(ring)); got.Cmp(want) != 0 {
		t.Errorf("doubled area %v, want %v", got, want)
	}
	if got := SquareMetres(Wide(2e8)); math.Abs(got-1) > 1e-15 {
		t.Errorf("1e8 square units are %v m²", got)
	}
}
