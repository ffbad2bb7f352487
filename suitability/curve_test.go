package suitability

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The breakpoints of the default profile as the rules list them: a curve is its points and nothing else.
func TestDefaultCurves(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		curve Curve
		want  [][2]float64
	}{
		"depth, cm":           {p.Depth, [][2]float64{{0, 0}, {60, 40}, {100, 70}, {150, 100}}},
		"surface pH":          {p.SurfacePH, [][2]float64{{4.5, 0}, {6.2, 40}, {6.5, 70}, {6.8, 100}, {7.8, 100}, {8.4, 70}, {9, 40}, {9.5, 0}}},
		"subsoil pH":          {p.SubsoilPH, [][2]float64{{4.5, 0}, {5, 40}, {5.5, 70}, {6, 100}, {7.8, 100}, {8.4, 70}, {9, 40}, {9.5, 0}}},
		"water table, cm":     {p.WaterTable, [][2]float64{{0, 0}, {50, 40}, {100, 70}, {150, 100}}},
		"available water, mm": {p.AvailableWater, [][2]float64{{0, 0}, {75, 40}, {152, 70}, {200, 100}}},
		"slope, %":            {p.Slope, [][2]float64{{0, 100}, {8, 70}, {15, 40}, {30, 0}}},
		"EC, dS/m":            {p.Salinity, [][2]float64{{0, 100}, {2, 70}, {6, 40}, {12, 0}}},
		"SAR":                 {p.Sodicity, [][2]float64{{0, 100}, {8, 70}, {13, 40}, {30, 0}}},
	} {
		if len(c.curve.Points) != len(c.want) {
			t.Errorf("%s has %d points, want %d", name, len(c.curve.Points), len(c.want))
			continue
		}
		for i, w := range c.want {
			if got := c.curve.Points[i]; got.Value != w[0] || got.Score != w[1] {
				t.Errorf("%s point %d = %v:%v, want %v:%v", name, i, got.Value, got.Score, w[0], w[1])
			}
			if got := c.curve.Score(w[0]); got != w[1] {
				t.Errorf("%s: Score(%v) = %v, want %v exactly", name, w[0], got, w[1])
			}
		}
	}
}

// Straight between points, flat beyond them, and exact on them: a value that rounding left beside a limit belongs on it.
func TestScoreBetweenAndBeyond(t *testing.T) {
	p := DefaultProfile()
	for _, c := range []struct {
		name  string
		curve Curve
		v     float64
		want  float64
		class Class
	}{
		{"between", p.SubsoilPH, 5.6, 76, Suited},
		{"left of the first point", p.SurfacePH, 3.2, 0, Unsuited},
		{"right of the last point", p.Depth, 203, 100, Suited},
		{"on the limit", p.SurfacePH, 6.2, 40, Marginal},
		{"a rounding error under the limit", p.SurfacePH, 6.2 - 1e-9, 40, Marginal},
		{"truly under the limit", p.SurfacePH, 6.199, 39.9764705882, Unsuited},
		{"upper limit", p.SurfacePH, 8.4, 70, Suited},
		{"past the upper limit", p.SurfacePH, 8.5, 65, Marginal},
	} {
		got := c.curve.Score(c.v)
		if math.Abs(got-c.want) > 1e-9 || classOf(got) != c.class {
			t.Errorf("%s: Score(%v) = %v (%v), want %v (%v)", c.name, c.v, got, classOf(got), c.want, c.class)
		}
	}
}

// The limit shown is the breakpoint that parts the value's class from the next better one, on the value's side.
func TestLimitShown(t *testing.T) {
	p := DefaultProfile()
	for _, c := range []struct {
		name  string
		curve Curve
		v     float64
		want  float64
	}{
		{"unsuited acid", p.SurfacePH, 5.4, 6.2},
		{"marginal acid", p.SurfacePH, 6.3, 6.5},
		{"suited, acid side", p.SurfacePH, 6.7, 6.5},
		{"suited, alkaline side", p.SurfacePH, 8.0, 8.4},
		{"marginal alkaline", p.SurfacePH, 8.8, 8.4},
		{"unsuited alkaline", p.SurfacePH, 9.3, 9.0},
		{"steep", p.Slope, 20, 15},
	} {
		got, ok := c.curve.limitAt(markAbove(classOf(c.curve.Score(c.v))), c.v)
		if !ok || got.Value != c.want {
			t.Errorf("%s: limit at %v = %v, want %v", c.name, c.v, got.Value, c.want)
		}
	}
}

// A better value never lowers a score: on the rising side more, on the falling side less.
func TestScoresRiseThenFall(t *testing.T) {
	p := DefaultProfile()
	curves := []Curve{p.Depth, p.WaterTable, p.SurfacePH, p.SubsoilPH, p.Salinity, p.Sodicity, p.AvailableWater, p.Slope}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(curves).Draw(t, "curve")
		// the first of the highest points parts the rising from the falling side; between several of them the curve is flat
		top := c.Points[0]
		for _, pt := range c.Points {
			if pt.Score > top.Score {
				top = pt
			}
		}
		span := rapid.Float64Range(c.Points[0].Value-5, c.Points[len(c.Points)-1].Value+5)
		a, b := span.Draw(t, "a"), span.Draw(t, "b")
		a, b = min(a, b), max(a, b)
		sa, sb := c.Score(a), c.Score(b)
		if b <= top.Value && sa > sb+1e-9 {
			t.Fatalf("rising side: Score(%v) = %v over Score(%v) = %v", a, sa, b, sb)
		}
		if a >= top.Value && sb > sa+1e-9 {
			t.Fatalf("falling side: Score(%v) = %v over Score(%v) = %v", b, sb, a, sa)
		}
		if sa < 0 || sa > 100 {
			t.Fatalf("Score(%v) = %v", a, sa)
		}
	})
}

// Every drainage and flooding word has its score; the limit is the nearest word of the next better class.
func TestWordScales(t *testing.T) {
	p := DefaultProfile()
	for _, c := range []struct {
		scale WordScale
		word  string
		score float64
		class Class
		limit string
	}{
		{p.Drainage, "Subaqueous", 0, Unsuited, "Moderately well drained"},
		{p.Drainage, "Very poorly drained", 0, Unsuited, "Moderately well drained"},
		{p.Drainage, "Poorly drained", 5, Unsuited, "Moderately well drained"},
		{p.Drainage, "Somewhat poorly drained", 25, Unsuited, "Moderately well drained"},
		{p.Drainage, "Moderately well drained", 55, Marginal, "Well drained"},
		{p.Drainage, "Well drained", 100, Suited, "Well drained"},
		{p.Drainage, "Somewhat excessively drained", 90, Suited, "Somewhat excessively drained"},
		{p.Drainage, "Excessively drained", 60, Marginal, "Somewhat excessively drained"},
		{p.Flooding, "None", 100, Suited, "None"},
		{p.Flooding, "Very rare", 95, Suited, "Very rare"},
		{p.Flooding, "Rare", 80, Suited, "Rare"},
		{p.Flooding, "Occasional", 50, Marginal, "Rare"},
		{p.Flooding, "Common", 50, Marginal, "Rare"},
		{p.Flooding, "Frequent", 10, Unsuited, "Occasional"},
		{p.Flooding, "Very frequent", 0, Unsuited, "Occasional"},
		{p.Ponding, "None", 100, Suited, "None"},
		{p.Ponding, "Rare", 50, Marginal, "None"},
		{p.Ponding, "Occasional", 10, Unsuited, "Rare"},
		{p.Ponding, "Common", 10, Unsuited, "Rare"},
		{p.Ponding, "Frequent", 0, Unsuited, "Rare"},
	} {
		f := c.scale.finding(c.word)
		if f.Score.Or(-1) != c.score || f.Class != c.class || f.LimitWord != c.limit {
			t.Errorf("%q: score %v, %v, limit %q; want %v, %v, %q", c.word, f.Score.Or(-1), f.Class, f.LimitWord, c.score, c.class, c.limit)
		}
	}
	if f := p.Drainage.finding(""); f.Class != NotRated || f.Score.Has() {
		t.Errorf("a class that was not recorded was rated: %+v", f)
	}
}
