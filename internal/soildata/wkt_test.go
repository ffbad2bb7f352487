package soildata

import (
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"
)

// The coordinates have the 15 digits that the service writes.
func TestShapes(t *testing.T) {
	ring := orb.Ring{{-72.2368652120543, 43.6846036511679}, {-72.2, 43.6}, {-72.1, 43.7}, {-72.2368652120543, 43.6846036511679}}
	text := "((-72.2368652120543 43.6846036511679, -72.2 43.6, -72.1 43.7, -72.2368652120543 43.6846036511679))"
	for in, want := range map[string]orb.MultiPolygon{
		"POLYGON " + text: {{ring}},
		"polygon" + text:  {{ring}},
		" MULTIPOLYGON (" + text + "," + text + ") ":                                    {{ring}, {ring}},
		"GEOMETRYCOLLECTION (POLYGON " + text + ", LINESTRING (1 2, 3 4), POINT (1 2))": {{ring}},
		"GEOMETRYCOLLECTION (MULTIPOLYGON (" + text + "), GEOMETRYCOLLECTION EMPTY)":    {{ring}},
		"POLYGON EMPTY":                        nil,
		"GEOMETRYCOLLECTION EMPTY":             nil,
		"POLYGON ((0 0, 1E-05 0, 0 1.0, 0 0))": {{{{0, 0}, {1e-5, 0}, {0, 1}, {0, 0}}}},
	} {
		got, err := parseWKT(in)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, %v, want %v", in, got, err, want)
		}
	}
}

func TestShapesRefused(t *testing.T) {
	for in, says := range map[string]string{
		"":                                              "no shape known",
		"POINT (1 2)":                                   "no polygon",
		"POLYGON ((0 0, 1 0, 0 1))":                     "not closed",
		"POLYGON ((0 0, 1 0, 0 0))":                     "fewer than three",
		"POLYGON ((0 0, 1 0, 0 1, 0 0)) x":              "text behind",
		"POLYGON ((0 0, 1 0, 0 91, 0 0))":               `"91"`,
		"POLYGON ((0 0, NaN 0, 0 1, 0 0))":              "not a number",
		"POLYGON ((0 0, 0x1 0, 0 1, 0 0))":              "not a number",
		"POLYGON ((0 0 5, 1 0 5, 0 1 5, 0 0 5))":        "expected",
		"POLYGON ((0 0, 1 0, 0 1, 0 0":                  "expected",
		"CURVEPOLYGON ((0 0, 1 0, 0 1, 0 0))":           "no shape known",
		strings.Repeat("GEOMETRYCOLLECTION (", 100_000): "too deep",
		"GEOMETRYCOLLECTION (POINT (1 2)":               "expected",
	} {
		if got, err := parseWKT(in); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.60q: %v, %v, want %q", in, got, err, says)
		}
	}
}

// FuzzShape: what is read and written on the grid is read back by another reader (orb) to the same, rounded.
func FuzzShape(f *testing.F) {
	for _, s := range []string{"POLYGON ((0 0, 1 0, 0 1, 0 0))", "MULTIPOLYGON (((0 0, 1 0, 0 1, 0 0)), ((5 5, 6 5, 5 6, 5 5)))",
		"GEOMETRYCOLLECTION (POINT (1 2))", "POLYGON EMPTY", "((((", "POLYGON ((1e-9 0, 1 0, 0 1, 1e-9 0))"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		shape, err := parseWKT(s)
		if err != nil || len(shape) == 0 {
			return
		}
		text := string(appendWKT(nil, shape))
		ours, err := parseWKT(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		theirs, err := wkt.UnmarshalMultiPolygon(text)
		if err != nil || !reflect.DeepEqual(ours, theirs) {
			t.Errorf("%s: %v, orb reads %v, %v", text, ours, theirs, err)
		}
		if again := string(appendWKT(nil, ours)); again != text {
			t.Errorf("%s is written as %s", text, again)
		}
	})
}
