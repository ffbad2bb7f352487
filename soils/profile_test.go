package soils

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"rootworthy/soils/unit"
)

// horizonsOf reads horizons written as "top-bottom pH/clay/CEC-7/AWC; …", a dash for what is not recorded.
func horizonsOf(t testing.TB, s string) []Horizon {
	t.Helper()
	var out []Horizon
	for _, part := range strings.Split(s, ";") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		var top, bottom float64
		var values string
		if _, err := fmt.Sscanf(strings.TrimSpace(part), "%g-%g %s", &top, &bottom, &values); err != nil {
			t.Fatalf("%q: %v", part, err)
		}
		v := strings.Split(values, "/")
		out = append(out, Horizon{Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(bottom)),
			PH: Range[unit.PH]{Value: number[unit.PH](t, v[0])}, Clay: number[unit.Percent](t, v[1]),
			CEC7: number[float64](t, v[2]), AWC: number[float64](t, v[3])})
	}
	return out
}

func number[T ~float64](t testing.TB, s string) unit.Opt[T] {
	t.Helper()
	if s == "-" {
		return unit.None[T]()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return unit.Some(T(v))
}

// near fails unless got has a value within tolerance of want; NaN stands for missing.
func near[T ~float64](t testing.TB, what string, got unit.Opt[T], want, tolerance float64) {
	t.Helper()
	v, ok := got.Get()
	if ok == math.IsNaN(want) || (ok && !(math.Abs(float64(v)-want) <= tolerance)) {
		t.Errorf("%s = %v (recorded: %v), want %v", what, v, ok, want)
	}
}

func clayOf(h *Horizon) unit.Opt[unit.Percent] { return h.Clay }
func cec7Of(h *Horizon) unit.Opt[float64]      { return h.CEC7 }

// Hand-made profiles; the arithmetic stands beside them.
func TestWindowMeanWeighsByThickness(t *testing.T) {
	h := horizonsOf(t, "0-15 5.4/10/-/0.1; 15-40 5.6/-/-/-; 40-90 6.0/30/-/0.2")
	ph, covered := WindowMean(h, Window{0, 20}, PHOf)
	near(t, "pH 0-20 (15×5.4 + 5×5.6)/20", ph, 5.45, 1e-12)
	if covered != 20 {
		t.Errorf("covered %v cm, want 20", covered)
	}
	clay, covered := WindowMean(h, Window{10, 60}, clayOf)
	near(t, "clay 10-60 (5×10 + 20×30)/25, the horizon without a value left out", clay, 26, 1e-12)
	if covered != 25 {
		t.Errorf("covered %v cm, want 25", covered)
	}
	ph, covered = WindowMean(h, Window{90, 150}, PHOf)
	near(t, "pH below the profile", ph, math.NaN(), 0)
	if covered != 0 {
		t.Errorf("covered %v cm, want 0", covered)
	}
}

// 34 and 35 of 70 cm: the least that counts, and one under it. A window cut at rock is smaller, so less of it is enough.
func TestHalfCoveredMeanRefusesLessThanHalf(t *testing.T) {
	h := horizonsOf(t, "0-30 5.4/-/-/-; 30-65 5.6/-/-/-; 65-90 -/-/-/-")
	ph, covered := HalfCoveredMean(h, Window{30, 100}, PHOf)
	near(t, "pH 30-100, 35 of 70 cm", ph, 5.6, 1e-12)
	if covered != 35 {
		t.Errorf("covered %v cm, want 35", covered)
	}
	ph, _ = HalfCoveredMean(h, Window{31, 101}, PHOf)
	near(t, "pH 31-101, 34 of 70 cm", ph, math.NaN(), 0)
	ph, _ = HalfCoveredMean(h, Window{31, 101}.CutAt(unit.Some[unit.Depth](90)), PHOf)
	near(t, "pH 31-90, 34 of 59 cm", ph, 5.6, 1e-12)
	ph, _ = HalfCoveredMean(h, Window{30, 100}.CutAt(unit.Some[unit.Depth](20)), PHOf)
	near(t, "pH of an empty window", ph, math.NaN(), 0)
}

// Water adds up over what is described; a gap adds nothing and says so in the depth covered.
func TestAvailableWaterSums(t *testing.T) {
	h := horizonsOf(t, "0-20 -/-/-/0.2; 20-50 -/-/-/-; 50-200 -/-/-/0.1")
	w, covered := AvailableWater(h, 150)
	near(t, "water to 150 cm: 20×0.2 + 100×0.1 cm", w, 140, 1e-9)
	if covered != 120 {
		t.Errorf("covered %v cm, want 120", covered)
	}
	w, _ = AvailableWater(h[2:], 40)
	near(t, "water above the first horizon with a value", w, 0, 0)
	w, _ = AvailableWater(h[1:2], 40)
	near(t, "water without any value", w, math.NaN(), 0)
}

// Without a bottom nobody knows how thick it is; its pH would have to be weighed with a guess.
func TestHorizonWithoutDepthTakesNoPart(t *testing.T) {
	h := horizonsOf(t, "0-20 5/20/-/0.2; 20-40 7/40/-/0.1")
	h[1].Bottom = unit.None[unit.Depth]()
	ph, covered := WindowMean(h, Window{0, 40}, PHOf)
	near(t, "pH", ph, 5, 0)
	if covered != 20 || DescribedDepth(h) != 20 {
		t.Errorf("covered %v, described %v, want 20, 20", covered, DescribedDepth(h))
	}
}

// A value that equals the limit is not below it, and a horizon without one is passed over.
func TestFirstBelow(t *testing.T) {
	h := horizonsOf(t, "0-10 6/-/-/-; 10-30 -/-/-/-; 30-60 5.4/-/-/-; 60-90 5.0/-/-/-")
	near(t, "first below 5.5", FirstBelow(h, 5.5, PHOf), 30, 0)
	near(t, "first below 5.4", FirstBelow(h, 5.4, PHOf), 60, 0)
	near(t, "first below 5", FirstBelow(h, 5, PHOf), math.NaN(), 0)
}

// 0.1 M and 0.001 M acid in equal parts have 0.0505 M: pH 1.2967, not 2.
func TestMeanAcidityIsLowerThanMeanPH(t *testing.T) {
	ph, covered := WindowMeanPH(horizonsOf(t, "0-10 1/-/-/-; 10-20 3/-/-/-"), Window{0, 20})
	near(t, "pH of mean acidity", ph, -math.Log10(0.0505), 1e-12)
	if covered != 20 {
		t.Errorf("covered %v cm, want 20", covered)
	}
}
