package raster

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Stats sums up the cells of a grid under a polygon, each weighted by the share of it that lies inside.
type Stats struct {
	Cells          int     // cells with a value that the polygon touches
	Ground         float64 // their ground inside, in cells
	Missing        float64 // share of the polygon, 0..1, over missing cells or beyond the grid
	Mean, Min, Max float64 // in the unit of the grid; a cell touched at all counts for Min and Max
	Deviation      float64 // standard deviation of the ground about the mean
}

// Zonal sums a grid up over a polygon in the grid's system. ok is false when no cell with a value is touched: then only
// Missing says something. In a grid of degrees all cells weigh alike, though southern ones are a little wider: 0.03 %
// from side to side of a kilometre at 40 degrees. An error means a polygon whose corners are no numbers.
func Zonal[T Number](g *Grid[T], mp orb.MultiPolygon) (s Stats, ok bool, err error) {
	var sum, square float64
	base, based := 0.0, false // squares about a value of the zone: about zero they would cancel
	area, err := Coverage(g.frame, mp, func(col, row int, share float64) {
		t, has := g.At(col, row)
		if !has {
			return
		}
		// Integers beyond 2^53 lose their last digits, which no mean would show.
		v := float64(t)
		if !based {
			base, based, s.Min, s.Max = v, true, v, v
		}
		s.Cells++
		s.Ground += share
		s.Min, s.Max = math.Min(s.Min, v), math.Max(s.Max, v)
		sum += share * (v - base)
		square += share * (v - base) * (v - base)
	})
	if err != nil {
		return Stats{}, false, err
	}
	s.Missing = missingShare(s.Ground, area)
	if s.Cells == 0 {
		return s, false, nil
	}
	mean := sum / s.Ground
	// rounding may carry a mean of equal values past them
	s.Mean = math.Max(s.Min, math.Min(base+mean, s.Max))
	// Rounding may carry the difference under 0 for equal values.
	s.Deviation = math.Sqrt(math.Max(0, square/s.Ground-mean*mean))
	return s, true, nil
}

// missingShare returns what of an area has no value; a rest that is only rounding counts as nothing.
func missingShare(ground, area float64) float64 {
	// a polygon without ground has nothing, and so misses all of it
	if !(area > 0) {
		return 1
	}
	share := 1 - ground/area
	if share < leastShare {
		return 0
	}
	return math.Min(share, 1)
}

// KeyShare is what one key holds of a polygon.
type KeyShare[K Integer] struct {
	Key    K
	Ground float64 // in cells
	Share  float64 // of the whole polygon, 0..1
}

// KeyShares returns what each key holds of a polygon in the grid's system, the smallest key first, and which share of it
// lies over missing cells or beyond the grid.
func KeyShares[K Integer](g *Grid[K], mp orb.MultiPolygon) (shares []KeyShare[K], missing float64, err error) {
	sums := map[K]float64{}
	total := 0.0
	area, err := Coverage(g.frame, mp, func(col, row int, share float64) {
		if k, ok := g.At(col, row); ok {
			sums[k] += share
			total += share
		}
	})
	if err != nil {
		return nil, 0, err
	}
	// in any order; sorted below
	for k, ground := range sums {
		shares = append(shares, KeyShare[K]{k, ground, math.Min(1, ground/area)})
	}
	slices.SortFunc(shares, func(a, b KeyShare[K]) int { return cmp.Compare(a.Key, b.Key) })
	return shares, missingShare(total, area), nil
}
