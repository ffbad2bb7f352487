package ranking

import (
	"math"
	"math/rand/v2"
	"testing"

	"rootworthy/soils/unit"
)

// Source: textbook, binomial distribution: at least 2 of 4 coins, 11/16; at least 8 of 10 at 0.7, 0.382783 (computed).
func TestChanceOfEnoughIsBinomial(t *testing.T) {
	equal := func(n int, chance float64) (out []lot) {
		for range n {
			out = append(out, lot{1000, chance})
		}
		return out
	}
	for _, tc := range []struct {
		lots  []lot
		least unit.Area
		want  float64
	}{
		{equal(4, 0.5), 2000, 11.0 / 16},
		{equal(10, 0.7), 8000, 0.3827827864},
		{equal(3, 1), 3000, 1},
		{equal(3, 0), 1, 0},
		{equal(3, 0.5), 3001, 0},
		{nil, 1, 0},
		{nil, 0, 1},
	} {
		if got := chanceOf(tc.lots, tc.least); math.Abs(got-tc.want) > 1e-9 {
			t.Errorf("chanceOf(%v, %v) = %v, want %v", tc.lots, tc.least, got, tc.want)
		}
	}
}

// With many unsure zones neighbouring sums are taken as one; drawing says the same.
func TestChanceOfEnoughOfManyZones(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	var lots []lot
	for range 25 {
		lots = append(lots, lot{unit.Area(1000 + 9000*r.Float64()), r.Float64()})
	}
	const draws = 200000
	for _, least := range []unit.Area{40000, 65000, 90000} {
		n := 0
		for range draws {
			sum := unit.Area(0)
			for _, l := range lots {
				if r.Float64() < l.chance {
					sum += l.area
				}
			}
			if sum >= least {
				n++
			}
		}
		if got, want := chanceOf(lots, least), float64(n)/draws; math.Abs(got-want) > 0.006 { // five standard errors of the draws
			t.Errorf("chance of %v m²: %v, by drawing %v", least, got, want)
		}
	}
}
