package feature

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestJSONOfEachKind(t *testing.T) {
	for _, tc := range []struct {
		v    any
		want string
	}{
		{nil, "null"}, {"é <&> \"", `"é <&> \""`}, {"a\xffb", `"a` + "\ufffd" + `b"`}, {true, "true"}, {int64(-7), "-7"},
		{uint64(math.MaxUint64), "18446744073709551615"}, {12.5, "12.5"}, {0.1, "0.1"}, {1e-7, "0.0000001"}, {1e-12, "1e-12"}, {1e300, "1e+300"},
		{math.NaN(), "null"}, {math.Inf(-1), "null"}, {[]byte("x"), "null"},
	} {
		if got := JSON(tc.v); string(got) != tc.want || !json.Valid(got) {
			t.Errorf("%#v: got %s, want %s", tc.v, got, tc.want)
		}
	}
}

// Shortest digits still tell every float64 from its neighbours.
func TestNumbersComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		var back float64
		if err := json.Unmarshal(JSON(v), &back); err != nil || back != v {
			t.Fatalf("%v came back as %v, %v", v, back, err)
		}
	})
}

func TestTextAndLabel(t *testing.T) {
	f := Feature{Index: 4, ID: strings.Repeat("é", 50), Properties: []Property{{"a", JSON(nil)}, {"MuKey", JSON("12")}, {"n", json.RawMessage("1.50")}}}
	if f.Text("a") != "" || f.Text("mukey") != "12" || f.Text("N") != "1.50" || f.Text("other") != "" {
		t.Errorf("texts %q %q %q %q", f.Text("a"), f.Text("mukey"), f.Text("N"), f.Text("other"))
	}
	if want := `feature 5, id "` + strings.Repeat("é", 40) + `…"`; f.Label() != want {
		t.Errorf("label %s, want %s", f.Label(), want)
	}
}

func TestCheck(t *testing.T) {
	cols := []Column{{Name: "t"}, {Name: "i", Type: Integer}, {Name: "r", Type: Real}, {Name: "b", Type: Bool}, {Name: "d", Type: Date}}
	got, err := Check(cols, []any{"x\xff", 3, 4, true, "2024-09-15"}, nil)
	if err != nil || got[0] != "x\ufffd" || got[1] != int64(3) || got[2] != 4.0 || got[3] != true || got[4] != "2024-09-15" {
		t.Errorf("got %v, %v", got, err)
	}
	if got, err := Check(cols, []any{nil, nil, nil, nil, nil}, got); err != nil || got[0] != nil {
		t.Errorf("got %v, %v", got, err)
	}
	for i, bad := range []any{1, 1.5, math.NaN(), "true", "15.9.2024"} {
		values := []any{nil, nil, nil, nil, nil}
		values[i] = bad
		if _, err := Check(cols, values, nil); err == nil || !strings.HasPrefix(err.Error(), "column "+cols[i].Name+": ") {
			t.Errorf("%v: got %v", bad, err)
		}
	}
	if _, err := Check(cols, []any{1}, nil); err == nil {
		t.Error("a short row is taken")
	}
	for _, bad := range [][]Column{{{Name: " "}}, {{Name: "a"}, {Name: "A"}}, {{Name: "a", Type: 9}}} {
		if CheckColumns(bad) == nil {
			t.Errorf("%v is taken", bad)
		}
	}
	for _, ty := range Types() {
		if err := CheckColumns([]Column{{Name: "a", Type: ty}}); err != nil || strings.HasPrefix(ty.String(), "type ") {
			t.Errorf("%v: %v", ty, err)
		}
	}
}

// The caller's shape is not changed.
func TestReady(t *testing.T) {
	in := orb.MultiPolygon{{{{0, 0}, {0, 9}, {9, 9}}, {{1, 2}, {2, 3}, {1, 3}, {1, 2}}}, {}}
	before := in.Clone()
	got, err := Ready(in)
	want := orb.MultiPolygon{{{{0, 0}, {9, 9}, {0, 9}, {0, 0}}, {{1, 2}, {1, 3}, {2, 3}, {1, 2}}}}
	if err != nil || !got.Equal(want) || !in.Equal(before) {
		t.Errorf("got %v, %v, want %v; input now %v", got, err, want, in)
	}
	for _, bad := range []orb.Ring{{{0, 0}, {1, 1}, {0, 0}}, {{0, 0}, {math.NaN(), 1}, {1, 0}}, {}} {
		if got, err := Ready(orb.MultiPolygon{{bad}}); err == nil {
			t.Errorf("%v is taken as %v", bad, got)
		}
	}
	if b, ok := Bound(want); !ok || b != (orb.Bound{Max: orb.Point{9, 9}}) {
		t.Errorf("bound %v %v", b, ok)
	}
	if _, ok := Bound(nil); ok {
		t.Error("nothing has a bound")
	}
}
