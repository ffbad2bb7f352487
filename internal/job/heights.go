package job

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync/atomic"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/raster/terrain"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Heights is an elevation raster: the slope of a zone is measured on it, in place of that of its map unit.
type Heights struct {
	Name         string
	File         *geotiff.File
	HeightMetres float64 // metres in one unit of height
	Witnesses    bool    // also look where water and cold air gather; they change no class
}

// How the ground is looked at.
const (
	// leastCell is the cell in metres on which slope is measured at the finest; finer heights are averaged first: they
	// show ruts and furrows, and the survey's slopes, which these replace, are those of the land. Common practice, no source.
	leastCell = 5.0
	// slopeAround is how many metres around a field are read for slope; witnessAround for the rest: how far cold air is
	// looked at, and some way up for water.
	slopeAround   = 30.0
	witnessAround = 500.0
	// maxHeights bounds the cells read around one field.
	maxHeights = 16 << 20
	// leastHeights is the share of a zone that must have heights. Source: as for means over depth, half is a judgement.
	leastHeights = 50
	// wettest is the share of a zone taken as its wettest part.
	wettest = 0.1
)

// relief measures fields on the heights.
type relief struct {
	*Heights
	// of the finest level
	frame  raster.Frame
	faults *diag.List

	measured, left atomic.Int64 // zones whose slope is measured, and is the survey's
}

// newRelief checks that the heights have a place and a size.
func newRelief(h *Heights, faults *diag.List) (*relief, error) {
	if h == nil {
		return nil, nil
	}
	// asked once, before the first field: without a place no field could be measured
	crs, err := h.File.CRS()
	if err != nil {
		return nil, err
	}
	// Heights cut nothing: a system that no boundary may be in still serves for the slope of a zone, which is a mean over
	// many cells, as long as it is said how far to the side it may lie.
	if crs.FitForLines() != nil {
		metres, _ := crs.Accuracy()
		faults.Notice(diag.Fault{File: h.Name, Kind: "reference system", What: fmt.Sprintf("%s: its heights may lie up to %g m to the side", crs.Note(), metres),
			Fix: "where that matters, convert the raster first, by a transformation with a grid of shifts (NADCON)"})
	}
	f, err := h.File.Frame()
	if err != nil {
		return nil, err
	}
	return &relief{Heights: h, frame: f, faults: faults}, nil
}

// field returns the shape of the ground of each zone of a field; nothing of a field without heights.
func (r *relief) field(ctx context.Context, id string, whole orb.MultiPolygon, zones []orb.MultiPolygon) ([]suitability.Terrain, error) {
	out := make([]suitability.Terrain, len(zones))
	if r == nil {
		return out, nil
	}
	l, err := r.look(ctx, whole)
	// a read that was cancelled is no fault of the heights
	if ended := ctx.Err(); ended != nil {
		return nil, context.Cause(ctx)
	}
	if err != nil {
		// Heights are an extra: where they cannot be read the field is rated by the survey's slope and the run goes on.
		r.faults.Notice(diag.Fault{File: r.Name, Feature: id, Ground: id, Kind: "heights", What: err.Error(), Fix: "the survey's slope counts in this field"})
	}
	for i, z := range zones {
		if l != nil {
			out[i] = l.zone(r.frame, z)
		}
		if out[i].Slope.Has() {
			// fields are finished side by side, hence the counters; told once for all of them in tell
			r.measured.Add(1)
		} else {
			r.left.Add(1)
		}
	}
	return out, nil
}

// tell says which slope was used.
func (r *relief) tell() {
	if r == nil {
		return
	}
	measured, left := r.measured.Load(), r.left.Load()
	what := "the slope of " + zonesOf(measured) + " is measured on it"
	if left > 0 {
		what += "; in " + zonesOf(left) + " it has too few heights, and the survey's slope counts"
	}
	// The commonest mistake is a tile of the next county; its first sign is that nothing at all was measured.
	if measured == 0 {
		what = "it has too few heights in every zone, perhaps because it lies elsewhere; the survey's slopes count"
	}
	r.faults.Notice(diag.Fault{File: r.Name, Kind: "slope measured", What: what})
}

func zonesOf(n int64) string {
	if n == 1 {
		return "one zone"
	}
	return fmt.Sprintf("%d zones", n)
}

// land is the ground around one field.
type land struct {
	// percent rise over run, as the survey gives it
	slope          *raster.Grid[float64]
	wetness, below *raster.Grid[float64] // nil unless asked for
}

// look reads the heights around a field and measures them; nil when there are none.
func (r *relief) look(ctx context.Context, field orb.MultiPolygon) (*land, error) {
	// A field that has no place in the system of the heights is treated as one without heights.
	shape, ok := r.project(field)
	if !ok {
		return nil, nil
	}
	// All distances above are in metres and the raster may be in feet or degrees: metre turns one into the other.
	metre := r.perMetre(field)
	around := slopeAround
	if r.Witnesses {
		around = witnessAround
	}
	b := shape.Bound()
	// three cells at least: slope takes the neighbours of a cell, and the edge has none
	pad := math.Max(around*metre, 3*math.Max(r.frame.DX, r.frame.DY))
	// The window is cut to the raster; it is empty for a field beside it, which is no fault of either.
	w := r.frame.Covering(b.Pad(pad))
	if w.Empty() {
		return nil, nil
	}
	// One worker: fields are measured side by side already.
	z, err := geotiff.Read[float64](ctx, r.File, geotiff.Request{Window: w, Workers: 1, MaxCells: maxHeights})
	if err != nil {
		return nil, err
	}
	// by halves, so that every cell counts alike in the mean
	for math.Max(z.Frame().DX, z.Frame().DY) < leastCell*metre {
		if z, err = raster.Halve(z, raster.Average); err != nil {
			return nil, err
		}
	}
	g := terrain.Ground{HeightMetres: r.HeightMetres}
	l := &land{}
	if l.slope, err = terrain.Slope(ctx, z, g); err != nil || !r.Witnesses {
		return l, err
	}
	// Wetness and cold air need the ground around the field: water comes from above and cold air gathers below.
	wet, err := terrain.Wetness(ctx, z, g, terrain.WetnessOptions{})
	if err != nil {
		return nil, err
	}
	l.wetness = wet.Index
	l.below, err = terrain.ColdAir(ctx, z, g, terrain.ColdAirOptions{})
	return l, err
}

// project brings a shape into the system of the heights.
func (r *relief) project(shape orb.MultiPolygon) (orb.MultiPolygon, bool) {
	return projected(r.frame, shape)
}

// projected brings a shape into the system of a frame, a copy; ok is false when a corner has no place there, and for a
// shape without parts.
func projected(f raster.Frame, shape orb.MultiPolygon) (orb.MultiPolygon, bool) {
	out := make(orb.MultiPolygon, len(shape))
	for i, part := range shape {
		out[i] = make(orb.Polygon, len(part))
		for j, ring := range part {
			out[i][j] = make(orb.Ring, len(ring))
			for k, p := range ring {
				var ok bool
				// Corner by corner and without more of them: a zone's edges are short, and a bend of millimetres moves
				// no mean.
				if out[i][j][k], ok = f.CRS.FromLonLat(p); !ok {
					return nil, false
				}
			}
		}
	}
	return out, len(out) > 0
}

// perMetre is how many units of the system a metre is, about.
func (r *relief) perMetre(field orb.MultiPolygon) float64 {
	if _, metres := r.frame.CRS.Unit(); metres > 0 {
		return 1 / metres
	}
	// Source: 6,378,137 m (WGS 84) × π / 180, rounded. A tenth at least, so that a field near a pole does not ask for
	// the whole raster.
	const perDegree = 111_320 // metres in a degree of the equator
	// A degree of longitude shrinks with the cosine of the latitude; the shorter one is taken, so that enough is read both
	// ways.
	lat := field.Bound().Center()[1]
	return 1 / (perDegree * math.Max(0.1, math.Cos(lat*math.Pi/180)))
}

// zone sums the ground up over a zone.
func (l *land) zone(f raster.Frame, zone orb.MultiPolygon) (t suitability.Terrain) {
	shape, ok := projected(f, zone)
	if !ok {
		return t
	}
	s, ok, err := raster.Zonal(l.slope, shape)
	if err != nil || !ok {
		return t
	}
	// Cells at the edge count by the share of them that lies in the zone.
	t.Covered = unit.Percent(round(100*(1-s.Missing), 1e3))
	// the share is kept all the same, to say why the survey's slope counts
	if float64(t.Covered) < leastHeights {
		return t
	}
	t.Slope = unit.Some(round(s.Mean, 1e4))
	if l.wetness != nil {
		if w, ok, err := raster.Zonal(l.wetness, shape); err == nil && ok {
			t.Wetness = unit.Some(round(w.Mean, 1e3))
			// The mean of a zone hides the one wet corner that drowns a stand.
			t.WettestTenth = exceeded(l.wetness, shape, wettest)
		}
	}
	// Wetness and cold air are witnesses: they are printed beside the rating and change no class, so one that is missing is
	// left out.
	if l.below != nil {
		if w, ok, err := raster.Zonal(l.below, shape); err == nil && ok {
			t.Below = unit.Some(round(w.Mean, 1e3))
		}
	}
	return t
}

// round takes off digits that mean nothing: heights are good to decimetres.
// per is how many steps a whole has: 1e3 keeps three decimals.
func round(v, per float64) float64 { return math.Round(v*per) / per }

// exceeded returns the value that a share of the shape exceeds.
func exceeded(g *raster.Grid[float64], shape orb.MultiPolygon, share float64) unit.Opt[float64] {
	// Cells with the share of each that lies in the shape, since zones are often a few cells wide.
	type part struct{ value, ground float64 }
	var parts []part
	// In cells, with fractions at the edge; its unit cancels, since only the share of it counts.
	total := 0.0
	_, err := raster.Coverage(g.Frame(), shape, func(col, row int, in float64) {
		if v, ok := g.At(col, row); ok {
			parts = append(parts, part{v, in})
			total += in
		}
	})
	if err != nil || len(parts) == 0 {
		return unit.None[float64]()
	}
	// by value alone: parts of one value may change places and give the same answer
	slices.SortFunc(parts, func(a, b part) int { return cmp.Compare(b.value, a.value) })
	sum := 0.0
	for _, p := range parts {
		// From the highest value down, until the asked share of the ground has been passed.
		if sum += p.ground; sum >= share*total {
			return unit.Some(round(p.value, 1e3))
		}
	}
	// Reached only when rounding keeps the sum a hair below a share of 1.
	return unit.Some(round(parts[len(parts)-1].value, 1e3))
}

// HeightUnit returns the metres in a unit of height by what a file says of it, or the user does: "m", "ft", "us-ft".
func HeightUnit(name string) (metres float64, err error) {
	switch name {
	case "m", "metre", "meter", "metres", "meters":
		return 1, nil
	case "ft", "foot", "feet":
		return 0.3048, nil
	// Source: exact, the US survey foot is 1200/3937 m. On a height of 1,000 ft it differs from the foot by 0.6 mm,
	// so a wrong word here costs nothing.
	case "us-ft", "US survey foot":
		return 1200.0 / 3937, nil
	}
	return 0, errors.New("not a unit of height; give ft or m")
}
