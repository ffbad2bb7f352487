package shapefile

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
)

func ringsFrom(rs ...orb.Ring) *Rings {
	out := &Rings{}
	for _, r := range rs {
		for _, p := range r {
			out.XY = append(out.XY, p[0], p[1])
		}
		out.Ends = append(out.Ends, int32(len(out.XY)/2))
	}
	return out
}

// TestRingsAreSortedByWhatTheyHold: a field with a pond, an island in the pond, and a second part, with every way
// of turning the rings that files in the wild show.
func TestRingsAreSortedByWhatTheyHold(t *testing.T) {
	field, pond, island, second := square(0, 0, 10), square(2, 2, 6), square(4, 4, 2), square(20, 0, 5)
	cw := reversed
	want := orb.MultiPolygon{{field, cw(pond)}, {island}, {second}}
	for name, rings := range map[string][]orb.Ring{
		"as the format says":          {cw(field), pond, cw(island), cw(second)},
		"all the wrong way":           {field, cw(pond), island, second},
		"all clockwise":               {cw(field), cw(pond), cw(island), cw(second)},
		"all counter-clockwise":       {field, pond, island, second},
		"hole before its outer ring":  {cw(field), cw(island), pond, cw(second)},
		"second part wrongly as hole": {cw(field), pond, cw(island), second},
	} {
		got := ringsFrom(rings...).MultiPolygon()
		if !sameParts(got, want) {
			t.Errorf("%s: got %v, want %v", name, got, want)
		}
	}
}

// sameParts compares without regard to where rings start (turning a ring moves no point, but starts it elsewhere).
func sameParts(a, b orb.MultiPolygon) bool {
	canon := func(mp orb.MultiPolygon) map[string]bool {
		out := map[string]bool{}
		for _, p := range mp {
			s := ""
			for _, r := range p {
				s += fmt.Sprint(r.Bound(), r.Orientation(), len(r), ";")
			}
			out[s] = true
		}
		return out
	}
	return len(a) == len(b) && reflect.DeepEqual(canon(a), canon(b))
}

// Rings as files have them where the rules of the format do not tell what is a hole.
func TestOddRings(t *testing.T) {
	cw := reversed
	for name, tc := range map[string]struct {
		in          []orb.Ring
		parts, ring int // parts, and rings of the first
	}{
		"hole that touches its outer ring in a corner": {[]orb.Ring{cw(square(0, 0, 10)), cw(square(20, 0, 1)), square(0, 0, 2)}, 2, 2},
		"hole outside becomes a part":                  {[]orb.Ring{cw(square(0, 0, 10)), square(30, 0, 2)}, 2, 1},
		"the same ring twice stays twice":              {[]orb.Ring{cw(square(0, 0, 10)), cw(square(0, 0, 10))}, 2, 1},
		"two fields with a common edge":                {[]orb.Ring{cw(square(0, 0, 10)), cw(square(10, 0, 5))}, 2, 1},
		"ring without area":                            {[]orb.Ring{cw(square(0, 0, 10)), {{1, 1}, {2, 2}, {1, 1}}}, 2, 1},
		"ring of one point":                            {[]orb.Ring{{{1, 1}}}, 1, 1},
		"empty ring":                                   {[]orb.Ring{cw(square(0, 0, 10)), {}}, 1, 1},
		"hole filling its outer ring to three sides":   {[]orb.Ring{square(0, 0, 10), {{0, 0}, {10, 0}, {10, 10}, {5, 5}, {0, 10}, {0, 0}}}, 1, 2},
	} {
		got := ringsFrom(tc.in...).MultiPolygon()
		if len(got) != tc.parts || len(got[0]) != tc.ring {
			t.Errorf("%s: got %v, want %d parts, %d rings in the first", name, got, tc.parts, tc.ring)
		}
	}
}

// TestNestingIsBounded: 60,000 holes in a saw of 60,000 teeth. The second saw keeps the plain case from being
// believed; sorting all by containment would take 3.6e9 looks at edges.
func TestNestingIsBounded(t *testing.T) {
	saw := orb.Ring{}
	for i := range 30000 {
		saw = append(saw, orb.Point{float64(i), 10}, orb.Point{float64(i) + .5, 9})
	}
	saw = append(saw, orb.Point{30000, 0}, orb.Point{0, 0}, orb.Point{0, 10})
	rings := []orb.Ring{reversed(square(-10, 0, 1)), saw}
	for i := range 60000 {
		rings = append(rings, square(float64(i)/2+.1, 1, .2))
	}
	r := newRing(ringsFrom(saw).Ring(0))
	budget := 10
	if r.side(1e9, 1e9, &budget); budget >= 0 {
		t.Fatalf("looking at a ring of %d points leaves budget %d of 10", len(saw), budget)
	}
	got := ringsFrom(rings...).MultiPolygon()
	if len(got) != 2 || len(got[1]) != 60001 {
		t.Errorf("got %d parts, second with %d rings", len(got), len(got[1]))
	}
}
