package arrange

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

func TestCheckFixtures(t *testing.T) {
	for _, tc := range []struct {
		name, in string
		want     Kind
		ring     int
	}{
		{"empty", "", Empty, 0},
		{"square", "0,0 4,0 4,4 0,4", Valid, 0},
		{"triangle", "0,0 4,0 4,4", Valid, 0},
		{"clockwise", "0,0 0,4 4,4 4,0", Direction, 0},
		{"two points", "0,0 4,0", TooFew, 0},
		{"repeated point", "0,0 4,0 4,0 4,4", Repeated, 0},
		{"repeated at the end", "0,0 4,0 4,4 0,0", Repeated, 0},
		{"collinear points", "0,0 2,0 4,0 4,2 4,4 0,4 0,2", Valid, 0},
		{"flat", "0,0 4,0 2,0", Spike, 0},
		{"spike from a corner", "0,0 4,0 4,4 9,4 4,4 0,4", SelfTouch, 0},
		{"bow-tie", "0,0 4,4 4,0 0,4", Crossing, 0},
		{"runs along itself", "0,0 8,0 8,4 2,4 2,0 6,0 6,2 0,2", SelfTouch, 0},
		{"vertex on vertex", "0,0 2,2 4,0 4,4 2,2 0,4", SelfTouch, 0},
		{"vertex on edge", "0,0 8,0 8,8 4,0 0,8", SelfTouch, 0},
		{"hole", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3", Valid, 0},
		{"hole drawn like a shell", "0,0 9,0 9,9 0,9; 3,3 6,3 6,6 3,6", Direction, 1},
		{"hole equal to shell", "0,0 9,0 9,9 0,9; 0,0 0,9 9,9 9,0", Crossing, 1},
		{"hole outside", "0,0 2,0 2,2 0,2; 5,5 5,6 6,6 6,5", HoleOutside, 1},
		{"hole outside touching", "0,0 2,0 2,2 0,2; 2,2 2,4 4,4 4,2", HoleOutside, 1},
		{"hole round shell", "3,3 6,3 6,6 3,6; 0,0 0,9 9,9 9,0", HoleOutside, 1},
		{"hole across shell", "0,0 4,0 4,4 0,4; 2,1 2,3 6,3 6,1", Crossing, 1},
		{"hole crossing shell in vertices", "0,0 4,0 4,2 4,4 0,4; 2,2 4,4 6,2 4,0", Disconnected, 1},
		{"hole touching shell, vertex on edge", "0,0 4,0 4,4 0,4; 0,2 2,3 2,1", Valid, 0},
		{"hole touching shell, edge on vertex", "0,0 4,0 4,4 0,4 2,2; 2,1 2,3 3,3 3,1", Valid, 0},
		{"hole touching shell twice", "0,0 4,0 4,4 0,4; 2,0 1,2 2,4 3,2", Disconnected, 1},
		{"hole along shell", "0,0 4,0 4,4 0,4; 0,1 0,3 2,3 2,1", Crossing, 1},
		{"holes touching", "0,0 9,0 9,9 0,9; 1,1 1,3 3,3 3,1; 3,3 3,5 5,5 5,3", Valid, 0},
		{"three holes in a circle", "0,0 9,0 9,9 0,9; 1,1 4,4 4,1; 4,4 4,7 7,7; 4,1 7,7 7,1", Disconnected, 3},
		{"four holes in one point", "0,0 9,0 9,9 0,9; 2,4 4,4 3,2; 4,4 6,4 5,2; 4,4 3,6 5,6", Valid, 0},
		{"hole in hole", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1; 3,3 3,6 6,6 6,3", NestedHole, 2},
		{"hole in hole touching", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1; 1,1 3,6 6,3", NestedHole, 2},
		{"hole held by three others", "0,0 20,0 20,20 0,20; 8,8 12,12 12,8; 6,6 6,8 8,8; 12,12 12,14 14,14; 12,8 14,6 12,6", Valid, 0},
		{"beyond 64-bit products", "-1000000000000000,-1000000000000000 1000000000000000,0 0,1000000000000000 0,1", Valid, 0},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got := Check(rings(t, tc.in))
			if got.Kind != tc.want || got.Ring != tc.ring {
				t.Errorf("Check(%s) = %v in ring %d at %v, want %v in ring %d", tc.in, got.Kind, got.Ring, got.At, tc.want, tc.ring)
			}
		})
	}
}

// TestCheckAgainstPairs compares Check with the slow test, on rings where nearly everything coincides.
func TestCheckAgainstPairs(t *testing.T) {
	var c Checker
	rapid.Check(t, func(t *rapid.T) {
		in := lattice(t, rapid.Int64Range(2, 20).Draw(t, "side"), "rings")
		if rapid.Bool().Draw(t, "nearly valid") { // rings of several valid parts taken for one polygon
			var flat [][]geo.Pt
			for _, p := range EvenOdd(in) {
				flat = append(flat, p...)
			}
			in = flat
		}
		got, want := c.Check(in), slowPolygonFault(upright(in))
		var wide [][]geo.Pt // so large that products need 128 bits
		for _, r := range in {
			var w []geo.Pt
			for _, p := range r {
				w = append(w, geo.Pt{X: p.X<<50 - 7, Y: p.Y<<50 + 9})
			}
			wide = append(wide, w)
		}
		if far := new(Checker).Check(wide); far.Kind != got.Kind || far.Ring != got.Ring {
			t.Fatalf("Check(%v) = %v, but %v when enlarged", in, got.Kind, far.Kind)
		}
		if (got.Kind == Valid || got.Kind == Direction) != (want == "") {
			t.Fatalf("Check(%v) = %v at %v, the slow test says %q", in, got.Kind, got.At, want)
		}
	})
}

// upright returns simple rings turned and rotated as a polygon has them.
func upright(in [][]geo.Pt) Polygon {
	var p Polygon
	for i, r := range in {
		r = slices.Clone(r)
		if len(r) > 2 && (slowTwice(r) > 0) != (i == 0) {
			slices.Reverse(r)
		}
		p = append(p, fromLeast(r))
	}
	return p
}

func TestCheckAllAgainstPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Int64Range(2, 10).Draw(t, "side")
		a := EvenOdd(lattice(t, side, "a"))
		b := EvenOdd(lattice(t, side, "b"))
		if rapid.Bool().Draw(t, "apart") {
			b = Difference(b, a)
		}
		in := slices.Concat(a, b)
		want := slowFault(in)
		if len(in) == 0 {
			want = "empty"
		}
		if got := CheckAll(in); got.OK() != (want == "") {
			t.Fatalf("CheckAll(%s) = %v at %v, the slow test says %q", show(in), got.Kind, got.At, want)
		}
	})
}

// wavy returns a ring of n points about a centre, its radius swinging like a natural line.
func wavy(r *rand.Rand, n int, cx, cy, radius float64) []geo.Pt {
	phase := [4]float64{r.Float64() * 6, r.Float64() * 6, r.Float64() * 6, r.Float64() * 6}
	var ring []geo.Pt
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		f := 1 + .2*math.Sin(3*a+phase[0]) + .1*math.Sin(11*a+phase[1]) + .05*math.Sin(37*a+phase[2]) + .01*math.Sin(float64(n/5)*a+phase[3])
		ring = append(ring, geo.Pt{X: int64(cx + radius*f*math.Cos(a)), Y: int64(cy + radius*f*math.Sin(a))})
	}
	return fromLeast(ring)
}

// holed returns a polygon of n points in all with many holes.
func holed(n, holes int) Polygon {
	r := rand.New(rand.NewPCG(1, 2))
	p := Polygon{wavy(r, n/2, 0, 0, 1e8)}
	k := int(math.Ceil(math.Sqrt(float64(holes))))
	for i := range holes {
		x, y := float64(i%k)/float64(k)-.5, float64(i/k)/float64(k)-.5
		h := wavy(r, n/2/holes, x*8e7, y*8e7, .25*8e7/float64(k))
		slices.Reverse(h)
		p = append(p, fromLeast(h))
	}
	return p
}

func TestCheckLarge(t *testing.T) {
	p := holed(40_000, 100)
	if f := Check(p); !f.OK() {
		t.Fatalf("a sound polygon of 40,000 points: %v in ring %d at %v", f.Kind, f.Ring, f.At)
	}
	p[0][10_000], p[0][10_002] = p[0][10_002], p[0][10_000]
	if f := Check(p); f.OK() {
		t.Fatal("two corners exchanged: found valid")
	}
}

func BenchmarkCheck(b *testing.B) {
	for _, bc := range []struct {
		name     string
		n, holes int
	}{{"60", 120, 0}, {"150", 300, 0}, {"7000", 14_000, 0}, {"40000 with 100 holes", 40_000, 100}} {
		b.Run(bc.name, func(b *testing.B) {
			p := holed(bc.n, bc.holes)
			n := 0
			for _, r := range p {
				n += len(r)
			}
			var c Checker
			b.ReportAllocs()
			for b.Loop() {
				if !c.Check(p).OK() {
					b.Fatal("not valid")
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/vertex")
		})
	}
}

// BenchmarkEvenOdd rebuilds a polygon of 40,000 corners with 100 holes that crosses itself in one place.
func BenchmarkEvenOdd(b *testing.B) {
	p := holed(40_000, 100)
	p[0][10_000], p[0][10_002] = p[0][10_002], p[0][10_000]
	b.ReportAllocs()
	for b.Loop() {
		if len(EvenOdd(p)) == 0 {
			b.Fatal("nothing left")
		}
	}
}

// BenchmarkUnion takes the same polygon through the sweep, which finds that nothing needs noding.
func BenchmarkUnion(b *testing.B) {
	p := []Polygon{holed(40_000, 100)}
	b.ReportAllocs()
	for b.Loop() {
		if len(Union(p)) != 1 {
			b.Fatal("not one polygon")
		}
	}
}
