package ranking

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
)

// What is not named keeps its proposed weight; every wrong part is told.
func TestParseWeights(t *testing.T) {
	got, err := ParseWeights("suited=5, Cost = 0,risk=0.5")
	if want := (Weights{5, 0, 1, 2, 0.5}); err != nil || got != want {
		t.Errorf("got %v, %v; want %v", got, err, want)
	}
	for text, want := range map[string]string{
		"":                                      "not name=number",
		"suited":                                "not name=number",
		"price=2":                               `"price" is not a criterion; there are suited, cost, ready, sure, risk`,
		"suited=-1":                             `"-1" is not a weight`,
		"suited=NaN":                            `"NaN" is not a weight`,
		"suited=much":                           `"much" is not a weight`,
		"suited=1e9":                            "from 0 to 1000",
		"suited=1,suited=2":                     "given twice",
		"suited=x,colour=2":                     `"colour"`,
		"suited=0,cost=0,ready=0,sure=0,risk=0": "nothing counts",
	} {
		if _, err := ParseWeights(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// What was read is printed as it could be typed again.
func FuzzParseWeights(f *testing.F) {
	f.Add("suited=3,cost=2")
	f.Fuzz(func(t *testing.T, text string) {
		w, err := ParseWeights(text)
		if err != nil {
			return
		}
		if again, err := ParseWeights(w.String()); err != nil || again != w {
			t.Errorf("%q was read as %v, and that as %v, %v", text, w, again, err)
		}
	})
}

// What a scale gives by its definition, and that a better value never gets fewer marks.
func TestScales(t *testing.T) {
	s := Scales(ByLime)
	for _, tc := range []struct {
		c       Criterion
		x, want float64
	}{
		{Suited, 0, 0}, {Suited, float64(unit.Acres(40)), 0.5}, {Suited, float64(unit.Acres(120)), 0.75},
		{Cost, 0, 1}, {Cost, float64(unit.ShortTonsPerAcre(2)), 0.5}, {Cost, float64(unit.ShortTonsPerAcre(6)), 0.25},
		{Ready, 0, 1}, {Ready, 365, 0.5}, {Sure, 0.7, 0.7}, {Sure, 2, 1}, {Risk, 0.25, 0.75}, {Risk, -1, 1},
	} {
		if got := s[tc.c].Of(tc.x); got < tc.want-1e-12 || got > tc.want+1e-12 {
			t.Errorf("%s of %v: %v, want %v", tc.c, tc.x, got, tc.want)
		}
	}
	if got := Scales(ByMoney)[Cost].Half * float64(unit.Acres(1)); got < 249.999 || got > 250.001 {
		t.Errorf("half mark of money is %v an acre, want 250", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := Criteria()[rapid.IntRange(0, int(Count)-1).Draw(t, "criterion")]
		a, b := rapid.Float64Range(0, 1e7).Draw(t, "a"), rapid.Float64Range(0, 1e7).Draw(t, "b")
		if s[c].better(a) > s[c].better(b) && s[c].Of(a) < s[c].Of(b) {
			t.Fatalf("%s: %v is better than %v and gets %v, not %v", c, a, b, s[c].Of(a), s[c].Of(b))
		}
	})
}
