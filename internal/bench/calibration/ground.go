package main

import (
	"context"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// unitsOf reads the map units of a survey that a zone could lie on.
func unitsOf(name string, files fs.FS) ([]soils.MapUnit, error) {
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), name, files, &faults)
	if err != nil {
		return nil, err
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		return nil, err
	}
	return s.Units, nil
}

// estate is a farm with the map unit behind every zone.
type estate struct {
	*suitability.Result
	// by zone, as in Result.Zones: a zone is rated again on its unit when it is sampled
	units []soils.MapUnit
}

// farm lays zones on map units: n of them, one a field, square, of 2 to 120 acres, more of them small.
// Units that cannot be rated are drawn again: a farm of them would tell nothing.
func farm(units []soils.MapUnit, n int, seed uint64) *estate {
	p := suitability.DefaultProfile()
	// Once for each unit; zones draw from a few dozen of them.
	rated := make([]suitability.UnitRating, len(units))
	for i, u := range units {
		rated[i] = p.RateUnit(u, suitability.RateOptions{})
	}
	r := rand.New(rand.NewPCG(seed, 0xfa12))
	out := &estate{Result: &suitability.Result{Profile: p}}
	for len(out.Fields) < n {
		k := r.IntN(len(units))
		if rated[k].Class == suitability.NotRated {
			continue
		}
		i := len(out.Fields)
		// Even on a scale of logarithms: as many zones of 2 to 15 acres as of 15 to 120.
		area := unit.Acres(2 * math.Pow(60, r.Float64()))
		f := suitability.Field{ID: fmt.Sprintf("F%d", i+1), Area: area, Zones: []int{i}, Shape: square(i, area)}
		z := suitability.Zone{ID: f.ID + "/1", FieldID: f.ID, Number: 1, Area: area, Shape: f.Shape, SurveyArea: units[k].Area, MapUnitKey: units[k].Key, Rating: rated[k]}
		z.Lime = limeplan.Plan(p, z.Rating, area, limeplan.Options{})
		out.Fields, out.Zones, out.units = append(out.Fields, f), append(out.Zones, z), append(out.units, units[k])
	}
	return out
}

// square lies on open sea, each beside the last.
func square(i int, area unit.Area) orb.MultiPolygon {
	// Degrees of latitude; a degree is 111,320 m, near enough for ground that is invented.
	side := math.Sqrt(float64(area)) / 111320
	x, y := -70+0.02*float64(i%100), 30+0.02*float64(i/100)
	w := side / math.Cos(y*math.Pi/180)
	return orb.MultiPolygon{{{{x, y}, {x + w, y}, {x + w, y + side}, {x, y + side}, {x, y}}}}
}
