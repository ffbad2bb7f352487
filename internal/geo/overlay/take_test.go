package overlay

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
)

// TestTake checks that a shape which is written over as it is read gives what a copied one gives, wherever it turns out
// that it has no place in its own memory: at its first point, in its first ring behind repeated points, in a hole, at
// the end, or never. Refused points are named alike.
func TestTake(t *testing.T) {
	ring := func(cx, cy, r float64) orb.Ring { return geoCircle(cx, cy, r, 60)[0][0] }
	with := func(r orb.Ring, at int, p orb.Point) orb.Ring {
		r = r.Clone()
		r[at] = p
		return r
	}
	repeated := with(with(ring(0, 0, 1000), 7, ring(0, 0, 1000)[6]), 8, ring(0, 0, 1000)[6])
	nan := math.NaN()
	for name, shape := range map[string]orb.MultiPolygon{
		"plain":                       {{ring(0, 0, 1000), ring(0, 0, 500)}},
		"open":                        {{ring(0, 0, 1000)[:60], ring(0, 0, 500)[:60]}},
		"repeated points":             {{repeated}},
		"outer ring without ground":   {{make(orb.Ring, 60), ring(0, 0, 500)}},
		"holes larger than around":    {{ring(0, 0, 1000), ring(300, 0, 200), ring(-300, 0, 200), ring(0, 300, 50)}},
		"wide, far point":             {{with(repeated, 30, orb.Point{-250e3, 0})}},
		"wide, far hole":              {{ring(0, 0, 1000), ring(150e3, 0, 500)}},
		"wide, each point near":       {{with(with(ring(0, 0, 1000), 10, orb.Point{-60e3, 0}), 40, orb.Point{60e3, 0})}},
		"wide, two parts":             {{ring(0, 0, 1000)}, {ring(150e3, 0, 500)}},
		"no number at the first":      {{with(ring(0, 0, 1000), 0, orb.Point{nan, 0})}},
		"no number":                   {{with(repeated, 30, orb.Point{0, nan})}},
		"off the grid":                {{ring(0, 0, 1000), with(ring(0, 0, 500), 9, orb.Point{1e12, 0})}},
		"empty part, empty ring":      {{}, {orb.Ring{}}, {ring(0, 0, 1000)}},
		"few points":                  {{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}}},
		"clockwise":                   {{turnedRound(ring(0, 0, 1000)), turnedRound(ring(0, 0, 500))}},
		"points in a multiple of 8":   {{geoCircle(0, 0, 1000, 64)[0][0]}},
		"one more than multiple of 8": {{geoCircle(0, 0, 1000, 65)[0][0]}},
	} {
		added, taken := New(), New()
		errAdd, errTake := added.Add(1, shape), taken.Take(1, shape.Clone())
		if (errAdd == nil) != (errTake == nil) || errAdd != nil && errAdd.Error() != errTake.Error() {
			t.Errorf("%s: added %v, taken %v", name, errAdd, errTake)
			continue
		}
		fields := []orb.MultiPolygon{{{ring(100, 0, 800)}}, {{{{-3e5, -3e5}, {3e5, -3e5}, {3e5, 3e5}, {-3e5, 3e5}, {-3e5, -3e5}}}}}
		want := runAll(t, added, fields, Options{Gaps: true})
		if got := runAll(t, taken, fields, Options{Gaps: true}); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: taken, it is not what it is when added", name)
		}
		if errAdd == nil && name != "few points" && len(want[1].Pieces) != 1 {
			t.Errorf("%s: %d pieces", name, len(want[1].Pieces))
		}
	}
}

func turnedRound(r orb.Ring) orb.Ring {
	r = r.Clone()
	r.Reverse()
	return r
}

// TestCoarse checks that coarse boxes meet wherever the boxes do, be they inside the grid or reach out of it; and that
// those a cell apart do not.
func TestCoarse(t *testing.T) {
	rnd := rand.New(rand.NewPCG(*seed, 11))
	apart := 0
	for range 100000 {
		all := geo.Box{X0: rnd.Int64N(1000), Y0: rnd.Int64N(1000)}
		size := int64(1) << rnd.IntN(40)
		all.X1, all.Y1 = all.X0+rnd.Int64N(size), all.Y0+rnd.Int64N(size)
		grid := rasterOver(&all)
		box := func() geo.Box {
			x, y := all.X0+rnd.Int64N(2*size)-size/2, all.Y0+rnd.Int64N(2*size)-size/2
			return geo.Box{X0: x, Y0: y, X1: x + rnd.Int64N(size), Y1: y + rnd.Int64N(size)}
		}
		a, b := box(), box()
		if !a.Meets(&all) || !b.Meets(&all) {
			continue
		}
		ca, cb := grid.box(a.X0, a.Y0, a.X1, a.Y1), grid.box(b.X0, b.Y0, b.X1, b.Y1)
		meet := ca.reach().meets(cb)
		if meet != cb.reach().meets(ca) || !meet && a.Meets(&b) {
			t.Fatalf("%v and %v on %v", a, b, all)
		}
		if !meet {
			apart++
		}
	}
	if apart < 1000 {
		t.Errorf("only %d pairs were told apart", apart)
	}
}

// TestDirections holds the packed way of finding the directions in which edges advance against the plain one: what is
// claimed must be so, and chains that go one way must be found out.
func TestDirections(t *testing.T) {
	rnd := rand.New(rand.NewPCG(*seed, 12))
	for range 100000 {
		scale := int64(1) << rnd.IntN(29)
		pts := []geo.Pt{{X: rnd.Int64N(1 << 40), Y: rnd.Int64N(1 << 40)}}
		for range 1 + rnd.IntN(8) {
			last := pts[len(pts)-1]
			p := geo.Pt{X: last.X + rnd.Int64N(2*scale+1) - scale/int64(1+rnd.IntN(4)), Y: last.Y + rnd.Int64N(2*scale+1) - scale}
			if p != last {
				pts = append(pts, p)
			}
		}
		got := directions(pts, false)
		// In the order of the bits, each with what decides where an edge is at right angles to it; 0 if nothing does.
		for bit, advance := range []func(x, y int64) (int64, int64){
			func(x, y int64) (int64, int64) { return -y, 0 }, func(x, y int64) (int64, int64) { return y, 0 },
			func(x, y int64) (int64, int64) { return -x, -y }, func(x, y int64) (int64, int64) { return x, y },
			func(x, y int64) (int64, int64) { return y - x, 0 }, func(x, y int64) (int64, int64) { return x - y, 0 },
			func(x, y int64) (int64, int64) { return -x - y, y - x }, func(x, y int64) (int64, int64) { return x + y, x - y },
		} {
			want := true
			for i := 1; i < len(pts); i++ {
				a, b := advance(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y)
				want = want && (a > 0 || a == 0 && b > 0)
			}
			if want != (got>>bit&1 == 1) {
				t.Fatalf("bit %d of %08b along %v, want %v", bit, got, pts, want)
			}
		}
	}
}

// TestPane holds boxes and edges compared as words of two coordinates against the plain comparisons.
func TestPane(t *testing.T) {
	rnd := rand.New(rand.NewPCG(*seed, 13))
	const all = 1 << 31
	met, missed := 0, 0
	for range 100000 {
		size := int64(1) << (1 + rnd.IntN(31))
		x, y := rnd.Int64N(all-size+1), rnd.Int64N(all-size+1)
		point := func() offset { return offset{int32(x + rnd.Int64N(size)), int32(y + rnd.Int64N(size))} }
		box := func() offbox {
			p, q := point(), point()
			return offbox{min(p.x, q.x), min(p.y, q.y), max(p.x, q.x), max(p.y, q.y)}
		}
		plain := func(b *offbox) geo.Box {
			return geo.Box{X0: int64(b.x0), Y0: int64(b.y0), X1: int64(b.x1), Y1: int64(b.y1)}
		}
		a, b := box(), box()
		ga, gb := plain(&a), plain(&b)
		pa, cb := a.pane(), b.corners()
		if got := pa.meets(&b) == 1; got != ga.Meets(&gb) || got != pa.meetsCorners(&cb) || cornersOf(&gb, 0, 0) != cb {
			t.Fatalf("%v and %v", a, b)
		} else if got {
			met++
		} else {
			missed++
		}
		if none := noEdges(); pa.meets(&none) != 0 && (a.x0 != 0 || a.x1 != all-1) {
			t.Fatalf("%v meets the box of no edges", a)
		}
		pts := []offset{point()}
		var want, got []int
		for i := range 1 + rnd.IntN(chunk) {
			pts = append(pts, point())
			p, q := pts[i], pts[i+1]
			if meets(geo.Pt{X: int64(p.x), Y: int64(p.y)}, geo.Pt{X: int64(q.x), Y: int64(q.y)}, &ga) == 1 {
				want = append(want, i)
			}
		}
		var edges [chunk]int
		got = append(got, edges[:a.edgesIn(pts, &edges)]...)
		if !slices.Equal(got, want) {
			t.Fatalf("edges %v of %v in %v, want %v", got, pts, a, want)
		}
	}
	if met < 1000 || missed < 1000 {
		t.Errorf("%d pairs met, %d did not", met, missed)
	}
}

// TestRays holds the ray to the left against the one to the right, for points of the field on survey vertices, level
// with them, and anywhere.
func TestRays(t *testing.T) {
	rnd := rand.New(rand.NewPCG(*seed, 14))
	inside := 0
	for range 2000 {
		ring := orb.Ring{}
		for range 3 + rnd.IntN(40) {
			ring = append(ring, orb.Point{float64(rnd.IntN(12)), float64(rnd.IntN(12))})
		}
		c := New()
		if err := c.Add(0, orb.MultiPolygon{{ring}}); err != nil {
			t.Fatal(err)
		}
		var s soil
		c.polygons[0].view(&s)
		for range 20 {
			q := offset{int32(s.box.X0 - s.origin.X + rnd.Int64N(s.box.X1-s.box.X0+1)), int32(s.box.Y0 - s.origin.Y + rnd.Int64N(s.box.Y1-s.box.Y0+1))}
			if rnd.IntN(3) > 0 {
				q.y = s.pts[rnd.IntN(int(s.rings[0].n))].y
			}
			if rnd.IntN(3) == 0 {
				q.x = s.pts[rnd.IntN(int(s.rings[0].n))].x
			}
			left, right := rayFrom(q, true), rayFrom(q, false)
			if got := s.crossed(&left); got != s.crossed(&right) {
				t.Fatalf("%v in %v: left %v", q, s.pts, got)
			} else if got {
				inside++
			}
		}
	}
	if inside < 1000 {
		t.Errorf("only %d points were inside", inside)
	}
}
