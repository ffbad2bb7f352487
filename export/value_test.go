package export

import (
	"encoding/json"
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
)

// Four decimals for figures, no exponent at any size, no minus before zero, and nothing where there is no number: an empty cell in a table,
// null in JSON.
func TestNumbersAreWrittenPlainly(t *testing.T) {
	for _, c := range []struct {
		v    Value
		want string
	}{
		{figure(1.35036), "1.3504"}, {figure(2.5), "2.5"}, {figure(-0.00001), "0"}, {figure(0), "0"}, {figure(1e21), "1000000000000000000000"},
		{figure(100), "100"}, {number(1.0/3, Exact), "0.3333333333333333"}, {number(1e-9, Exact), "0.000000001"}, {number(19766.6, 0), "19767"},
		{whole(1200), "1200"}, {maybe(unit.None[unit.PH]()), ""}, {maybe(unit.Some(unit.PH(0))), "0"},
		{figure(math.NaN()), ""}, {figure(math.Inf(-1)), ""}, {text(""), ""},
	} {
		if got := c.v.cell(); got != c.want {
			t.Errorf("cell of %+v = %q, want %q", c.v, got, c.want)
		}
		wantJSON := c.want
		if c.want == "" {
			wantJSON = "null"
		}
		if got := string(c.v.json(nil)); got != wantJSON {
			t.Errorf("JSON of %+v = %q, want %q", c.v, got, wantJSON)
		}
	}
}

// Formats with numbers of their own take the rounded value, so that no two files of a run differ.
func TestFloatIsWhatIsWritten(t *testing.T) {
	if x, ok := figure(1.35036).Float(); !ok || x != 1.3504 {
		t.Errorf("Float = %v, %v; want the written 1.3504", x, ok)
	}
	if _, ok := text("7").Float(); ok {
		t.Error("text has a Float")
	}
}

// What runs as a formula is common practice, no source: = + - @, tab and carriage return at the beginning of a cell.
func TestFormulaGuard(t *testing.T) {
	for in, want := range map[string]string{
		"=1+1": "'=1+1", "+A1": "'+A1", "-cmd": "'-cmd", "@SUM(A1)": "'@SUM(A1)", "\tx": "'\tx", "\rx": "'\rx",
		"-1.5": "-1.5", "+12": "+12", "-Inf": "'-Inf", "-1e5": "'-1e5", "-0x1p4": "'-0x1p4", "North": "North", "é=": "é=", "'=1": "'=1",
	} {
		if got := guarded(in); got != want {
			t.Errorf("cell of %q = %q, want %q", in, got, want)
		}
		if got := text(in).Text(); got != in {
			t.Errorf("Text of %q = %q, want it unguarded", in, got)
		}
	}
}

// encoding/json is the second reader of what appendString writes.
func TestStringsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.String().Draw(t, "s")
		var out string
		if err := json.Unmarshal(appendString(nil, in), &out); err != nil || out != in {
			t.Fatalf("%q reads back as %q, %v", in, out, err)
		}
	})
	for _, in := range []string{"\xff\xfe", "a\u2028b", "</script>&", "\x00\x1f\x7f"} {
		b := appendString(nil, in)
		if !json.Valid(b) {
			t.Errorf("%q is written as %s, which is not JSON", in, b)
		}
	}
	if got := string(appendString(nil, "<&>")); got != `"<&>"` {
		t.Errorf("got %s, want the text left readable", got)
	}
}

// strconv is the slow twin.
func TestCoordinatesAreTheShortestForm(t *testing.T) {
	check := func(n int64) {
		x := float64(n) / coordScale
		if got, want := string(appendCoordinate(nil, x)), strconv.FormatFloat(x, 'f', -1, 64); got != want {
			t.Fatalf("%d steps: got %s, want %s", n, got, want)
		}
	}
	for _, n := range []int64{0, 1, -1, 10, -10, 9999999, 10000000, -10000001, 1800000000, -1800000000, 900000000} {
		check(n)
	}
	rapid.Check(t, func(t *rapid.T) { check(rapid.Int64Range(-1.8e9, 1.8e9).Draw(t, "steps")) })
}
