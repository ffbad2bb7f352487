package job

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/raster"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/soiltest"
)

// surfaceCells is about how many cells a surface of a field has; means over zones need no more.
const surfaceCells = 40_000

// spot is a place where samples were dug.
type spot struct {
	at      orb.Point // of the plane
	samples []*lab.Sample
	numbers []int
}

// sampledField is a field with its sampled spots and the surfaces through them; nil where there is none to use.
type sampledField struct {
	// in the order of the samples
	spots                  []spot
	whole                  orb.MultiPolygon // in the plane
	surface, subsoil, lime *interp.Surface
	top, deep              *suitability.TestedPH // of all spots together: ages, laboratories, layers
}

// makeSurfaces makes the surfaces of every field with sampled points, and tells how each fits.
func (a *assay) makeSurfaces(ctx context.Context, located []lab.Located) error {
	if a.opt.Tests.Surface == nil {
		return nil
	}
	a.ground = map[string]*sampledField{}
	a.gatherSpots(located)
	top, deep := soiltest.Windows(a.opt.Profile)
	for i := range a.done {
		f := &a.done[i].field
		g := a.ground[f.ID]
		// No sample with coordinates lies in it.
		if g == nil {
			continue
		}
		var err error
		if g.whole, err = a.plane.ForwardMultiPolygon(f.Shape, false); err != nil {
			return fmt.Errorf("field %s: %w", f.ID, err)
		}
		var tops, deeps, limes []interp.Sample
		var all []*lab.Sample
		for _, s := range g.spots {
			// of all depths; Together takes those of its window
			all = append(all, s.samples...)
			if t := soiltest.Together(s.samples, top, a.opt.Lime.Date); t != nil {
				tops = append(tops, interp.Sample{At: s.at, Value: float64(t.PH)})
			}
			if t := soiltest.Together(s.samples, deep, a.opt.Lime.Date); t != nil {
				deeps = append(deeps, interp.Sample{At: s.at, Value: float64(t.PH)})
			}
			// a spot where the method refused has no lime, and the surface is drawn from the others
			if v, ok := a.limeOf(s); ok {
				limes = append(limes, interp.Sample{At: s.at, Value: v})
			}
		}
		// Of all samples of the field at once, for what a surface cannot say: how old they are, whose they are, what layer was
		// dug.
		g.top, g.deep = soiltest.Together(all, top, a.opt.Lime.Date), soiltest.Together(all, deep, a.opt.Lime.Date)
		// Lime has a surface of its own because it does not follow from pH alone: see limeGuide.
		for _, x := range []struct {
			to   **interp.Surface
			of   string
			from []interp.Sample
		}{{&g.surface, "surface pH", tops}, {&g.subsoil, "subsoil pH", deeps}, {&g.lime, "lime", limes}} {
			// never sampled at that depth: no surface, and no word about one
			if len(x.from) == 0 {
				continue
			}
			if *x.to, err = a.makeSurface(ctx, f.ID, x.of, g.whole, x.from); err != nil {
				return err
			}
		}
	}
	return nil
}

// gatherSpots sorts the samples that coordinates place in a zone by field and spot.
func (a *assay) gatherSpots(located []lab.Located) {
	known := map[orb.Point]int{}
	for i, l := range located {
		s := &a.opt.Tests.Samples[i]
		p, ok := s.Place.Point.Get()
		// samples that name a zone speak for it alone and not for a place; those in no zone were told
		if !ok || l.Basis != lab.ByPoint || len(l.Zones) == 0 {
			continue
		}
		at, ok := a.plane.Forward(p)
		if !ok {
			continue
		}
		g := a.ground[l.Field]
		if g == nil {
			g = &sampledField{}
			a.ground[l.Field] = g
		}
		// topsoil and subsoil of one hole have one place, and are one spot
		k, ok := known[at]
		if !ok {
			k = len(g.spots)
			known[at] = k
			g.spots = append(g.spots, spot{at: at})
		}
		g.spots[k].samples, g.spots[k].numbers = append(g.spots[k].samples, s), append(g.spots[k].numbers, i)
	}
}

// limeOf is the mean of what the method asks for at a spot, kg/m²; ok is false where it has no figure.
func (a *assay) limeOf(s spot) (mean float64, ok bool) {
	var answers []limeplan.Answer
	for _, i := range s.numbers {
		if a.asked[i] {
			answers = append(answers, a.answers[i])
		}
	}
	return meanFigure(answers)
}

// makeSurface returns a surface that is worth its name, or nil: with few points, equal values or no better than the mean, the
// means of zones stand.
func (a *assay) makeSurface(ctx context.Context, field, of string, whole orb.MultiPolygon, points []interp.Sample) (*interp.Surface, error) {
	// a field in trouble has no ground to draw on
	if len(whole) == 0 {
		return nil, nil
	}
	s, err := interp.Interpolate(ctx, frameOver(whole, 0), points, interp.Options{Method: *a.opt.Tests.Surface, Few: interp.Mean, Inside: whole, Workers: a.opt.Workers})
	if err != nil {
		return nil, fmt.Errorf("field %s, surface of %s: %w", field, of, err)
	}
	record := suitability.Surface{Field: field, Of: of, SurfaceFit: fitOf(s), Why: worthless(s)}
	record.Used = record.Why == ""
	a.surfaces = append(a.surfaces, record)
	if !record.Used {
		a.faults.Notice(diag.Fault{Feature: "field " + field, Ground: field, Field: of, Kind: "no surface",
			What: fmt.Sprintf("%s through %d points: %s; each zone keeps the mean of its own bags", *a.opt.Tests.Surface, s.Points, record.Why),
			Fix:  fmt.Sprintf("kriging asks for %d points, inverse distance for 3", interp.DefaultLeast)})
		return nil, nil
	}
	return s, nil
}

// frameOver returns cells over a field: small enough to follow it, few enough to be quick; no wider than most, where that is
// over 0 and the field not too large for it.
func frameOver(whole orb.MultiPolygon, most float64) raster.Frame {
	b := whole.Bound()
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	// The second bound is for long strips: at most 10,000 cells along the longer side.
	// The side of a cell if the box is cut into surfaceCells squares.
	cell := math.Max(math.Sqrt(w*h/surfaceCells), math.Max(w, h)/10_000)
	// A million cells at most for the sake of the spreader's width; a larger field gets coarser ones.
	if most > 0 && w*h/(most*most) <= 25*surfaceCells {
		cell = math.Min(cell, most)
	}
	// A centimetre: a field of no size must not make cells of none.
	cell = math.Max(cell, 0.01)
	return raster.Frame{Cols: 1 + int(w/cell), Rows: 1 + int(h/cell), West: b.Min[0], North: b.Max[1], DX: cell, DY: cell}
}

// fitOf is how the surface was made and how well it finds its own points.
func fitOf(s *interp.Surface) suitability.SurfaceFit {
	f := suitability.SurfaceFit{Method: s.Method.String(), Points: s.Points, Found: s.Check.RMSE, FoundMean: s.Check.MeanRMSE}
	// Inverse distance has no variogram, and its absence in the record says so.
	if s.Method == interp.OrdinaryKriging {
		v := s.Fit.Variogram
		f.Variogram, f.Range, f.Sill, f.Nugget = v.Model.String(), unit.Some(v.Range), unit.Some(v.Sill), unit.Some(v.Nugget)
	}
	return f
}

// readSurfaces puts what the surfaces say of a zone in the place of its bags' means. A zone that bags name keeps those.
func (a *assay) readSurfaces(z *suitability.Zone, tested *suitability.Tested, tests *limeplan.Tests) {
	g := a.ground[z.FieldID]
	if g == nil {
		return
	}
	// Back into the plane from the shape as it is written, so that the reading is that of the ground in the files.
	shape, err := a.plane.ForwardMultiPolygon(z.Shape, false)
	if err != nil {
		return
	}
	top, deep := soiltest.Windows(a.opt.Profile)
	ownTop, ownDeep := a.voices.For(z.ID, z.FieldID, top), a.voices.For(z.ID, z.FieldID, deep)
	if g.surface != nil && g.top != nil && !named(ownTop) {
		tested.Surface = onSurface(g.surface, g.top, shape, tested.Surface)
	}
	if g.subsoil != nil && g.deep != nil && !named(ownDeep) {
		tested.Subsoil = onSurface(g.subsoil, g.deep, shape, tested.Subsoil)
	}
	// All of tests is replaced, not added to: what single bags say of this zone is in the surface already.
	if r, ok := readZone(g.lime, shape); ok && !named(ownTop) {
		*tests = limeplan.Tests{Method: a.opt.Tests.Method.Name, Level: unit.Some(unit.AreaRate(r.mean)), Fit: r.fit(g.lime)}
		for _, s := range g.spots {
			for k, i := range s.numbers {
				if a.asked[i] {
					// every sample of the field: the surface is of all of them, and so are method, error and notes
					tests.Answers = append(tests.Answers, a.answers[i])
					tests.Old = tests.Old || soiltest.Age(s.samples[k], a.opt.Lime.Date) == suitability.AgeOld
				}
			}
		}
	}
}

// named says whether bags name the zone that they speak for.
func named(voices []soiltest.Voice) bool {
	for _, v := range voices {
		if v.Basis == lab.ByZone {
			return true
		}
	}
	return false
}

// onSurface returns the test of a whole field with the pH that its surface has in a zone; own where it has none there.
func onSurface(s *interp.Surface, field *suitability.TestedPH, zone orb.MultiPolygon, own *suitability.TestedPH) *suitability.TestedPH {
	r, ok := readZone(s, zone)
	if !ok {
		return own
	}
	// Who tested, when and in what layer are the field's; only the figure is the zone's.
	t := *field
	t.PH, t.Least, t.Most, t.Fit = unit.PH(r.mean), unit.PH(r.least), unit.PH(r.most), r.fit(s)
	return &t
}

// reading is a surface over a zone: means by area.
// off is the kriging standard error, in the unit of the surface; 0 with other methods, which have none.
type reading struct{ mean, least, most, off float64 }

// fit says how the surface was made and, with kriging, how far off it may be in this zone.
func (r reading) fit(s *interp.Surface) *suitability.SurfaceFit {
	f := fitOf(s)
	if s.Errors != nil {
		f.Error = unit.Some(r.off)
	}
	return &f
}

// readZone reads a surface over a zone; ok is false where there is none.
func readZone(s *interp.Surface, zone orb.MultiPolygon) (r reading, ok bool) {
	if s == nil {
		return r, false
	}
	sum := 0.0
	r.least, r.most = math.Inf(1), math.Inf(-1)
	_, err := raster.Coverage(s.Values.Frame(), zone, func(col, row int, share float64) {
		v, has := s.Values.At(col, row)
		if !has {
			return
		}
		sum += share
		r.mean += share * v
		r.least, r.most = math.Min(r.least, v), math.Max(r.most, v)
		if s.Errors != nil {
			// Errors has a value wherever Values has one. Their mean by area is the error of a typical place in the zone, not of its
			// mean, which would be smaller.
			e, _ := s.Errors.At(col, row)
			r.off += share * e
		}
	})
	// no cell under the zone has a value
	if err != nil || sum == 0 {
		return r, false
	}
	r.mean, r.off = r.mean/sum, r.off/sum
	return r, true
}
