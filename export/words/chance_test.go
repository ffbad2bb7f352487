package words

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rootworthy/suitability"
)

// The switch from tenths to hundredths lies at both ends, where a tenth would hide how rare or how sure a thing is: 0.09 and 0.1, 0.9 and
// 0.93.
func TestChance(t *testing.T) {
	for p, want := range map[float64]string{0: "no chance", 0.001: "under 1 chance in 100", 0.01: "1 chance in 100", 0.09: "9 chances in 100",
		0.1: "1 chance in 10", 0.35: "4 chances in 10", 0.7: "7 chances in 10", 0.9: "9 chances in 10", 0.93: "93 chances in 100",
		0.994: "99 chances in 100", 0.999: "over 99 chances in 100", 1: "sure"} {
		if got := Chance(p); got != want {
			t.Errorf("Chance(%g) = %q, want %q", p, got, want)
		}
	}
	if got := ChanceFigure(0.7, 0.018); got != "0.70 ± 0.02" {
		t.Error(got)
	}
	if got := ChanceFigure(1, 0); got != "1.00" {
		t.Error(got)
	}
}

// Over the whole range the words grow with the chance and are never off by more than they show.
func TestChanceIsNearTheTruth(t *testing.T) {
	for i := 1; i < 1000; i++ {
		p := float64(i) / 1000
		if s := Chance(p); s == "no chance" || s == "sure" || s == "10 chances in 10" || s == "0 chances in 10" || s == "100 chances in 100" {
			t.Errorf("%g reads %q", p, s)
		}
	}
}

// The words and the figure in brackets behind them are rounded alike: "99 chances in 100 (0.98)" would leave the reader with two answers.
// 0.985 is the trap: a little less as a float, so that printing and rounding part.
func TestChanceAgreesWithItsFigure(t *testing.T) {
	for i := 1; i < 1000; i++ {
		p := float64(i) / 1000
		var n, of int
		if _, err := fmt.Sscanf(Chance(p), "%d chance", &n); err != nil {
			continue // under 1 and over 99 chances in 100 have figures of their own
		}
		of = 10
		if strings.HasSuffix(Chance(p), "100") {
			of = 100
		}
		var figure float64
		if _, err := fmt.Sscanf(chanceNumber(p), "%g", &figure); err != nil {
			t.Fatal(err)
		}
		if off := math.Abs(float64(n)/float64(of) - figure); off > 0.5/float64(of)+1e-9 || of == 100 && off > 1e-9 {
			t.Errorf("%g reads %q and %q", p, Chance(p), chanceNumber(p))
		}
		if got := ChanceFigure(p, 0); got != fixed(figure, 2) {
			t.Errorf("%g reads %q in one table and %q in another", p, got, chanceNumber(p))
		}
	}
}

// A chance of one is not called sure here: the draws know only what the survey leaves open, not what it has wrong.
func TestChanceOfClasses(t *testing.T) {
	of := func(p map[suitability.Class]float64) func(suitability.Class) float64 {
		return func(c suitability.Class) float64 { return p[c] }
	}
	if got := ChanceOfClasses(of(map[suitability.Class]float64{suitability.Suited: 0.7, suitability.Unsuited: 0.3})); got != "suited 7 chances in 10, unsuited 3 chances in 10" {
		t.Error(got)
	}
	if got := ChanceOfClasses(of(map[suitability.Class]float64{suitability.Marginal: 1})); got != "marginal, as far as the survey goes" {
		t.Error(got)
	}
}
