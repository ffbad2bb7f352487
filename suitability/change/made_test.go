package change

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// lattice is a field of n × n crooked cells with one random class each; about every ninth lies outside the survey. Corners stand on the grid of
// seven decimals, as in a run, and neighbours have them in common.
func lattice(r *rand.Rand, id string, at orb.Point, side float64, n int, into *suitability.Result) {
	corner := make([][]orb.Point, n+1)
	round := func(x float64) float64 { return math.Round(x*1e7) / 1e7 }
	for i := range corner {
		for j := range n + 1 {
			x, y := float64(i), float64(j)
			if i > 0 && i < n { // the outline stays straight, so that two lattices fill the same square
				x += 0.6 * (r.Float64() - 0.5)
			}
			if j > 0 && j < n {
				y += 0.6 * (r.Float64() - 0.5)
			}
			corner[i] = append(corner[i], orb.Point{round(at[0] + side*x/float64(n)), round(at[1] + side*y/float64(n))})
		}
	}
	var outline orb.Ring
	for i := 0; i < n; i++ {
		outline = append(outline, corner[i][0])
	}
	for i := 0; i < n; i++ {
		outline = append(outline, corner[n][i])
	}
	for i := n; i > 0; i-- {
		outline = append(outline, corner[i][n])
	}
	for i := n; i >= 0; i-- {
		outline = append(outline, corner[0][i])
	}
	f := suitability.Field{ID: id, Shape: orb.MultiPolygon{{outline}}}
	for i := range n {
		for j := range n {
			cell := orb.Polygon{{corner[i][j], corner[i+1][j], corner[i+1][j+1], corner[i][j+1], corner[i][j]}}
			if r.IntN(9) == 0 {
				f.Outside = append(f.Outside, cell)
				continue
			}
			z := suitability.Zone{ID: fmt.Sprintf("%s/%d", id, len(f.Zones)+1), FieldID: id, Shape: orb.MultiPolygon{cell}}
			z.Rating.Class = suitability.Class(r.IntN(4))
			z.Rating.ClassToday = z.Rating.Class
			if r.IntN(4) > 0 {
				z.Rating.Values.PHSurface = unit.Some(unit.PH(5 + 2*r.Float64()))
				z.Lime.Likely = unit.Some(unit.ShortTonsPerAcre(3 * r.Float64()))
			}
			f.Zones = append(f.Zones, len(into.Zones))
			into.Zones = append(into.Zones, z)
		}
	}
	into.Fields = append(into.Fields, f)
}

// mustCompare compares two runs.
func mustCompare(t testing.TB, a, b *suitability.Result) *Comparison {
	t.Helper()
	c, err := Compare(t.Context(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
