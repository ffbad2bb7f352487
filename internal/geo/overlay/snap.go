package overlay

import (
	"math"

	"rootworthy/internal/geo"
)

// gridLimit bounds coordinates: 2^50 units are 1.1e11 m, further than any plane reaches.
const gridLimit = 1 << 50

// snapMagic is 1.5 · 2^52. A float64 of that size counts in whole numbers, so adding it to v rounds v to a whole
// number (ties to even), which then stands in the low bits. For |v| < 2^51 this is geo.Snap, at a third of its cost;
// numbers beyond, infinities and NaN give bits far off the grid, which onGrid refuses.
const snapMagic = 3 << 51

// snapBias is the bits of snapMagic.
const snapBias = 0x4338000000000000

// snapFast returns v metres in grid units.
func snapFast(v float64) int64 {
	return roundFast(v * (1 / geo.PlaneStep))
}

// roundFast rounds v to the nearest whole number. The conversion keeps compilers from fusing the product that made v
// with the sum: equal inputs must round alike wherever they are met.
func roundFast(v float64) int64 {
	return int64(math.Float64bits(float64(v)+snapMagic)) - snapBias
}

func onGrid(u int64) bool { return -gridLimit <= u && u <= gridLimit }

// toMetres is the other way, to within a part in 2^52; snapFast gives u back.
func toMetres(u int64) float64 { return float64(u) * geo.PlaneStep }
