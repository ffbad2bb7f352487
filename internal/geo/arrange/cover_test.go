package arrange

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

// tiles cuts the square 0..side along any rings into sets of polygons that tile it, neighbours sharing all corners.
func tiles(in [][]geo.Pt, side int64) [][]Polygon {
	l := newLines()
	for i, r := range in {
		l.addRing(r, i+1)
	}
	l.addRing([]geo.Pt{{X: 0, Y: 0}, {X: side, Y: 0}, {X: side, Y: side}, {X: 0, Y: side}}, 0)
	lb := l.must()
	return lb.split(len(lb.winds.vecs), func(v []wind) []int32 {
		if !above(v, 0) {
			return nil
		}
		return []int32{lb.winds.number(v)}
	})
}

// faultInTiling says what is wrong with sets that should tile the square 0..side.
func faultInTiling(sets [][]Polygon, side int64) string {
	var sum float64
	for i, s := range sets {
		if f := slowFault(s); f != "" {
			return show(s) + ": " + f
		}
		sum += Area(s)
		for _, o := range sets[:i] {
			for _, p := range s {
				for _, q := range o {
					if at, bad := slowMidpoint(p, q); bad {
						return show(s) + " overlaps " + show(o) + " at " + show([]Polygon{{{at}}})
					}
				}
			}
		}
	}
	if sum != float64(side*side) { // all products are small whole numbers and halves
		return "the areas do not add up"
	}
	return ""
}

func TestCoverKeepsTiling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]int64{4, 8, 20}).Draw(t, "side")
		sets := tiles(lattice(t, side, "rings"), side)
		if f := faultInTiling(sets, side); f != "" {
			t.Fatal("tiles: ", f)
		}
		// Corners that only one of two neighbours has, as other programs leave them.
		bare := make([][]Polygon, len(sets))
		for i, s := range sets {
			for _, p := range s {
				var q Polygon
				for _, r := range p {
					q = append(q, withoutStraight(r))
				}
				bare[i] = append(bare[i], q)
			}
		}
		if f := faultInTiling(Cover(bare), side); f != "" {
			t.Fatal("covered: ", f)
		}
		pieces := slices.Concat(sets...)
		if got, want := show(Dissolve(pieces)), show(Union(pieces)); got != want {
			t.Fatalf("%s dissolves to %s, union %s", show(pieces), got, want)
		}
		if g := Gaps(nil, sets); len(g) > 0 {
			t.Fatalf("gaps in a tiling: %s", show(g))
		}
		if o := Overlaps(sets); len(o) > 0 {
			t.Fatalf("overlaps in a tiling: %v", o)
		}
		thin := Simplify(sets, float64(side)/3)
		var sum float64
		for i, s := range thin {
			if f := slowFault(s); f != "" || len(s) != len(sets[i]) {
				t.Fatalf("simplified %s to %s: %s", show(sets[i]), show(s), f)
			}
			sum += Area(s)
		}
		if o := Overlaps(thin); len(o) > 0 || len(Gaps(nil, thin)) > 0 || sum > float64(side*side) {
			t.Fatalf("simplified: overlaps %v, gaps %s, area %v", o, show(Gaps(nil, thin)), sum)
		}
	})
}

// withoutStraight leaves out corners on a straight line.
func withoutStraight(r []geo.Pt) (out []geo.Pt) {
	for i, p := range r {
		if geo.Orient(r[(i+len(r)-1)%len(r)], p, r[(i+1)%len(r)]) != 0 {
			out = append(out, p)
		}
	}
	return out
}

// TestCoverRoundedKeepsTiling rounds tilings whose corners lie anywhere to a grid on which a good part of them
// collapses, without and with the whole ground as first layer.
func TestCoverRoundedKeepsTiling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]int64{2, 5, 12, 100}).Draw(t, "side")
		sets := tiles(lattice(t, side*finer, "rings"), side*finer)
		all := Union(sets...) // shares the corners of the sets
		for _, layers := range [][][]Polygon{sets, slices.Insert(slices.Clone(sets), 0, all)} {
			var drawn []orb.MultiPolygon
			for _, s := range layers {
				drawn = append(drawn, ToOrb(s, 1e-7/finer))
			}
			rounded, ok := CoverRounded(drawn, 1e-7)
			if !ok || len(rounded) != len(layers) {
				t.Fatalf("%d sets rounded to %d", len(layers), len(rounded))
			}
			var back [][]Polygon
			for _, mp := range rounded {
				parts, _ := FromOrb(mp, 1e-7)
				back = append(back, parts)
			}
			if len(layers) > len(sets) {
				if f := slowFault(back[0]); f != "" || Area(back[0]) != float64(side*side) {
					t.Fatalf("the whole became %s: %s", show(back[0]), f)
				}
				back = back[1:]
			}
			if f := faultInTiling(back, side); f != "" {
				t.Fatal("rounded: ", f)
			}
		}
	})
}

func TestCoverRoundedRefuses(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		if _, ok := CoverRounded([]orb.MultiPolygon{{{{{0, 0}, {1, 0}, {bad, 1}, {0, 0}}}}}, 1e-7); ok {
			t.Errorf("a corner at %v was taken", bad)
		}
	}
}

func TestGapsAndOverlaps(t *testing.T) {
	a := shapes(t, "0,0 10,0 10,10 0,10")
	b := shapes(t, "9,0 20,0 20,10 9,10")
	c := shapes(t, "0,12 20,12 20,20 0,20")
	d := shapes(t, "0,10 2,10 2,12 0,12 | 18,10 20,10 20,12 18,12")
	layers := [][]Polygon{a, b, c, d}
	if got, want := show(Gaps(nil, layers)), "2,10 9,10 10,10 18,10 18,12 2,12"; got != want {
		t.Errorf("Gaps(nil) = %s, want %s", got, want)
	}
	if got, want := show(Gaps(shapes(t, "0,9 3,9 3,13 0,13"), layers)), "2,10 3,10 3,12 2,12"; got != want {
		t.Errorf("Gaps(frame) = %s, want %s", got, want)
	}
	touching := [][]Polygon{shapes(t, "0,0 4,0 4,1 1,1 1,3 4,3 4,4 0,4"), shapes(t, "4,1 6,1 6,3 4,3 5,2")}
	if got, want := show(Gaps(nil, touching)), "1,1 4,1 5,2 4,3 1,3"; got != want {
		t.Errorf("gap between parts that touch in points: %s, want %s", got, want)
	}
	if got := Gaps(nil, nil); len(got) != 0 {
		t.Errorf("gaps of nothing: %s", show(got))
	}
	over := Overlaps(layers)
	if len(over) != 1 || !slices.Equal(over[0].Layers, []int{0, 1}) || show(over[0].Ground) != "9,0 10,0 10,10 9,10" {
		t.Errorf("Overlaps = %v", over)
	}
	for width := int64(1); width <= 10; width++ { // slivers of 1 to 10 grid units
		right := []Polygon{{{{X: 1000 + width, Y: 0}, {X: 2000, Y: 0}, {X: 2000, Y: 1000}, {X: 1000 + width, Y: 1000}}}}
		left := shapes(t, "0,0 1000,0 1000,1000 0,1000")
		if got := Area(Gaps(shapes(t, "0,0 2000,0 2000,1000 0,1000"), [][]Polygon{left, right})); got != float64(1000*width) {
			t.Errorf("gap of width %d has area %v", width, got)
		}
		right[0][0][0].X, right[0][0][3].X = 1000-width, 1000-width
		if o := Overlaps([][]Polygon{left, right}); len(o) != 1 || Area(o[0].Ground) != float64(1000*width) {
			t.Errorf("overlap of width %d: %v", width, o)
		}
	}
}

// TestSimplifyIsland: a line must not jump over an island when its bay goes.
func TestSimplifyIsland(t *testing.T) {
	shore := shapes(t, "0,0 100,0 100,100 60,100 50,80 40,100 0,100")
	island := shapes(t, "48,98 50,96 52,98")
	got := Simplify([][]Polygon{shore, island}, 1000)
	if over := Overlaps(got); len(over) > 0 || len(got[0]) != 1 || len(got[1]) != 1 {
		t.Errorf("shore %s, island %s", show(got[0]), show(got[1]))
	}
}

// survey returns the polygons of a real survey area on a grid of 1e-7 degrees, each made valid and a layer of its own.
func survey(t testing.TB) (layers [][]Polygon) {
	for _, mp := range surveyPolygons(t) {
		fixed, _ := Repair(mp, 1e-7)
		parts, _ := FromOrb(fixed, 1e-7)
		layers = append(layers, parts)
	}
	return layers
}

func TestCoverSurvey(t *testing.T) {
	layers := survey(t)
	before := 0.0
	for _, l := range layers {
		before += Area(l)
	}
	covered := Cover(layers)
	after := 0.0
	for i, l := range covered {
		if f := CheckAll(l); !f.OK() {
			t.Fatalf("record %d: %v at %v", i, f.Kind, f.At)
		}
		after += Area(l)
	}
	if math.Abs(after-before) > 1e-9*before {
		t.Errorf("area %v before, %v after", before, after)
	}
	if o, g := Overlaps(covered), Gaps(nil, covered); len(o) > 0 || len(g) > 0 {
		t.Errorf("%d overlaps, %d gaps", len(o), len(g))
	}
	thin := Simplify(covered, 1e4)
	if o, g := Overlaps(thin), Gaps(nil, thin); len(o) > 0 || len(g) > 0 {
		t.Errorf("simplified: %d overlaps, %d gaps", len(o), len(g))
	}
}

func BenchmarkSurvey(b *testing.B) {
	layers := survey(b)
	n, corners := 0, 0
	for _, l := range layers {
		for _, p := range l {
			for _, r := range p {
				corners += len(r)
			}
		}
		n++
	}
	per := func(b *testing.B) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(corners), "ns/vertex")
	}
	b.Run("Check", func(b *testing.B) {
		var c Checker
		for b.Loop() {
			for _, l := range layers {
				for _, p := range l {
					c.Check(p)
				}
			}
		}
		per(b)
	})
	b.Run("Union one by one", func(b *testing.B) {
		for b.Loop() {
			for _, l := range layers {
				Union(l)
			}
		}
		per(b)
	})
	b.Run("Cover", func(b *testing.B) {
		for b.Loop() {
			Cover(layers)
		}
		per(b)
	})
	b.Run("Union", func(b *testing.B) {
		for b.Loop() {
			Union(layers...)
		}
		per(b)
	})
	b.Run("Simplify", func(b *testing.B) {
		for b.Loop() {
			Simplify(layers, 1e4)
		}
		per(b)
	})
}

// TestCoverRoundedBent brings a real coverage through a map that bends straight lines a little, as going from a plane
// to degrees does, and rounds it: neighbours must still meet.
func TestCoverRoundedBent(t *testing.T) {
	var bent []orb.MultiPolygon
	for _, l := range Cover(survey(t)[:800]) {
		mp := ToOrb(l, 1e-7)
		bend(mp)
		bent = append(bent, mp)
	}
	rounded, ok := CoverRounded(bent, 1e-7)
	if !ok {
		t.Fatal("refused")
	}
	var layers [][]Polygon
	for i, mp := range rounded {
		parts, _ := FromOrb(mp, 1e-7)
		if f := CheckAll(parts); !f.OK() {
			t.Fatalf("record %d: %v at %v", i, f.Kind, f.At)
		}
		layers = append(layers, parts)
	}
	if o := Overlaps(layers); len(o) > 0 {
		t.Errorf("%d overlaps, the first of layers %v: %s", len(o), o[0].Layers, show(o[0].Ground))
	}
}

// roundedFields returns small coverages, five neighbours and before them their common outline, as the zones of a field
// are, and how many corners they have.
func roundedFields(t testing.TB) (fields [][]orb.MultiPolygon, corners int) {
	for group := range slices.Chunk(survey(t)[:500], 5) {
		layers := Cover(append([][]Polygon{Union(group...)}, group...))
		var shapes []orb.MultiPolygon
		for _, l := range layers {
			mp := ToOrb(l, 1e-7)
			corners += bend(mp)
			shapes = append(shapes, mp)
		}
		fields = append(fields, shapes)
	}
	return fields, corners
}

// bend moves corners by a map under which straight lines do not stay quite straight, and counts them.
func bend(mp orb.MultiPolygon) (corners int) {
	for _, p := range mp {
		for _, r := range p {
			corners += len(r) - 1
			for i, pt := range r {
				r[i] = orb.Point{pt[0] + 1e-5*math.Sin(50*pt[1]), pt[1] + 1e-5*math.Cos(50*pt[0])}
			}
		}
	}
	return corners
}

func BenchmarkCoverRounded(b *testing.B) {
	fields, corners := roundedFields(b)
	b.ReportAllocs()
	for b.Loop() {
		for _, shapes := range fields {
			if _, ok := CoverRounded(shapes, 1e-7); !ok {
				b.Fatal("refused")
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(corners), "ns/vertex")
}
