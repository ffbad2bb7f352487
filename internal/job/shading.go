package job

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/raster/terrain"
)

// Shading is the light on the ground around fields, to be drawn under them. It decides nothing.
type Shading struct {
	Exaggeration float64 // how many times as steep as it is the ground is drawn
	parts        []shadedPart
	bound        orb.Bound
	near         [][]int32 // parts that reach into each square of a mesh over bound, row by row
}

// shadedPart is the light on a piece of ground.
type shadedPart struct {
	light *raster.Grid[float64]
	bound orb.Bound // longitude and latitude
}

// How ground is shaded.
const (
	// shadeAround is how many metres around a field are shaded.
	shadeAround = 250.0
	// maxShade bounds the cells that are read for all fields at once; where it does not suffice each field is read by itself.
	maxShade = 4 << 20
	// steepDrawn is how steep the steepest twentieth of the ground is drawn, at least: 30 degrees. Gentler ground has hardly a
	// shade. Common practice, no source.
	steepDrawn = 0.577
	steepest   = 0.95
)

// exaggerations are the ways heights may be stretched; more makes hills of furrows.
// Rising: the first that suffices is taken.
func exaggerations() []float64 { return []float64{1, 2, 3, 5, 10, 20} }

// Shade works out the light on the ground around fields, from the north-west and half way up, as maps have it. Ground
// that is too level to show is drawn steeper than it is. Fields without heights have no light; nil means that none has.
func Shade(ctx context.Context, h *Heights, fields []orb.MultiPolygon, faults *diag.List) (*Shading, error) {
	r, err := newRelief(h, faults)
	if err != nil || r == nil {
		return nil, err
	}
	pieces, err := r.pieces(ctx, fields, maxShade)
	// No heights near any field is no error: the maps are drawn without shade.
	if err != nil || len(pieces) == 0 {
		return nil, err
	}
	s := &Shading{}
	// One for all pieces: neighbours drawn unlike would look like different ground.
	if s.Exaggeration, err = r.exaggeration(ctx, pieces); err != nil {
		return nil, err
	}
	for _, z := range pieces {
		light, err := terrain.Hillshade(ctx, z, terrain.Ground{HeightMetres: r.HeightMetres}, terrain.Sun{Exaggeration: s.Exaggeration})
		if err != nil {
			return nil, err
		}
		s.parts = append(s.parts, shadedPart{light, lonLatBound(light.Frame())})
	}
	s.lay()
	return s, nil
}

// mesh is how many squares a side finds parts by; a picture asks for the light of a million places.
const mesh = 64

// lay puts the parts into the squares of the mesh.
func (s *Shading) lay() {
	s.bound = s.parts[0].bound
	for _, p := range s.parts[1:] {
		s.bound = s.bound.Union(p.bound)
	}
	// A part stands in every square that it reaches into, so that one look at a square is enough.
	s.near = make([][]int32, mesh*mesh)
	for i, p := range s.parts {
		c0, r0 := s.square(p.bound.Min)
		c1, r1 := s.square(p.bound.Max)
		for r := r0; r <= r1; r++ {
			for c := c0; c <= c1; c++ {
				s.near[r*mesh+c] = append(s.near[r*mesh+c], int32(i))
			}
		}
	}
}

// square returns the square that a place within the bound lies in.
func (s *Shading) square(p orb.Point) (col, row int) {
	at := func(v, least, most float64) int {
		// Clamped: the far side of the bound would fall into a square behind the last. A bound of no width divides by zero; what
		// comes of that is clamped as well.
		return max(0, min(mesh-1, int(mesh*(v-least)/(most-least))))
	}
	return at(p[0], s.bound.Min[0], s.bound.Max[0]), at(p[1], s.bound.Min[1], s.bound.Max[1])
}

// Light returns how light the ground is at a longitude and latitude, 0…1; ok is false where that is not known. It may be
// called from several goroutines at once.
func (s *Shading) Light(at orb.Point) (light float64, ok bool) {
	if s == nil || !s.bound.Contains(at) {
		return 0, false
	}
	col, row := s.square(at)
	// In the order of the fields: where two pieces overlap the first one counts, for every picture alike.
	for _, i := range s.near[row*mesh+col] {
		p := &s.parts[i]
		if !p.bound.Contains(at) {
			continue
		}
		// A place within the box of a piece may still lie beside it, for pieces are slanted to the meridians.
		if xy, ok := p.light.Frame().CRS.FromLonLat(at); ok {
			// Between cells and not the nearest one, since pictures are drawn finer than heights are read, and squares would show.
			if v, ok := p.light.Between(xy); ok {
				return v, true
			}
		}
	}
	return 0, false
}

// Bound returns the ground that may have light, in longitude and latitude.
func (s *Shading) Bound() orb.Bound { return s.bound }

// pieces reads the heights: in one piece where that is not too large, else field by field.
func (r *relief) pieces(ctx context.Context, fields []orb.MultiPolygon, most int) ([]*raster.Grid[float64], error) {
	var all orb.MultiPolygon
	for _, f := range fields {
		// As one shape with many parts: only its box counts here.
		all = append(all, f...)
	}
	// one piece has no seams
	if z, err := r.piece(ctx, all, most); z != nil || err != nil {
		return []*raster.Grid[float64]{z}, err
	}
	var out []*raster.Grid[float64]
	for _, f := range fields {
		z, err := r.piece(ctx, f, maxHeights)
		if err != nil {
			return nil, err
		}
		if z != nil {
			out = append(out, z)
		}
	}
	return out, nil
}

// piece reads the heights around a shape on cells of some metres; nil when there are none, or more than most.
func (r *relief) piece(ctx context.Context, shape orb.MultiPolygon, most int) (*raster.Grid[float64], error) {
	local, ok := r.project(shape)
	if !ok {
		return nil, nil
	}
	metre := r.perMetre(shape)
	bound := local.Bound().Pad(shadeAround * metre)
	request, found := r.request(bound, metre, most)
	if !found {
		return nil, nil
	}
	z, err := geotiff.Read[float64](ctx, r.File, request)
	if err != nil {
		if ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		// A damaged block costs the shade around one field and no more.
		r.faults.Notice(diag.Fault{File: r.Name, Kind: "shading", What: err.Error(), Fix: "the map has no shading there"})
		return nil, nil
	}
	// By the same cell as slope is measured on, so that what looks steep is what counted as steep.
	for math.Max(z.Frame().DX, z.Frame().DY) < leastCell*metre {
		if z, err = raster.Halve(z, raster.Average); err != nil {
			return nil, err
		}
	}
	// within the file and yet nothing there: the sea, or the corner of a slanted scene
	if z.Missing() == z.Frame().Cols*z.Frame().Rows {
		return nil, nil
	}
	return z, nil
}

// request finds the finest level of the file, but none finer than is drawn, whose window holds few enough cells.
func (r *relief) request(bound orb.Bound, metre float64, most int) (geotiff.Request, bool) {
	// Level 0 is the file itself, the others its overviews, finest first.
	levels := r.File.Levels()
	for i, f := range levels {
		// the next overview is fine enough as well, and a quarter of the work
		if i+1 < len(levels) && math.Max(levels[i+1].DX, levels[i+1].DY) <= leastCell*metre {
			continue
		}
		w := f.Covering(bound)
		if w.Empty() {
			return geotiff.Request{}, false
		}
		// A few cells have no neighbours, and cells of more than some metres are no picture of a field.
		if w.Cols <= most/w.Rows && (i == 0 || math.Max(f.DX, f.DY) <= 6*leastCell*metre) {
			return geotiff.Request{Level: i, Window: w, Workers: 1, MaxCells: most}, true
		}
	}
	return geotiff.Request{}, false
}

// exaggeration finds how much steeper ground must be drawn to show.
func (r *relief) exaggeration(ctx context.Context, pieces []*raster.Grid[float64]) (float64, error) {
	var steep []float64
	for _, z := range pieces {
		slope, err := terrain.Slope(ctx, z, terrain.Ground{HeightMetres: r.HeightMetres})
		if err != nil {
			return 0, err
		}
		f := slope.Frame()
		// Every so many cells and not some at random: the same file gives the same picture.
		step := 1 + f.Rows*f.Cols*len(pieces)/(1<<20) // a million values tell as much as all
		for i := 0; i < f.Rows*f.Cols; i += step {
			// Cells are counted row by row.
			if v, ok := slope.At(i%f.Cols, i/f.Cols); ok {
				// percent to rise over run, the tangent that steepDrawn is
				steep = append(steep, v/100)
			}
		}
	}
	// no ground of known slope, so nothing to stretch
	if len(steep) == 0 {
		return 1, nil
	}
	slices.Sort(steep)
	by := exaggerations()
	for _, e := range by {
		if e*steep[int(steepest*float64(len(steep)-1))] >= steepDrawn {
			return e, nil
		}
	}
	return by[len(by)-1], nil
}

// lonLatBound returns the longitudes and latitudes of a frame, by its sides.
func lonLatBound(f raster.Frame) orb.Bound {
	// The sides of a projected frame are curved in degrees, so corners alone would miss where they bulge. What sixteen
	// steps a side still miss is a rim of ground without shade.
	const steps = 16
	var out orb.Bound
	first := true
	b := f.Bound()
	for i := range steps + 1 {
		u := float64(i) / steps
		x, y := b.Min[0]+u*(b.Max[0]-b.Min[0]), b.Min[1]+u*(b.Max[1]-b.Min[1])
		for _, p := range []orb.Point{{x, b.Min[1]}, {x, b.Max[1]}, {b.Min[0], y}, {b.Max[0], y}} {
			at, ok := f.CRS.ToLonLat(p)
			if !ok {
				continue
			}
			if first {
				out, first = at.Bound(), false
			}
			out = out.Extend(at)
		}
	}
	return out
}
