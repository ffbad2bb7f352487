package field

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// crowd returns n ragged round fields scattered over ground that holds many of them at each place.
func crowd(n int, many float64) string {
	var features []string
	r := rand.New(rand.NewPCG(1, 2))
	side := 0.007 * math.Sqrt(float64(n)/many)
	for i := range n {
		x, y := -91.5+side*r.Float64(), 33.0+side*r.Float64()
		var corners []string
		for k := range 61 {
			if k == 60 { // back at the first
				corners = append(corners, corners[0])
				break
			}
			a, d := 2*math.Pi*float64(k)/60, 0.0031+0.0008*r.Float64()
			corners = append(corners, fmt.Sprintf("[%.7f,%.7f]", x+d*math.Cos(a), y+d*math.Sin(a)))
		}
		features = append(features, feature(fmt.Sprintf(`"F%05d"`, i), "", "[["+strings.Join(corners, ",")+"]]"))
	}
	return collection(features...)
}

// tellSlowly is tellOverlaps as one would write it first: every pair, each by its exact area.
func tellSlowly(fields []Field, faults *diag.List) {
	for j := range fields {
		for i := range fields[:j] {
			one, other := &fields[i], &fields[j]
			a := overlap(onGrid(one.Shape), onGrid(other.Shape), boxOf(one.Shape), boxOf(other.Shape))
			if a >= minOverlap {
				faults.Notice(other.fault("overlap", fmt.Sprintf("it overlaps the field %s by %s, which count for both", one.ID, area(a)), ""))
			}
		}
	}
}

// TestOverlapsAreThoseOfTheSlowTwin: same words, same counts, field by field.
func TestOverlapsAreThoseOfTheSlowTwin(t *testing.T) {
	for _, many := range []float64{0.3, 2, 30} {
		fields, _, err := read(t, Options{}, "f.geojson", crowd(60, many))
		if err != nil {
			t.Fatal(err)
		}
		for _, workers := range []int{1, 8} {
			var fast, slow diag.List
			if err := tellOverlaps(t.Context(), fields, workers, &fast); err != nil {
				t.Fatal(err)
			}
			tellSlowly(fields, &slow)
			if got, want := fmt.Sprint(fast.Kept()), fmt.Sprint(slow.Kept()); got != want || slow.Notices() == 0 {
				t.Errorf("%g fields a place, %d workers:\ngot  %s\nwant %s", many, workers, got, want)
			}
		}
	}
}

// TestLookAgreesWithTheArrangement: the area without an arrangement is that of the arrangement, in cells, for shapes with parts and
// holes whose corners lie on few lines, so that nearly everything coincides, and for shapes that nothing ties.
func TestLookAgreesWithTheArrangement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]int64{4, 9, 1_000_000}).Draw(t, "size")
		shape := func(name string) []arrange.Polygon {
			var rings [][]geo.Pt
			for range rapid.IntRange(1, 3).Draw(t, name) {
				rings = append(rings, rapid.SliceOfN(rapid.Custom(func(t *rapid.T) geo.Pt {
					return geo.Pt{X: rapid.Int64Range(0, size).Draw(t, "x"), Y: rapid.Int64Range(0, size).Draw(t, "y")}
				}), 3, 9).Draw(t, "ring"))
			}
			return arrange.EvenOdd(rings)
		}
		a, b := shape("a"), shape("b")
		box := func(parts []arrange.Polygon) geo.Box {
			out := geo.NoBox()
			for _, p := range parts {
				r := boxOfRing(p[0])
				out.X0, out.Y0, out.X1, out.Y1 = min(out.X0, r.X0), min(out.Y0, r.Y0), max(out.X1, r.X1), max(out.Y1, r.Y1)
			}
			return out
		}
		boxA, boxB := box(a), box(b)
		common := geo.Box{X0: max(boxA.X0, boxB.X0), Y0: max(boxA.Y0, boxB.Y0), X1: min(boxA.X1, boxB.X1), Y1: min(boxA.Y1, boxB.Y1)}
		if common.X0 >= common.X1 || common.Y0 >= common.Y1 {
			return
		}
		got, ok := commonArea(edgesOf(a), edgesOf(b), common, 0)
		want, around := 0.0, 0.0
		for _, p := range arrange.Intersection(a, b) {
			for _, ring := range p {
				want += areaOfParts([]arrange.Polygon{{ring}})
				for i, q := range ring {
					p := ring[(i+len(ring)-1)%len(ring)]
					around += math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
				}
			}
		}
		// The arrangement puts crossings on the grid: every edge may move by half a cell each way, and thin ground vanish, so the
		// difference is bounded by the length of the lines.
		lines := 0.0
		for _, parts := range [][]arrange.Polygon{a, b} {
			for _, p := range parts {
				for _, ring := range p {
					for i, q := range ring {
						p := ring[(i+len(ring)-1)%len(ring)]
						lines += math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y))
					}
				}
			}
		}
		if !ok || math.Abs(got-want) > lines+around {
			t.Fatalf("%v, %v: look %v (%v), arrangement %v, may differ by %v", a, b, got, ok, want, lines+around)
		}
		if whole, ok := commonArea(edgesOf(a), edgesOf(a), boxA, boxA.Y0); !ok || math.Abs(whole-areaOfParts(a)) > 1e-9*(1+whole) {
			t.Fatalf("%v with itself: %v, want %v", a, whole, areaOfParts(a))
		}
	})
}

func areaOfParts(parts []arrange.Polygon) (sum float64) {
	for _, p := range parts {
		for _, ring := range p {
			o, p := ring[0], ring[len(ring)-1]
			for _, q := range ring { // the shoelace formula, from a corner of the ring
				sum += (float64(p.X-o.X)*float64(q.Y-o.Y) - float64(q.X-o.X)*float64(p.Y-o.Y)) / 2
				p = q
			}
		}
	}
	return sum
}

// BenchmarkOverlaps20000 is twenty thousand fields, forty of them at every place: some 8 million pairs of boxes meet, a million of
// which are looked at.
func BenchmarkOverlaps20000(b *testing.B) { benchmarkOverlaps(b, 20_000) }

// BenchmarkOverlaps2000 is a tenth of it, at the same density: a tenth of the time, where no step is quadratic.
func BenchmarkOverlaps2000(b *testing.B) { benchmarkOverlaps(b, 2_000) }

func benchmarkOverlaps(b *testing.B, n int) {
	files := fstest.MapFS{"f.geojson": {Data: []byte(crowd(n, 40))}}
	fields, err := Read(context.Background(), []Source{{Name: "f.geojson", Files: files, Path: "f.geojson"}}, Options{}, &diag.List{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		var faults diag.List
		if err := tellOverlaps(context.Background(), fields, 0, &faults); err != nil || faults.Notices() < n {
			b.Fatal(err, faults.Notices())
		}
	}
}

// TestLookAtRealPolygons: what two neighbours of a real survey share is decided as the exact area decides it.
func TestLookAtRealPolygons(t *testing.T) {
	const shp = "ssurgo-ar017/spatial/soilmu_a_ar017.shp"
	if _, err := os.Stat(data + "/" + shp); err != nil {
		t.Skipf("real survey absent: %v", err)
	}
	fields, err := Read(t.Context(), []Source{{Name: shp, Files: os.DirFS(data), Path: shp}}, Options{}, &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	boxes := make([]geo.Box, len(fields))
	for i := range fields {
		boxes[i] = boxOf(fields[i].Shape)
	}
	pairs, _ := pairsThatMeet(boxes)
	sure := 0
	for _, p := range pairs[:min(len(pairs), 150)] {
		a, b := onGrid(fields[p[0]].Shape), onGrid(fields[p[1]].Shape)
		for i := range a { // one of them a third of a field to the east, so that neighbours overlap
			for _, ring := range a[i] {
				for k := range ring {
					ring[k].X += 1_000_000
				}
			}
		}
		boxA := boxes[p[0]]
		boxA.X0, boxA.X1 = boxA.X0+1_000_000, boxA.X1+1_000_000
		if !boxA.Meets(&boxes[p[1]]) {
			continue
		}
		found, exact := look(edgesOf(a), edgesOf(b), boxA, boxes[p[1]]), overlap(a, b, boxA, boxes[p[1]])
		if found != unsure {
			sure++
			if (found == overlapping) != (exact >= minOverlap) {
				t.Errorf("fields %s and %s: look %v, exact %v m²", fields[p[0]].ID, fields[p[1]].ID, found, exact)
			}
		}
	}
	if sure < 30 {
		t.Errorf("only %d of the pairs were decided at a look", sure)
	}
}
