package overlay

import (
	"context"
	"errors"
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/arrange"
)

// squares is a survey of n×n squares of 100 m, with keys that repeat.
func squares(t testing.TB, n int) *Coverage {
	c := New()
	for i := range n {
		for j := range n {
			x, y := float64(i)*100, float64(j)*100
			if err := c.Add(uint32((i+j)%5), orb.MultiPolygon{{{{x, y}, {x + 100, y}, {x + 100, y + 100}, {x, y + 100}, {x, y}}}}); err != nil {
				t.Fatal(err)
			}
		}
	}
	return c
}

// endless yields the same field for ever, and counts how often.
func endless(field orb.MultiPolygon, count *int) func(func(int, orb.MultiPolygon) bool) {
	return func(yield func(int, orb.MultiPolygon) bool) {
		for yield(*count, field) {
			*count++
		}
	}
}

func TestRunStops(t *testing.T) {
	c := squares(t, 10)
	field := orb.MultiPolygon{{{{50, 50}, {950, 60}, {940, 950}, {60, 940}, {50, 50}}}}
	stop := errors.New("enough")
	for _, workers := range []int{1, 3} {
		n, given := 0, 0
		err := c.Run(context.Background(), endless(field, &n), Options{Workers: workers}, func(Cut) error {
			if given++; given == 100 {
				return stop
			}
			return nil
		})
		if !errors.Is(err, stop) || given != 100 {
			t.Errorf("%d workers: %v after %d cuts, want the error of emit after 100", workers, err, given)
		}
		if n > 100+batch*(6*workers+2) {
			t.Errorf("%d workers: %d fields were read for 100 cuts", workers, n)
		}
		why := errors.New("told to stop")
		ctx, cancel := context.WithCancelCause(context.Background())
		n, given = 0, 0
		var since time.Time
		err = c.Run(ctx, endless(field, &n), Options{Workers: workers}, func(Cut) error {
			if given++; given == 50 {
				cancel(why)
				since = time.Now()
			}
			return nil
		})
		if !errors.Is(err, why) || given != 50 {
			t.Errorf("%d workers: %v after %d cuts, want the cause of cancelling after 50", workers, err, given)
		}
		if took := time.Since(since); took > 5*time.Second { // 0.1 s where the machine has time
			t.Errorf("%d workers: stopped %v after it was told to", workers, took)
		}
	}
	if before := runtime.NumGoroutine(); before > 20 {
		t.Errorf("%d goroutines are left", before)
	}
}

// TestRunOrder checks that cuts and progress come in the order of the fields, and are the same for any number of
// workers.
func TestRunOrder(t *testing.T) {
	c := squares(t, 12)
	var fields []orb.MultiPolygon
	for i := range 500 {
		x, y := float64(i%23)*37, float64(i%19)*41
		fields = append(fields, orb.MultiPolygon{{{{x, y}, {x + 250, y + 13}, {x + 90, y + 170}, {x, y}}}})
	}
	var first []Cut
	for _, workers := range []int{1, 2, 7} {
		last := 0
		opt := Options{Workers: workers, Dissolve: true, Boundary: true, Progress: func(done int) {
			if done != last+1 {
				t.Errorf("progress went from %d to %d", last, done)
			}
			last = done
		}}
		cuts := runAll(t, c, fields, opt)
		for i, cut := range cuts {
			if cut.Field != i {
				t.Fatalf("cut %d is of field %d", i, cut.Field)
			}
			checkCut(t, cut)
		}
		if first == nil {
			first = cuts
		} else if !reflect.DeepEqual(first, cuts) {
			t.Errorf("%d workers change the result", workers)
		}
		if last != len(fields) {
			t.Errorf("progress ended at %d", last)
		}
	}
}

// TestReuse checks that shapes are whole until emit returns, with memory that is used again.
func TestReuse(t *testing.T) {
	c := squares(t, 12)
	var fields []orb.MultiPolygon
	for i := range 700 {
		x, y := float64(i%23)*37, float64(i%19)*41
		size := 20 + float64(i%7)*60
		fields = append(fields, orb.MultiPolygon{{{{x, y}, {x + size, y + 13}, {x + 90, y + size}, {x, y}}}})
	}
	want := runAll(t, c, fields, Options{})
	for _, workers := range []int{1, 3} {
		i := 0
		err := c.Run(context.Background(), sequence(fields), Options{Workers: workers, Reuse: true}, func(cut Cut) error {
			if !reflect.DeepEqual(cut, want[i]) {
				t.Errorf("%d workers: field %d differs", workers, i)
			}
			i++
			return nil
		})
		if err != nil || i != len(fields) {
			t.Errorf("%d workers: %d cuts, %v", workers, i, err)
		}
	}
}

// TestDissolve checks that pieces of one key become one, without a line between them and without loss of ground.
func TestDissolve(t *testing.T) {
	c := squares(t, 10)
	field := []orb.MultiPolygon{{{{{50, 50}, {950, 60}, {940, 950}, {60, 940}, {50, 50}}}}}
	apart, joined := runAll(t, c, field, Options{})[0], runAll(t, c, field, Options{Dissolve: true})[0]
	want := map[uint32]float64{}
	for _, p := range apart.Pieces {
		want[p.Key] += p.Area
	}
	if len(joined.Pieces) != len(want) {
		t.Errorf("%d pieces for %d keys", len(joined.Pieces), len(want))
	}
	for _, p := range joined.Pieces {
		checkShape(t, p.Shape)
		if math.Abs(p.Area-want[p.Key]) > 1e-9*p.Area || p.Polygon != -1 {
			t.Errorf("key %d: %v m² of polygon %d, want %v of -1", p.Key, p.Area, p.Polygon, want[p.Key])
		}
	}
	two := New()
	for k := range 2 {
		x := float64(k) * 100
		two.Add(9, orb.MultiPolygon{{{{x, 0}, {x + 100, 0}, {x + 100, 100}, {x, 100}, {x, 0}}}})
	}
	cut := runAll(t, two, []orb.MultiPolygon{{{{{10, 10}, {190, 10}, {190, 90}, {10, 90}, {10, 10}}}}}, Options{Dissolve: true})[0]
	if len(cut.Pieces) != 1 || len(cut.Pieces[0].Shape) != 1 || cut.Pieces[0].Area != 180*80 {
		t.Errorf("two halves make %+v", cut.Pieces)
	}
}

// TestDissolveOverlap checks that ground which polygons of one key cover twice counts once, and only what two keys cover
// counts as doubled.
func TestDissolveOverlap(t *testing.T) {
	box := func(x0, x1 float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{x0, 0}, {x1, 0}, {x1, 100}, {x0, 100}, {x0, 0}}}}
	}
	c := New()
	for _, p := range []struct {
		key    uint32
		x0, x1 float64
	}{{1, 0, 100}, {1, 60, 160}, {1, 0, 100}, {2, 150, 200}} {
		c.Add(p.key, box(p.x0, p.x1))
	}
	field := []orb.MultiPolygon{box(10, 250)}
	for _, opt := range []Options{{Dissolve: true}, {Dissolve: true, Gaps: true}} {
		cut := runAll(t, c, field, opt)[0]
		checkCut(t, cut)
		if len(cut.Pieces) != 2 || cut.Pieces[0].Area != 150*100 || cut.Doubled != 10*100 || cut.Uncovered != 50*100 {
			t.Errorf("%+v: %d pieces, the first of %v m²; %v doubled, %v uncovered; want 2, 15000, 1000, 5000", opt, len(cut.Pieces), cut.Pieces[0].Area, cut.Doubled, cut.Uncovered)
		}
	}
	if cut := runAll(t, c, field, Options{})[0]; cut.Doubled != (10+40+90)*100 {
		t.Errorf("apart: %v doubled, want 14000", cut.Doubled)
	}
}

// TestTouchingIsNoFault: a hole that touches its outer ring, or another hole, in one point is valid; there is nothing to
// tell of it. Source: OGC Simple Features 06-103r4, 6.1.11.1, assertion d.
func TestTouchingIsNoFault(t *testing.T) {
	c := New()
	c.Add(1, orb.MultiPolygon{{{{0, 0}, {30, 0}, {30, 30}, {0, 30}, {0, 0}}, {{0, 10}, {10, 20}, {10, 10}, {0, 10}}, {{10, 10}, {20, 10}, {20, 0.5}, {10, 10}}}})
	if all := c.Repairs(); len(all) > 0 {
		t.Errorf("it says %+v", all)
	}
	c.Add(1, orb.MultiPolygon{{{{0, 0}, {30, 30}, {30, 0}, {0, 30}, {0, 0}}}})
	if all := c.Repairs(); len(all) != 1 || all[0].Number != 1 || all[0].Kind != arrange.Crossing {
		t.Errorf("a bow tie: it says %+v", all)
	}
}

// TestBadNumbers checks that a survey refuses what has no place on the grid, and a field does without it and says so.
func TestBadNumbers(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e12} {
		for at := range 5 {
			ring := orb.Ring{{0, 0}, {100, 0}, {100, 100}, {50, 120}, {0, 100}, {0, 0}}
			ring[at][at%2] = bad
			c := New()
			if err := c.Add(1, orb.MultiPolygon{{ring}}); err == nil || c.Len() != 0 {
				t.Errorf("point %d of %v: no error, %d polygons", at, ring, c.Len())
			}
			c = squares(t, 2)
			cut := runAll(t, c, []orb.MultiPolygon{{{ring}}}, Options{})[0]
			checkCut(t, cut)
			if cut.Repair == nil || cut.Repair.Dropped != 1 || cut.Repair.Kind != arrange.Valid || !(cut.Area > 0) {
				t.Errorf("a field with %v: %+v", bad, cut)
			}
		}
	}
	cut := runAll(t, New(), []orb.MultiPolygon{nil, {{}}, {{{}}}, shape(t, "box 0 0 1 1", 1)}, Options{})
	if len(cut) != 4 || cut[3].Uncovered != 1 {
		t.Errorf("an empty survey: %+v", cut)
	}
}

// TestTakeAll checks that adding on several goroutines gives what adding one by one gives.
func TestTakeAll(t *testing.T) {
	all := manyShapes()
	keys := make([]uint32, len(all))
	for i := range keys {
		keys[i] = uint32(i % 5)
	}
	want := runAll(t, coverageOf(t, all, keys), all[:100], Options{})
	for _, workers := range []int{1, 2, 7} {
		c := New()
		for from := 0; from < len(all); from += 1000 {
			to := min(from+1000, len(all))
			if err := c.TakeAll(keys[from:to], cloned(all[from:to]), workers); err != nil {
				t.Fatal(err)
			}
		}
		if got := runAll(t, c, all[:100], Options{}); !reflect.DeepEqual(got, want) {
			t.Errorf("%d workers change the coverage", workers)
		}
		all[1234][0][0][1][0] = math.NaN()
		if err := c.TakeAll(keys, cloned(all), workers); err == nil || c.Len() != len(all) {
			t.Errorf("%v, %d polygons", err, c.Len())
		}
		all[1234][0][0][1] = all[1234][0][0][0]
	}
}

// cloned returns a copy that may be given away.
func cloned(shapes []orb.MultiPolygon) []orb.MultiPolygon {
	shapes = slices.Clone(shapes)
	for i := range shapes {
		shapes[i] = shapes[i].Clone()
	}
	return shapes
}

// TestRepairs checks that what was wrong is told, with its area before and after.
func TestRepairs(t *testing.T) {
	c := coverageOf(t, []orb.MultiPolygon{shape(t, "box 0 0 9 9", 1), shape(t, "0,0 4,4 4,0 0,4", 1), shape(t, "box 0 0 4 4 / box 1 1 2 2", 1)}, []uint32{1, 2, 3})
	r := c.Repairs()
	if len(r) != 1 || r[0].Number != 1 || r[0].Before != 0 || r[0].After != 8 || r[0].Kind != arrange.Crossing || r[0].At == (orb.Point{}) {
		t.Errorf("repairs %+v", r)
	}
	var tangle orb.Ring
	for i := range 3000 {
		tangle = append(tangle, orb.Point{float64(i % 2 * 1000), float64(i * 7919 % 3000)})
	}
	tangled := runAll(t, c, []orb.MultiPolygon{{{append(tangle, tangle[0])}}}, Options{})[0]
	if tangled.Repair == nil || !tangled.Repair.Tangled || tangled.Area != 0 {
		t.Errorf("a tangle: %+v, area %v", tangled.Repair, tangled.Area)
	}
	cut := runAll(t, c, []orb.MultiPolygon{shape(t, "0,0 4,4 4,0 0,4", 1)}, Options{})[0]
	if cut.Repair == nil || cut.Repair.After != 8 || cut.Area != 8 {
		t.Errorf("field: %+v, area %v", cut.Repair, cut.Area)
	}
}
