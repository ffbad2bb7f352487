package arrange

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/internal/geo"
)

// closed writes grid polygons as drawn ones: rings closed, otherwise untouched.
func closed(parts []Polygon) (mp orb.MultiPolygon) {
	for _, p := range parts {
		var poly orb.Polygon
		for _, r := range p {
			var ring orb.Ring
			for _, pt := range r {
				ring = append(ring, orb.Point{float64(pt.X), float64(pt.Y)})
			}
			if len(ring) > 0 {
				ring = append(ring, ring[0])
			}
			poly = append(poly, ring)
		}
		mp = append(mp, poly)
	}
	return mp
}

func TestRepairFixtures(t *testing.T) {
	for _, tc := range []struct {
		name, in, want string
		rep            Report
	}{
		{"empty", "", "", Report{}},
		{"sound", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3", Report{AreaBefore: 72, AreaAfter: 72}},
		{"directions", "0,0 0,9 9,9 9,0; 3,3 6,3 6,6 3,6", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3",
			Report{WrongOrientation: 2, AreaBefore: 72, AreaAfter: 72}},
		{"repeated point and spike", "0,0 9,0 9,0 9,12 9,9 0,9", "0,0 9,0 9,9 0,9",
			Report{Repeated: 1, Spikes: 1, AreaBefore: 81, AreaAfter: 81}},
		{"spike of a spike", "0,0 9,0 9,9 12,12 12,20 12,12 9,9 0,9", "0,0 9,0 9,9 0,9", Report{Spikes: 4, AreaBefore: 81, AreaAfter: 81}},
		{"flat", "0,0 9,0 5,0", "", Report{Spikes: 1, ZeroArea: 1}},
		{"bow-tie", "0,0 4,4 4,0 0,4", "0,0 2,2 0,4 | 2,2 4,0 4,4", Report{Crossings: 1, Rebuilt: true, AreaAfter: 8}},
		{"self-touch", "0,0 2,2 4,0 4,4 2,2 0,4", "0,0 2,2 0,4 | 2,2 4,0 4,4",
			Report{SelfTouching: 1, Rebuilt: true, AreaBefore: 8, AreaAfter: 8}},
		{"hole twice", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3; 6,6 6,3 3,3 3,6", "0,0 9,0 9,9 0,9; 3,3 3,6 6,6 6,3",
			Report{DuplicateRings: 1, AreaBefore: 63, AreaAfter: 72}},
		{"hole equal to shell", "0,0 9,0 9,9 0,9; 0,0 0,9 9,9 9,0", "", Report{Crossings: 3, Rebuilt: true}},
		{"hole outside", "0,0 2,0 2,2 0,2; 5,5 5,6 6,6 6,5", "0,0 2,0 2,2 0,2 | 5,5 6,5 6,6 5,6",
			Report{HolesOutside: 1, Rebuilt: true, AreaBefore: 3, AreaAfter: 5}},
		{"hole in hole", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1; 3,3 3,6 6,6 6,3", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1 | 3,3 6,3 6,6 3,6",
			Report{NestedHoles: 1, Rebuilt: true, AreaBefore: 23, AreaAfter: 41}},
		{"outer ring of nothing", "0,0 9,0 0,0; 3,3 3,6 6,6 6,3", "3,3 6,3 6,6 3,6",
			Report{Repeated: 1, ZeroArea: 1, HolesOutside: 1, AreaBefore: -9, AreaAfter: 9}},
		{"part twice", "0,0 9,0 9,9 0,9 | 9,9 0,9 0,0 9,0", "0,0 9,0 9,9 0,9", Report{DuplicateRings: 1, AreaBefore: 162, AreaAfter: 81}},
		{"parts overlapping", "0,0 4,0 4,4 0,4 | 2,2 6,2 6,6 2,6", "0,0 4,0 4,2 6,2 6,6 2,6 2,4 0,4",
			Report{Overlapping: true, Rebuilt: true, AreaBefore: 32, AreaAfter: 28}},
		{"parts side by side", "0,0 4,0 4,4 0,4 | 4,0 8,0 8,4 4,4", "0,0 4,0 8,0 8,4 4,4 0,4",
			Report{Overlapping: true, Rebuilt: true, AreaBefore: 32, AreaAfter: 32}},
		{"parts in a corner", "0,0 4,0 4,4 0,4 | 4,4 8,4 8,8 4,8", "0,0 4,0 4,4 0,4 | 4,4 8,4 8,8 4,8", Report{AreaBefore: 32, AreaAfter: 32}},
		{"part in the hole of another", "0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1 | 3,3 6,3 6,6 3,6",
			"0,0 9,0 9,9 0,9; 1,1 1,8 8,8 8,1 | 3,3 6,3 6,6 3,6", Report{AreaBefore: 41, AreaAfter: 41}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			in := shapes(t, tc.in)
			got, rep := Repair(closed(in), 1)
			parts, _ := FromOrb(got, 1)
			if s := show(parts); s != tc.want || rep != tc.rep {
				t.Errorf("Repair(%s)\n got %s %+v\nwant %s %+v", tc.in, s, rep, tc.want, tc.rep)
			}
			if parts, gridRep := RepairGrid(in); show(parts) != tc.want || gridRep != tc.rep {
				t.Errorf("RepairGrid(%s)\n got %s %+v\nwant %s %+v", tc.in, show(parts), gridRep, tc.want, tc.rep)
			}
		})
	}
}

func TestRepairDrawn(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	square := orb.Ring{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}
	for _, tc := range []struct {
		name string
		in   orb.MultiPolygon
		want orb.MultiPolygon
		rep  Report
	}{
		{"nothing", nil, orb.MultiPolygon{}, Report{}},
		{"no rings", orb.MultiPolygon{{}}, orb.MultiPolygon{}, Report{}},
		{"empty ring", orb.MultiPolygon{{{}}}, orb.MultiPolygon{}, Report{}},
		{"one point", orb.MultiPolygon{{{{1, 1}}}}, orb.MultiPolygon{}, Report{Unclosed: 1, ZeroArea: 1}},
		{"unclosed", orb.MultiPolygon{{square[:4]}}, orb.MultiPolygon{{square}}, Report{Unclosed: 1, AreaBefore: 1, AreaAfter: 1}},
		{"not a number", orb.MultiPolygon{{{{0, 0}, {nan, 0}, {1, 0}, {1, 1}, {0, inf}, {0, 1}, {0, 0}}}}, orb.MultiPolygon{{square}},
			Report{NotFinite: 2, AreaBefore: 1, AreaAfter: 1}},
		{"closed by nothing", orb.MultiPolygon{{{{inf, 0}, {0, 0}, {1, 0}, {1, 1}, {0, 1}, {inf, 0}}}}, orb.MultiPolygon{{square}},
			Report{NotFinite: 2, AreaBefore: 1, AreaAfter: 1}},
		{"all not numbers", orb.MultiPolygon{{{{nan, nan}, {nan, nan}, {nan, nan}, {nan, nan}}}}, orb.MultiPolygon{},
			Report{NotFinite: 4, Unclosed: 1, ZeroArea: 1}},
		{"thinner than the grid", orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1e-9}, {0, 1e-9}, {0, 0}}}}, orb.MultiPolygon{},
			Report{Repeated: 2, Spikes: 0, ZeroArea: 1, AreaBefore: 1e-9}},
		{"too far out", orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {1e300, 1}, {0, 1}, {0, 0}}}}, orb.MultiPolygon{{square}},
			Report{NotFinite: 1, AreaBefore: 1, AreaAfter: 1}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, rep := Repair(tc.in, 1e-7)
			rep.AreaAfter = math.Round(rep.AreaAfter*1e6) / 1e6
			if tc.name == "too far out" {
				rep.AreaBefore = 1 // some 1e300: as drawn
			}
			if !got.Equal(tc.want) || rep != tc.rep {
				t.Errorf("Repair(%v)\n got %v %+v\nwant %v %+v", tc.in, got, rep, tc.want, tc.rep)
			}
		})
	}
}

// TestRepairPrintsShort: coordinates on the grid of 1e-7 degrees are the float64 next to the decimal.
func TestRepairPrintsShort(t *testing.T) {
	for _, x := range []float64{-93.1234567, 41.0000001, -0.1, 179.9999999, 0.3} {
		mp := orb.MultiPolygon{{{{x, 0}, {x + 1, 0}, {x + 1, 1}, {x, 0}}}}
		if got, _ := Repair(mp, 1e-7); got[0][0][0][0] != x {
			t.Errorf("%v came back as %v", x, got[0][0][0][0])
		}
	}
}

// TestRepairSettles: whatever is drawn, the result is valid, and repairing it again finds nothing and changes nothing.
func TestRepairSettles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]int64{2, 4, 8, 100}).Draw(t, "side")
		n := rapid.IntRange(1, 3).Draw(t, "parts")
		var drawn orb.MultiPolygon
		var exact []Polygon
		for range n {
			p := Polygon(lattice(t, side, "part"))
			exact = append(exact, p)
			drawn = append(drawn, closed([]Polygon{p})...)
		}
		settles(t, drawn)
		got, _ := RepairGrid(exact)
		if f := slowFault(got); f != "" {
			t.Fatalf("%v made %s: %s", drawn, show(got), f)
		}
	})
}

func settles(t interface{ Fatalf(string, ...any) }, drawn orb.MultiPolygon) {
	once, rep := Repair(drawn, 1)
	parts, ok := FromOrb(once, 1)
	if f := CheckAll(parts); !ok || !f.OK() && len(parts) > 0 {
		t.Fatalf("%v made %v: %v at %v", drawn, once, f.Kind, f.At)
	}
	twice, again := Repair(once, 1)
	if !twice.Equal(once) {
		t.Fatalf("%v made %v (%+v), then %v", drawn, once, rep, twice)
	}
	area := again.AreaAfter
	if again != (Report{AreaBefore: again.AreaBefore, AreaAfter: area}) || math.Abs(again.AreaBefore-area) > 1e-9*area {
		t.Fatalf("%v made %v, in which the second repair found %+v", drawn, once, again)
	}
}

// TestRepairCountsArea checks the area by counting quarter cells: even-odd within a part, union between parts.
func TestRepairCountsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ra, rb := octilinear(t, 6, "a"), octilinear(t, 6, "b")
		got, ok := MakeValid([]Polygon{ra, rb})
		want := slowCells(6, func(at geo.Pt) bool { return slowOdd(ra, at) || slowOdd(rb, at) })
		if !ok || Area(got) != want {
			t.Fatalf("%v and %v made %s of area %v, counted %v", ra, rb, show(got), Area(got), want)
		}
	})
}

// TestRepairMoves: moving a drawing by whole grid units moves the result, also far out, where products need 128 bits.
func TestRepairMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.SampledFrom([]int64{4, 40, 1 << 20, 1 << 33, 1 << 57}).Draw(t, "side")
		in := lattice(t, side, "rings")
		dx := rapid.SampledFrom([]int64{0, 1, -25e9, 25e9, 1 << 59}).Draw(t, "dx")
		dy := rapid.SampledFrom([]int64{0, -1, -25e9, -1 << 59}).Draw(t, "dy")
		want := shifted(EvenOdd(in), dx, dy)
		if got := EvenOdd(shifted([]Polygon{in}, dx, dy)[0]); show(got) != show(want) {
			t.Fatalf("EvenOdd(%v moved by %d, %d) = %s, want %s", in, dx, dy, show(got), show(want))
		}
	})
}

func shifted(parts []Polygon, dx, dy int64) (out []Polygon) {
	for _, p := range parts {
		var q Polygon
		for _, r := range p {
			r = slices.Clone(r)
			for i := range r {
				r[i].X, r[i].Y = r[i].X+dx, r[i].Y+dy
			}
			q = append(q, r)
		}
		out = append(out, q)
	}
	return out
}

// scribble is a ring of n points anywhere: about n²/5 crossings.
func scribble(n int) (ring []geo.Pt) {
	r := rand.New(rand.NewPCG(3, 4))
	for range n {
		ring = append(ring, geo.Pt{X: r.Int64N(1 << 30), Y: r.Int64N(1 << 30)})
	}
	return ring
}

func TestRepairGivesUpOnTangles(t *testing.T) {
	got, rep := RepairGrid([]Polygon{{scribble(20_000)}})
	if !rep.Tangled || len(got) > 0 {
		t.Errorf("%d parts, report %+v", len(got), rep)
	}
}

func BenchmarkTangle(b *testing.B) {
	ring := scribble(800)
	crossings := 0
	for b.Loop() {
		got, ok := MakeValid([]Polygon{{ring}})
		if !ok {
			b.Fatal("given up")
		}
		crossings = len(got)
	}
	b.ReportMetric(float64(crossings), "parts")
}

// FuzzMakeValid draws rings from bytes: the first byte says how large the lattice is, a point is two bytes, 255 begins a
// ring, 254 a part.
func FuzzMakeValid(f *testing.F) {
	f.Add([]byte{4, 0, 0, 4, 4, 4, 0, 0, 4})
	f.Add([]byte{9, 0, 0, 9, 0, 9, 9, 0, 9, 255, 3, 3, 6, 3, 6, 6, 3, 6, 254, 1, 1, 4, 1, 4, 4})
	f.Add([]byte{200, 0, 0, 99, 180, 17, 3, 180, 90, 2, 200, 255, 255, 7, 9})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 400 {
			return
		}
		settles(t, closed(scrawl(data)))
	})
}

// scrawl reads the polygons of FuzzMakeValid.
func scrawl(data []byte) []Polygon {
	if len(data) == 0 {
		return nil
	}
	side := int64(data[0]) + 2
	parts := []Polygon{{nil}}
	for data = data[1:]; len(data) >= 2; {
		last := &parts[len(parts)-1]
		switch data[0] {
		case 255:
			*last = append(*last, nil)
			data = data[1:]
		case 254:
			parts = append(parts, Polygon{nil})
			data = data[1:]
		default:
			v := int64(binary.LittleEndian.Uint16(data))
			ring := &(*last)[len(*last)-1]
			*ring = append(*ring, geo.Pt{X: v % 256 % side, Y: v / 256 % side})
			data = data[2:]
		}
	}
	return parts
}
