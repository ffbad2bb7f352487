package change_test

import (
	"context"
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/job"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

const shared = "../../../shared/data/"

// county is a real survey.
type county struct {
	export *ssurgo.Export
	survey *soils.Survey
}

func (o county) Survey() *soils.Survey { return o.survey }

func (o county) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return o.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}

// screened screens the invented fields of the county, each moved east by that many degrees.
func screened(t *testing.T, east float64) *suitability.Result {
	t.Helper()
	var faults diag.List
	ctx := t.Context()
	fields, err := field.Read(ctx, []field.Source{{Name: "fields.geojson", Files: os.DirFS(shared + "fields-ar017-invented"), Path: "fields.geojson"}}, field.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	for i := range fields {
		for _, p := range fields[i].Shape {
			for _, r := range p {
				for k := range r {
					r[k][0] = math.Round((r[k][0]+east)*1e7) / 1e7
				}
			}
		}
	}
	e, err := ssurgo.Open(ctx, "AR017", os.DirFS(shared+"ssurgo-ar017"), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(ctx)
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Screen(ctx, fields, county{e, s}, job.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// On a real survey, with fields of holes, two parts, a river and an edge of the survey: boundaries that were all moved by some 30 m leave the soil of
// the ground that both runs have as it was, and the pairs of every field add up to its area: to a millionth of its shape as the run holds it, and to what
// rounding its corners to seven decimals, 5 mm at most, does to long edges, of the area that the run measured before.
func TestBoundariesMovedOnARealSurvey(t *testing.T) {
	if _, err := os.Stat(shared + "ssurgo-ar017"); err != nil {
		t.Skipf("needs the real survey %sssurgo-ar017", shared)
	}
	a, b := screened(t, 0), screened(t, 0.00032)
	c, err := change.Compare(t.Context(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	plane := proj.PlaneFor(orb.Bound{Min: orb.Point{-91.5, 33}, Max: orb.Point{-91, 33.6}})
	worst, rounding := 0.0, 0.0
	for i := range c.Fields {
		f := &c.Fields[i]
		for run, r := range []*suitability.Result{a, b} {
			var measured, want, got float64
			for _, j := range [][]int{f.A, f.B}[run] {
				flat, err := plane.ForwardMultiPolygon(r.Fields[j].Shape, true)
				if err != nil {
					t.Fatal(err)
				}
				measured, want = measured+float64(r.Fields[j].Area), want+planar.Area(flat)
			}
			for _, p := range f.Pairs {
				if []change.Ground{p.A, p.B}[run] != change.Nowhere {
					got += float64(p.Area)
				}
				if x, y := p.A.Zone(a), p.B.Zone(b); x != nil && y != nil && x.MapUnitKey != y.MapUnitKey && p.Area > p.Small {
					t.Errorf("%s and %s are of two soils and share %v m²", x.ID, y.ID, p.Area)
				}
			}
			if want > 0 {
				got += float64(f.Crumbs[run] - f.Doubled[run])
				// 0.01 m² is what crossings rounded to the plane's grid make of a field of 40 m by 40 m.
				worst, rounding = max(worst, (math.Abs(got-want)-0.01)/want), max(rounding, math.Abs(got-measured)/want)
			}
		}
	}
	if worst > 1e-6 || rounding > 2e-5 {
		t.Errorf("areas are off by up to %.2g of a field, and %.2g of what its run measured", worst, rounding)
	}
	s := c.Sum()
	if len(s.Turns) > 0 || s.Survey > 0 || s.Only[0] < unit.Hectares(1) || s.Only[1] < unit.Hectares(1) {
		t.Errorf("%+v", s)
	}
	t.Logf("off by %.2g and %.2g at most; %.1f ha alike, %.1f and %.1f ha of one run alone, %.0f m² small", worst, rounding, s.Alike.Hectares(), s.Only[0].Hectares(), s.Only[1].Hectares(), float64(s.Small))
}
