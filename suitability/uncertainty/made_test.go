package uncertainty_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// surveys are the demonstration, which is always there, and real exports beside the repository (USDA-NRCS SSURGO,
// public domain).
func surveys(t testing.TB) map[string]*soils.Survey {
	out := map[string]*soils.Survey{}
	for _, dir := range []string{"../../testdata/demo/survey", "../../../shared/data/ssurgo-ar017", "../../../shared/data/ssurgo-mo181-tabular"} {
		if _, err := os.Stat(dir); err != nil {
			t.Logf("not beside the repository, left out: %s", dir)
			continue
		}
		var faults diag.List
		e, err := ssurgo.Open(context.Background(), filepath.Base(dir), os.DirFS(dir), &faults)
		if err != nil {
			t.Fatal(err)
		}
		s, err := e.Survey(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(dir)] = s
	}
	return out
}

// resultOf lays a zone of 10 acres on every unit, two to a field; every third zone is tested when tests are wanted.
func resultOf(units []soils.MapUnit, tests bool) *suitability.Result {
	p := suitability.DefaultProfile()
	r := &suitability.Result{Profile: p}
	for i, u := range units {
		opt := suitability.RateOptions{}
		if tests && i%3 == 0 {
			opt.Tested = suitability.Tested{Surface: &suitability.TestedPH{PH: 5.9, Least: 5.9, Most: 5.9, Samples: 1, To: 20, Covered: 20, Age: suitability.AgeFresh},
				Subsoil: &suitability.TestedPH{PH: 5.4, Least: 5.4, Most: 5.4, Samples: 1, From: 30, To: 60, Covered: 30, Age: suitability.AgeOld}}
		}
		if i%2 == 0 {
			r.Fields = append(r.Fields, suitability.Field{ID: fmt.Sprintf("F%d", i/2)})
		}
		f := &r.Fields[i/2]
		z := suitability.Zone{ID: fmt.Sprintf("%s/%d", f.ID, i%2+1), FieldID: f.ID, Number: i%2 + 1, Area: unit.Acres(10), SurveyArea: u.Area, MapUnitKey: u.Key}
		z.Rating = p.RateUnit(u, opt)
		z.Lime = limeplan.Plan(p, z.Rating, z.Area, limeplan.Options{})
		f.Zones, f.Area = append(f.Zones, len(r.Zones)), f.Area+z.Area
		r.Zones = append(r.Zones, z)
	}
	return r
}

// soil is a well drained loam described to 150 cm, its pH within give of ph.
func soil(percent float64, ph, give float64) soils.Component {
	c := soils.Component{Name: fmt.Sprintf("pH %g", ph), Percent: unit.Some(unit.Percent(percent)), Kind: "Series", Drainage: soils.WellDrained}
	for _, at := range [][2]unit.Depth{{0, 30}, {30, 150}} {
		c.Horizons = append(c.Horizons, soils.Horizon{Name: "A", Top: unit.Some(at[0]), Bottom: unit.Some(at[1]), Texture: "L", AWC: unit.Some(0.15),
			PH: soils.Range[unit.PH]{Low: unit.Some(unit.PH(ph - give)), Value: unit.Some(unit.PH(ph)), High: unit.Some(unit.PH(ph + give))}})
	}
	return c
}
