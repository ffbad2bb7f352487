package change

import (
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// drawn is a run of rectangles, one zone each: id, west, east (in thousandths of a degree), all from south to north of the same strip.
func drawn(list ...any) *suitability.Result {
	r := &suitability.Result{}
	for i := 0; i < len(list); i += 3 {
		id, west, east := list[i].(string), -91+float64(list[i+1].(int))/1000, -91+float64(list[i+2].(int))/1000
		shape := orb.MultiPolygon{{{{west, 33}, {east, 33}, {east, 33.004}, {west, 33.004}, {west, 33}}}}
		r.Fields = append(r.Fields, suitability.Field{ID: id, Shape: shape, Zones: []int{len(r.Zones)}})
		r.Zones = append(r.Zones, suitability.Zone{ID: id + "/1", FieldID: id, Shape: shape})
	}
	return r
}

// Fields are looked for on the ground.
func TestFieldsAreFoundOnTheGround(t *testing.T) {
	for name, tc := range map[string]struct {
		a, b *suitability.Result
		want string
	}{
		"the same":            {drawn("A", 0, 10, "B", 10, 20), drawn("A", 0, 10, "B", 10, 20), "[A A] [B B]"},
		"in another order":    {drawn("A", 0, 10, "B", 10, 20), drawn("B", 10, 20, "A", 0, 10), "[A A] [B B]"},
		"another name":        {drawn("A", 0, 10), drawn("North", 0, 10), "[A North]"},
		"numbers moved by 1":  {drawn("1", 0, 10, "2", 10, 20, "3", 20, 30), drawn("1", 10, 20, "2", 20, 30), "[1 ] [2 1] [3 2]"},
		"moved, and sloppy":   {drawn("1", 0, 10, "2", 10, 20), drawn("1", 9, 20), "[1 ] [2 1]"},
		"split in two":        {drawn("A", 0, 10), drawn("A1", 0, 6, "A2", 6, 10), "[A A1+A2]"},
		"split, one keeps id": {drawn("A", 0, 10), drawn("A2", 0, 6, "A", 6, 10), "[A A2+A]"},
		"joined from three":   {drawn("A", 0, 10, "B", 10, 20, "C", 20, 30), drawn("All", 0, 30), "[A+B+C All]"},
		"gone":                {drawn("A", 0, 10, "B", 10, 20), drawn("A", 0, 10), "[A A] [B ]"},
		"new":                 {drawn("A", 0, 10), drawn("Z", 50, 60, "A", 0, 10), "[A A] [ Z]"},
		"one id, other place": {drawn("A", 0, 10), drawn("A", 50, 60), "[A ] [ A]"},
		"corrected by much":   {drawn("A", 0, 10), drawn("A", 7, 30), "[A A]"},
		"nothing":             {drawn(), drawn(), ""},
	} {
		c := mustCompare(t, tc.a, tc.b)
		got := ""
		for i := range c.Fields {
			f := &c.Fields[i]
			if i > 0 {
				got += " "
			}
			got += "[" + ids(tc.a, f.A) + " " + ids(tc.b, f.B) + "]"
		}
		if got != tc.want {
			t.Errorf("%s: %s, want %s", name, got, tc.want)
		}
		if swapped := mustCompare(t, tc.b, tc.a); len(swapped.Fields) != len(c.Fields) {
			t.Errorf("%s: exchanged there are %d groups", name, len(swapped.Fields))
		}
	}
}

func ids(r *suitability.Result, list []int) (out string) {
	for i, f := range list {
		if i > 0 {
			out += "+"
		}
		out += r.Fields[f].ID
	}
	return out
}

// What lies between a line and the same line drawn again half a metre off is no ground that was won; a strip of the same area that a
// spreader can go along is.
func TestSlivers(t *testing.T) {
	metre := 1 / (111320 * math.Cos(33*math.Pi/180)) // of longitude, near enough
	for _, tc := range []struct {
		metres float64
		told   bool
	}{{0.5, false}, {0.9, false}, {1.2, true}, {10, true}} {
		a := drawn("A", 0, 10)
		b := drawn("A", 0, 10)
		for _, ring := range [][]orb.Point{b.Fields[0].Shape[0][0], b.Zones[0].Shape[0][0]} {
			for i := range ring {
				if ring[i][0] > -90.995 {
					ring[i] = orb.Point{-90.99 + tc.metres*metre, ring[i][1]}
				}
			}
		}
		s := mustCompare(t, a, b).Sum()
		want := tc.metres * 444 // the strip is 0.004 degrees of latitude long
		if told := s.Only[1] > 0; told != tc.told || math.Abs(float64(s.Only[1]+s.Small)-want) > 0.02*want {
			t.Errorf("a line %g m off: %v m² told, %v small, want %.0f", tc.metres, s.Only[1], s.Small, want)
		}
	}
	a, b := drawn("A", 0, 10), drawn("A", 0, 10) // a corner of 13 m by 13 m cut off: under a twentieth of an acre
	for _, ring := range []*orb.Ring{&b.Fields[0].Shape[0][0], &b.Zones[0].Shape[0][0]} {
		*ring = append(orb.Ring{{-91, 33}, {-90.99, 33}, {-90.99, 33.004}, {-91 + 13*metre, 33.004}, {-91, 33.004 - 13.0/111000}}, orb.Point{-91, 33})
	}
	if s := mustCompare(t, a, b).Sum(); s.Only[0] > 0 || math.Abs(float64(s.Small)-13*13/2) > 2 {
		t.Errorf("a corner: %v m² told, %v small", s.Only[0], s.Small)
	}
}

// A field drawn within another one is ground that its run has twice. Beside itself the run has not changed; beside a run without it, its ground
// counts twice on that side and the sums say so.
func TestAFieldWithinAField(t *testing.T) {
	both, outer := drawn("Farm", 0, 10, "Inner", 2, 5), drawn("Farm", 0, 10)
	if s := mustCompare(t, both, both).Sum(); s.Small+s.Only[0]+s.Only[1] > 0 || len(s.Turns) > 0 {
		t.Errorf("beside itself: %+v", s)
	}
	c := mustCompare(t, both, outer)
	if len(c.Fields) != 1 {
		t.Fatalf("%d groups", len(c.Fields))
	}
	f := &c.Fields[0]
	inner := float64(f.Doubled[1])
	if want := float64(f.Areas[1]) * 0.3; math.Abs(inner-want) > 1e-3*want || f.Doubled[0] != 0 {
		t.Errorf("doubled %v m², want %.0f of the second run alone", f.Doubled, want)
	}
	for run := range 2 {
		if got, want := float64(f.sumOf(run)+f.Crumbs[run]), float64(f.Areas[run]+f.Doubled[run]); math.Abs(got-want) > 1e-6*want {
			t.Errorf("run %d: pairs %.2f m², want %.2f", run, got, want)
		}
	}
}
