package interp

import (
	"cmp"
	"context"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/raster"
)

func make1(t *testing.T, f raster.Frame, samples []Sample, o Options) *Surface {
	t.Helper()
	s, err := Interpolate(context.Background(), f, samples, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// bytes returns all cells of a surface bit for bit.
func bits(s *Surface) []uint64 {
	var out []uint64
	for _, g := range []*raster.Grid[float64]{s.Values, s.Errors} {
		if g == nil {
			continue
		}
		for row := range g.Frame().Rows {
			for col := range g.Frame().Cols {
				v, ok := g.At(col, row)
				if !ok {
					v = -1e300
				}
				out = append(out, math.Float64bits(v))
			}
		}
	}
	return out
}

// Workers, the order of the samples and the size of the frame change no bit.
func TestSameBytes(t *testing.T) {
	samples := scatter(3, 200, 500, 0.1)
	f := plane(70, 50, 500)
	for _, m := range Methods() {
		one := bits(make1(t, f, samples, Options{Method: m, Workers: 1}))
		turned := slices.Clone(samples)
		slices.Reverse(turned)
		if !slices.Equal(one, bits(make1(t, f, turned, Options{Method: m, Workers: 8}))) {
			t.Errorf("%v: other bytes with 8 workers and samples in reverse", m)
		}
		whole := make1(t, f, samples, Options{Method: m})
		w := raster.Window{Col: 21, Row: 13, Cols: 16, Rows: 16}
		v := make1(t, f.Window(w), samples, Options{Method: m}).Values
		for row := range w.Rows {
			for col := range w.Cols {
				a, _ := v.At(col, row)
				b, _ := whole.Values.At(w.Col+col, w.Row+row)
				if math.Abs(a-b) > 1e-10 { // cell centres of the window are computed from its own corner
					t.Fatalf("%v: %v in a part, %v in the whole", m, a, b)
				}
			}
		}
	}
}

func TestAwkwardPoints(t *testing.T) {
	f := plane(12, 12, 100)
	at := func(x, y, v float64) Sample { return Sample{orb.Point{x, y}, v} }
	line := make([]Sample, 20)
	for i := range line {
		line[i] = at(float64(5*i), float64(5*i), 5+math.Sin(float64(i)))
	}
	twins := scatter(5, 20, 100, 0)
	for _, s := range scatter(5, 20, 100, 0) {
		twins = append(twins, at(s.At[0]+1e-7, s.At[1], s.Value+0.2))
	}
	close := scatter(6, 20, 100, 0.1)
	for _, s := range scatter(6, 20, 100, 0.1)[:6] {
		close = append(close, at(s.At[0]+0.1, s.At[1], s.Value+0.01)) // near, yet not melted
	}
	equal := scatter(8, 30, 100, 0)
	for i := range equal {
		equal[i].Value = 6.25
	}
	same := []Sample{at(50, 50, 6), at(50, 50, 7), at(50, 50, 8)}
	for name, c := range map[string]struct {
		samples []Sample
		o       Options
		method  Method
		why     string
		points  int
	}{
		"one":                       {line[:1], Options{}, Mean, FewPoints, 1},
		"one, nearest":              {line[:1], Options{Few: Nearest}, Nearest, FewPoints, 1},
		"one, inverse distance":     {line[:1], Options{Method: InverseDistance}, Mean, FewPoints, 1},
		"one, kriging all the same": {line[:1], Options{Least: 1, Variogram: bookModel()}, OrdinaryKriging, "", 1},
		"two":                       {line[:2], Options{Least: 1}, Mean, NoPattern, 2},
		"two, variogram given":      {line[:2], Options{Least: 1, Variogram: bookModel()}, OrdinaryKriging, "", 2},
		"on a line":                 {line, Options{}, OrdinaryKriging, "", 20},
		"on a line, linear":         {line, Options{Variogram: Variogram{Linear, 0, 1, 10}}, OrdinaryKriging, "", 20},
		"twins":                     {twins, Options{}, OrdinaryKriging, "", 20},
		"close":                     {close, Options{}, OrdinaryKriging, "", 26},
		"close, Gaussian":           {close, Options{Variogram: Variogram{Gaussian, 0, 1, 90}}, OrdinaryKriging, "", 26},
		"close, no nugget":          {close, Options{Variogram: Variogram{Linear, 0, 1, 90}}, OrdinaryKriging, "", 26},
		"all equal":                 {equal, Options{}, Mean, AllEqual, 30},
		"all equal, inverse":        {equal, Options{Method: InverseDistance}, InverseDistance, "", 30},
		"all in one place":          {same, Options{Least: 1}, Mean, AllEqual, 1},
	} {
		s := make1(t, f, c.samples, c.o)
		if s.Method != c.method || s.Why != c.why || s.Points != c.points || s.Melted != len(c.samples)-c.points {
			t.Errorf("%s: %v, %q, %d points, %d melted; want %v, %q, %d", name, s.Method, s.Why, s.Points, s.Melted, c.method, c.why, c.points)
		}
		least, most, ok := s.Values.Range()
		lo, hi := valueRange(c.samples)
		if slack := (hi - lo) / 2; !ok || least < lo-slack || most > hi+slack || s.Values.Missing() > 0 {
			t.Errorf("%s: values from %v to %v of points from %v to %v, %d missing", name, least, most, lo, hi, s.Values.Missing())
		}
		if (s.Errors != nil) != (s.Method == OrdinaryKriging) {
			t.Errorf("%s: errors with %v", name, s.Method)
		}
	}
}

func valueRange(samples []Sample) (lo, hi float64) {
	lo, hi = samples[0].Value, samples[0].Value
	for _, s := range samples {
		lo, hi = min(lo, s.Value), max(hi, s.Value)
	}
	return lo, hi
}

func TestRefused(t *testing.T) {
	f := plane(3, 3, 10)
	good := scatter(1, 20, 10, 0)
	bad := append(slices.Clone(good), Sample{orb.Point{1, 1}, math.NaN()})
	nowhere := append(slices.Clone(good), Sample{orb.Point{math.Inf(1), 1}, 1})
	for name, c := range map[string]struct {
		samples []Sample
		o       Options
	}{
		"none": {nil, Options{}}, "NaN": {bad, Options{}}, "nowhere": {nowhere, Options{}},
		"negative power": {good, Options{Power: -1}}, "NaN power": {good, Options{Power: math.NaN()}},
		"nugget over sill": {good, Options{Variogram: Variogram{Spherical, 2, 1, 5}}}, "no range": {good, Options{Variogram: Variogram{Sill: 1}}},
		"negative neighbours": {good, Options{Neighbours: -1}}, "NaN near": {good, Options{Near: math.NaN()}},
	} {
		if _, err := Interpolate(context.Background(), f, c.samples, c.o); err == nil {
			t.Errorf("%s passed", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Interpolate(ctx, f, good, Options{}); err != context.Canceled {
		t.Errorf("cancelled: %v", err)
	}
}

// A cell of a surface is what the same points give at its middle, bit for bit.
func TestCellsArePoints(t *testing.T) {
	samples := scatter(4, 300, 500, 0.1)
	f := plane(37, 41, 500)
	d, _ := NewIDW(samples, 3, 0)
	s := make1(t, f, samples, Options{Method: InverseDistance, Power: 3, Near: 1e-9})
	v := variograms()[0]
	k, _ := NewKriging(samples, v, 0)
	z := make1(t, f, samples, Options{Variogram: v, Near: 1e-9})
	for row := range f.Rows {
		for col := range f.Cols {
			got, _ := s.Values.At(col, row)
			krigged, _ := z.Values.At(col, row)
			value, _ := k.At(f.Center(col, row))
			if want := d.At(f.Center(col, row)); got != want || krigged != value {
				t.Fatalf("cell %d, %d: inverse distance %v, at the point %v; kriging %v, at the point %v", col, row, got, want, krigged, value)
			}
		}
	}
}

// Only cells that the polygon touches are filled, with the same values.
func TestInside(t *testing.T) {
	f := plane(20, 20, 100)
	samples := scatter(2, 60, 100, 0.1)
	field := orb.MultiPolygon{{{{20, 20}, {80, 25}, {60, 80}, {20, 20}}}}
	all, part := make1(t, f, samples, Options{}), make1(t, f, samples, Options{Inside: field})
	for row := range f.Rows {
		for col := range f.Cols {
			v, ok := part.Values.At(col, row)
			e, okError := part.Errors.At(col, row)
			a, _ := all.Values.At(col, row)
			b, _ := all.Errors.At(col, row)
			if ok != okError || ok && (v != a || e != b) {
				t.Fatalf("cell %d, %d: %v ± %v, %v, %v; all: %v ± %v", col, row, v, e, ok, okError, a, b)
			}
		}
	}
	if got := f.Cols*f.Rows - part.Values.Missing(); got < 80 || got > 110 { // 65 cells of area and its border
		t.Errorf("%d cells filled", got)
	}
}

// The fit finds the model that made the lags.
func TestFitFindsTheModel(t *testing.T) {
	for _, want := range []Variogram{{Spherical, 0.05, 0.4, 120}, {Exponential, 0.02, 0.3, 150}, {Gaussian, 0.05, 0.5, 100}} {
		var lags []Lag
		for h := 10.0; h <= 200; h += 14 {
			lags = append(lags, Lag{h, want.At(h), 40 + int(h)})
		}
		got, ok := fit(lags)
		if !ok || got.Model != want.Model || math.Abs(got.Range/want.Range-1) > 1e-3 || math.Abs(got.Sill-want.Sill) > 1e-4 || math.Abs(got.Nugget-want.Nugget) > 1e-4 {
			t.Errorf("fit of %+v is %+v", want, got.Variogram)
		}
	}
}

// Where ground has a pattern kriging beats the mean, and its errors are about as large as they say; where it has none the
// check says so.
func TestLeaveOneOut(t *testing.T) {
	f := plane(4, 4, 500)
	s := make1(t, f, scatter(11, 120, 500, 0.05), Options{})
	if s.Check.N != 120 || s.Check.Skill() < 0.8 || s.Check.Spread < 0.6 || s.Check.Spread > 1.6 {
		t.Errorf("pattern: %+v, skill %v", s.Check, s.Check.Skill())
	}
	noise := scatter(12, 120, 500, 0)
	for i, p := range scatter(13, 120, 500, 1) {
		noise[i].Value = p.Value - scatter(13, 120, 500, 0)[i].Value
	}
	if s = make1(t, f, noise, Options{}); s.Check.Skill() > 0.1 {
		t.Errorf("noise: %+v, skill %v", s.Check, s.Check.Skill())
	}
	s = make1(t, f, threePoints(), Options{})
	if want := math.Sqrt((25*25 + 35*35 + 10*10) / 3.0); math.Abs(s.Check.RMSE-want) > 1e-9 || math.Abs(s.Check.Skill()) > 1e-12 {
		t.Errorf("mean of 150, 110, 140: %+v; each against the mean of the other two is off by 25, 35, 10", s.Check)
	}
}

// Inverse distance stays within its values; kriging goes through its points and keeps a constant; both follow a shift.
func TestConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 60).Draw(t, "n")
		samples := make([]Sample, n)
		for i := range samples { // a jittered lattice: no two in one place
			samples[i] = Sample{orb.Point{float64(i%8)*10 + rapid.Float64Range(0, 9).Draw(t, "x"), float64(i/8)*10 + rapid.Float64Range(0, 9).Draw(t, "y")}, rapid.Float64Range(4, 8).Draw(t, "v")}
		}
		p := orb.Point{rapid.Float64Range(-20, 100).Draw(t, "px"), rapid.Float64Range(-20, 100).Draw(t, "py")}
		d, _ := NewIDW(samples, rapid.Float64Range(0.5, 4).Draw(t, "power"), 12)
		lo, hi := valueRange(samples)
		if v := d.At(p); v < lo-1e-12 || v > hi+1e-12 {
			t.Fatalf("inverse distance gives %v of %v to %v", v, lo, hi)
		}
		v := rapid.SampledFrom(variograms()).Draw(t, "variogram")
		k, _ := NewKriging(samples, v, 12)
		s := samples[rapid.IntRange(0, n-1).Draw(t, "i")]
		if got, variance := k.At(s.At); math.Abs(got-s.Value) > 1e-6 || variance > 1e-6 {
			t.Fatalf("at a point of %v: %v, variance %v", s.Value, got, variance)
		}
		shifted := slices.Clone(samples)
		for i := range shifted {
			shifted[i].Value += 1000
		}
		moved, _ := NewKriging(shifted, v, 12)
		a, va := k.At(p)
		b, vb := moved.At(p)
		if math.Abs(b-a-1000) > 1e-6 || math.Abs(va-vb) > 1e-9 || va < 0 {
			t.Fatalf("%v ± %v, shifted %v ± %v", a, va, b, vb)
		}
	})
}

func sortHits(hits []hit) {
	slices.SortFunc(hits, func(a, b hit) int { return cmp.Or(cmp.Compare(a.d2, b.d2), cmp.Compare(a.i, b.i)) })
}

// The k-d tree and looking at all points agree, ties included.
func TestNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 80).Draw(t, "n")
		points := make([]Sample, n)
		for i := range points {
			points[i].At = orb.Point{float64(rapid.IntRange(0, 9).Draw(t, "x")), float64(rapid.IntRange(0, 9).Draw(t, "y"))}
		}
		p := orb.Point{float64(rapid.IntRange(-2, 12).Draw(t, "px")) / 2, float64(rapid.IntRange(-2, 12).Draw(t, "py")) / 2}
		k := rapid.IntRange(1, 40).Draw(t, "k")
		without := int32(rapid.IntRange(-1, n-1).Draw(t, "without"))
		var all []hit
		for i := range points {
			if int32(i) != without {
				all = append(all, hit{square(p, points[i].At), int32(i)})
			}
		}
		picked := slices.Clone(all)
		sortHits(all)
		all = all[:min(k, len(all))]
		if got := newTree(points).nearest(p, k, without, nil); !slices.Equal(got, all) {
			t.Fatalf("nearest %v, want %v", got, all)
		}
		if len(picked) > k {
			selectNearest(picked, k)
			picked = picked[:k]
		}
		sortHits(picked)
		if !slices.Equal(picked, all) {
			t.Fatalf("selected %v, want %v", picked, all)
		}
	})
}
