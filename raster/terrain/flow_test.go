package terrain

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"rootworthy/raster"
)

var seed = flag.Uint64("seed", 1, "of random ground")

// rough makes random ground with hollows, level places and missing cells.
func rough(t testing.TB, rng *rand.Rand) *raster.Grid[float64] {
	cols, rows := 3+rng.IntN(20), 3+rng.IntN(20)
	g := plane(t, cols, rows, func(x, y float64) float64 { return float64(rng.IntN(12)) + x/40 })
	for range rng.IntN(4) {
		g.Unset(rng.IntN(cols), rng.IntN(rows))
	}
	return g
}

// slowFlood is the obvious twin: water stands everywhere and sinks until nothing changes.
func slowFlood(s *surface) []float64 {
	level := make([]float64, len(s.z))
	for i := range level {
		level[i] = math.Inf(1)
		if s.rim(i) {
			level[i] = s.z[i]
		}
	}
	for changed := true; changed; {
		changed = false
		for i := range level {
			for _, step := range around() {
				if j, ok := s.neighbour(i, step); ok && !s.gone[i] {
					if v := math.Max(s.z[i], level[j]); v < level[i] {
						level[i], changed = v, true
					}
				}
			}
		}
	}
	return level
}

// TestFloodTwin compares the flood with its twin, and looks that every tilted cell off the rim has a lower neighbour.
func TestFloodTwin(t *testing.T) {
	rng := rand.New(rand.NewPCG(*seed, 1))
	for n := range 300 {
		s := must[*surface](t)(surfaceOf(rough(t, rng), Ground{}))
		want := slowFlood(s)
		level := must[[]float64](t)(s.flood(context.Background(), false))
		tilted := must[[]float64](t)(s.flood(context.Background(), true))
		for i := range level {
			if s.gone[i] {
				continue
			}
			if level[i] != want[i] || math.Abs(tilted[i]-want[i]) > 1e-9 {
				t.Fatalf("-seed %d, case %d, cell %d: %v and %v, want %v", *seed, n, i, level[i], tilted[i], want[i])
			}
			lower := s.rim(i)
			for _, step := range around() {
				if j, ok := s.neighbour(i, step); ok && tilted[j] < tilted[i] {
					lower = true
				}
			}
			if !lower {
				t.Fatalf("-seed %d, case %d: cell %d has no way down", *seed, n, i)
			}
		}
	}
}

// TestGroundIsConserved: all ground leaves through cells that hand nothing on, in either routing.
func TestGroundIsConserved(t *testing.T) {
	rng := rand.New(rand.NewPCG(*seed, 2))
	for n := range 300 {
		s := must[*surface](t)(surfaceOf(rough(t, rng), Ground{}))
		level := must[[]float64](t)(s.flood(context.Background(), true))
		for _, how := range []Routing{Spreading, Single} {
			area, _, err := s.gather(context.Background(), how)
			if err != nil {
				t.Fatal(err)
			}
			left, all := 0.0, 0.0
			for i := range area {
				if s.gone[i] {
					continue
				}
				all += s.area(i)
				if s.outflow(level, i, how).first < 0 {
					left += area[i]
				}
			}
			if math.Abs(left-all) > 1e-9*all {
				t.Fatalf("-seed %d, case %d, routing %d: %v m² leave of %v", *seed, n, how, left, all)
			}
		}
	}
}

// TestWetnessOnPlane: on a plane that falls to the south by 5 %, row n from the crest drains n cells of 10 m on either
// routing, so a = 10 n metres and the index is ln(10 n / 0.05), by definition.
func TestWetnessOnPlane(t *testing.T) {
	z := plane(t, 7, 9, func(x, y float64) float64 { return 0.05 * y })
	for _, how := range []Routing{Spreading, Single} {
		w := must[Wet](t)(Wetness(context.Background(), z, Ground{}, WetnessOptions{Routing: how}))
		for row := 1; row < 8; row++ {
			got, ok := w.Index.At(3, row)
			if want := math.Log(10 * float64(row+1) / 0.05); !ok || math.Abs(got-want) > 1e-9 {
				t.Errorf("routing %d, row %d: index %v (%v), want %v", how, row, got, ok, want)
			}
			if a, _ := w.Area.At(3, row); math.Abs(a-10*float64(row+1)) > 1e-9 {
				t.Errorf("routing %d, row %d: %v m²/m", how, row, a)
			}
		}
		if _, ok := w.Index.At(0, 4); ok {
			t.Error("a cell at the edge has an index")
		}
		if cut, _ := w.Cut.At(3, 4); cut != 1 {
			t.Error("ground comes in over the northern edge, and nothing says so")
		}
	}
}

// TestWetnessPublished: 1,000 m² drain over each metre of a slope of 5 %, index 9.90349; by GRASS GIS, manual of r.topidx
// (2007), ln(a / tan β).
func TestWetnessPublished(t *testing.T) {
	z := plane(t, 3, 102, func(x, y float64) float64 { return 0.05 * y })
	w := must[Wet](t)(Wetness(context.Background(), z, Ground{}, WetnessOptions{Routing: Single}))
	if got, ok := w.Index.At(1, 99); !ok || math.Abs(got-9.90349) > 1e-4 {
		t.Errorf("index %v (%v)", got, ok)
	}
}

// TestWetnessOfLevelGround: 500 m² drain over each metre onto a cell of 10 m whose slope reads zero; index 13.81551 with
// tan β held at 0.005 over the width. Maclean, ecohydrotools, topidx (2019); computed from its rule.
func TestWetnessOfLevelGround(t *testing.T) {
	const rows, level = 102, 48 // 49 cells from the north and the one behind it drain there
	z := plane(t, 3, rows, func(_, y float64) float64 {
		row := math.Floor(rows - y/10) // from the north
		if row > level {
			row = 2*level - row + 0.9*(row-level-1)*2.2 // the cell behind lies as high as the one before, then it falls away
		}
		return -0.5 * row
	})
	w := must[Wet](t)(Wetness(context.Background(), z, Ground{}, WetnessOptions{Routing: Single}))
	if got, ok := w.Index.At(1, level); !ok || math.Abs(got-13.81551) > 1e-4 {
		a, _ := w.Area.At(1, level)
		t.Errorf("index %v (%v), area %v", got, ok, a)
	}
}

// TestSpreadingAngle: on a plane that falls towards an angle between a side and a corner, water is shared out by the angle
// (Tarboton 1997, figure 2): atan(1/2) = 26.565 degrees from east goes 59.03 % to the corner.
func TestSpreadingAngle(t *testing.T) {
	z := plane(t, 3, 3, func(x, y float64) float64 { return -0.1 * (x + y/2) })
	s := must[*surface](t)(surfaceOf(z, Ground{}))
	o := s.outflow(s.z, 4, Spreading)
	if o.first != 0 || o.second != 1 || math.Abs(float64(1-o.share)-math.Atan(0.5)/(math.Pi/4)) > 1e-6 {
		t.Errorf("outflow %+v, want east and north-east, %v to the corner", o, math.Atan(0.5)/(math.Pi/4))
	}
	if o := s.outflow(s.z, 4, Single); o.first != 1 || o.second != -1 { // 0.15·10/14.14 beats 0.1
		t.Errorf("single outflow %+v, want north-east", o)
	}
}

// TestLevelGround: the index of level ground is finite, with a fall of 5 mm across a cell.
func TestLevelGround(t *testing.T) {
	w := must[Wet](t)(Wetness(context.Background(), plane(t, 5, 5, func(x, y float64) float64 { return 3 }), Ground{}, WetnessOptions{}))
	got, ok := w.Index.At(1, 1)
	a, _ := w.Area.At(1, 1)
	if want := math.Log(a / 0.0005); !ok || got != want {
		t.Errorf("index %v (%v), want %v", got, ok, want)
	}
}

// TestDepressions: a bowl of three by three cells a metre deep with a deeper middle, a notch in its rim half way up.
func TestDepressions(t *testing.T) {
	rows := [][]float64{
		{9, 9, 9, 9, 9, 9, 9},
		{9, 9, 9, 9, 9, 9, 9},
		{9, 9, 8, 8, 8, 9, 9},
		{9, 9, 8, 7, 8, 8.5, 8.4},
		{9, 9, 8, 8, 8, 9, 9},
		{9, 9, 9, 9, 9, 9, 9},
		{9, 9, 9, 9, 9, 9, 9},
	}
	all, depth, err := Depressions(context.Background(), heights(t, 10, rows...), Ground{}, DepressionOptions{})
	if err != nil || len(all) != 1 {
		t.Fatal(all, err)
	}
	if want := (Depression{Col: 3, Row: 3, Cells: 9, Area: 900, Depth: 1.5, Volume: (8*0.5 + 1.5) * 100, Level: 8.5}); all[0] != want {
		t.Errorf("got %+v, want %+v", all[0], want)
	}
	if v, _ := depth.At(2, 2); v != 0.5 {
		t.Errorf("depth %v, want 0.5", v)
	}
	if v, ok := depth.At(1, 1); !ok || v != 0 {
		t.Errorf("depth beside it %v (%v), want 0", v, ok)
	}
	for _, opt := range []DepressionOptions{{MinDepth: 1.6}, {MinArea: 901}} {
		if all, depth, _ := Depressions(context.Background(), heights(t, 10, rows...), Ground{}, opt); len(all) != 0 || depth.Missing() != 0 {
			t.Errorf("%+v keeps %+v", opt, all)
		}
	}
	cold := must[*raster.Grid[float64]](t)(ColdAir(context.Background(), heights(t, 10, rows...), Ground{}, ColdAirOptions{Radius: 30}))
	middle, _ := cold.At(3, 3)
	high, ok := cold.At(0, 3)
	if middle < 1.5 || !ok || high != 0 {
		t.Errorf("cold air %v in the bowl, %v above it", middle, high)
	}
}
