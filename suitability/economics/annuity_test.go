package economics_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/suitability/economics"
)

// The annuity is the sum of a geometric series; money in, interest on, payment out, after the last year nothing is owed.
func TestAnnuityAgainstSeriesAndLedger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.Float64Range(0, 1).Draw(t, "rate")
		years := rapid.IntRange(1, 40).Draw(t, "years")
		sum := 0.0
		for k := 1; k <= years; k++ {
			sum += math.Pow(1+rate, -float64(k))
		}
		if got := economics.Annuity(rate, float64(years)); math.Abs(got-sum) > 1e-9*sum {
			t.Fatalf("Annuity(%v, %d) = %v, the series is %v", rate, years, got, sum)
		}
		pay, owed := economics.CapitalRecovery(rate, float64(years)), 1.0
		for range years {
			owed = owed*(1+rate) - pay
		}
		if math.Abs(owed) > 1e-9*math.Pow(1+rate, float64(years)) {
			t.Fatalf("after %d payments of %v at %v there is %v owed", years, pay, rate, owed)
		}
	})
}

// No interest is its own formula, and the other one must come near it; outside its range it is no number.
func TestAnnuityAtNoRate(t *testing.T) {
	near(t, "at 0", economics.Annuity(0, 7), 7, 0)
	near(t, "just over 0", economics.Annuity(1e-12, 7), 7, 1e-9)
	near(t, "no years", economics.Annuity(0.05, 0), 0, 0)
	for _, bad := range [][2]float64{{-1, 3}, {0.05, -1}, {math.NaN(), 3}} {
		if got := economics.Annuity(bad[0], bad[1]); !math.IsNaN(got) {
			t.Errorf("Annuity(%v) = %v, want NaN", bad, got)
		}
	}
	if got := economics.CapitalRecovery(0.05, 0); !math.IsNaN(got) {
		t.Errorf("CapitalRecovery over no years = %v, want NaN", got)
	}
}

// Closed form of a stand: a cost today and n equal gains.
func TestPresentValue(t *testing.T) {
	const rate, n, cost, gain = 0.05, 6, 350.0, 100.0
	flows := []economics.Flow{{Years: 0, Money: -cost}}
	for k := 1; k <= n; k++ {
		flows = append(flows, economics.Flow{Years: float64(k), Money: gain})
	}
	near(t, "value", float64(economics.PresentValue(rate, flows)), gain*(1-math.Pow(1.05, -n))/0.05-cost, 1e-9)
}

// The inverse of the annuity; payments that never pay back, and nothing to pay back.
func TestYearsToRecover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.Float64Range(0, 0.5).Draw(t, "rate")
		years := rapid.Float64Range(0.1, 30).Draw(t, "years")
		sum := economics.Annuity(rate, years) * 10
		if got, ok := economics.YearsToRecover(rate, sum, 10); !ok || math.Abs(got-years) > 1e-5*years {
			t.Fatalf("YearsToRecover = %v, %v, want %v", got, ok, years)
		}
	})
	if _, ok := economics.YearsToRecover(0.1, 100, 10); ok {
		t.Error("payments that only cover the interest never pay back")
	}
	if n, ok := economics.YearsToRecover(0.1, 0, 10); !ok || n != 0 {
		t.Errorf("nothing to pay back: %v, %v", n, ok)
	}
}
