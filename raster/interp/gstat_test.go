package interp

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// gstat is the reference: R package gstat 2.1-0 (Debian 12), run once on the points of scatter(42, 60, 400, 0.1):
//
//	variogram(v~1, d, cutoff = half the diagonal, width = cutoff/15), fit.variogram, krige, idw, krige.cv
const gstat = `R package gstat 2.1-0`

func gstatPoints() []Sample { return scatter(42, 60, 400, 0.1) }

func TestLagsAgainstGstat(t *testing.T) {
	points, _, _ := place(gstatPoints(), 0)
	want := []Lag{
		{11.4367286173, 0.0183349780345, 9}, {27.8378956738, 0.0272128640510, 33}, {46.8621844206, 0.0427907761072, 49},
		{63.4681883111, 0.0705399732325, 62}, {82.5253853922, 0.0936962131142, 70}, {100.2046521742, 0.1250328586745, 87},
		{119.2660984502, 0.1602199381425, 101}, {137.4587953140, 0.1676203292917, 99}, {155.3959349889, 0.2378510368162, 117},
		{175.3077660645, 0.3025410697086, 104}, {192.3829520472, 0.2663625552278, 100}, {209.9086103296, 0.3176656156043, 128},
		{228.1596288775, 0.3095525962105, 119}, {247.7913010311, 0.3187787031892, 105}, {266.1635256362, 0.2737482598960, 118},
	}
	got := empirical(points)
	if len(got) != len(want) {
		t.Fatalf("%d lags, want %d (%s)", len(got), len(want), gstat)
	}
	for i, l := range got {
		if l.Pairs != want[i].Pairs || math.Abs(l.Distance-want[i].Distance) > 1e-9 || math.Abs(l.Gamma-want[i].Gamma) > 1e-12 {
			t.Errorf("lag %d: %+v, want %+v (%s)", i, l, want[i], gstat)
		}
	}
}

// gstat stops near the smallest residual, we at it: its Gaussian model (range 157.574 × √3, for its range is the one
// without the 3) has a residual of 2.0664e-5, ours must not be larger and the model nearly the same.
func TestFitAgainstGstat(t *testing.T) {
	points, _, _ := place(gstatPoints(), 0)
	lags := empirical(points)
	theirs := Variogram{Gaussian, 0.0164061171383, 0.0164061171383 + 0.33491893981, 157.574263441 * math.Sqrt(3)}
	residual := 0.0
	for _, l := range lags {
		d := l.Gamma - theirs.At(l.Distance)
		residual += float64(l.Pairs) / (l.Distance * l.Distance) * d * d
	}
	if math.Abs(residual/2.06640687727e-05-1) > 1e-6 {
		t.Errorf("residual of their model is %v, they say 2.0664e-5: the weights differ (%s)", residual, gstat)
	}
	got, ok := fit(lags)
	if !ok || got.Model != Gaussian || got.Residual > residual || math.Abs(got.Range/theirs.Range-1) > 0.03 ||
		math.Abs(got.Sill/theirs.Sill-1) > 0.03 || math.Abs(got.Nugget-theirs.Nugget) > 0.001 {
		t.Errorf("fit %+v, residual %v; %s has %+v, %v", got.Variogram, got.Residual, gstat, theirs, residual)
	}
}

func TestEstimatesAgainstGstat(t *testing.T) {
	at := []orb.Point{{37, 210}, {200, 200}, {333.3, 41.5}, {10, 10}, {390, 395}}
	spherical, exponential := Variogram{Spherical, 0.02, 0.3, 200}, Variogram{Exponential, 0.02, 0.3, 300}
	for _, c := range []struct {
		name       string
		v          Variogram
		neighbours int
		want       [][2]float64
	}{
		{"spherical, all points", spherical, 60, [][2]float64{{6.06820501200, 0.1073575112306}, {6.04786755263, 0.0588220411536},
			{5.84254604653, 0.0639826077532}, {6.32616870718, 0.1205500084450}, {6.00210225760, 0.1879580528563}}},
		{"exponential, all points", exponential, 60, [][2]float64{{6.12345889685, 0.1259560791595}, {6.05140724938, 0.0691896313581},
			{5.84349967641, 0.0753380793750}, {6.35470427846, 0.1351442174420}, {5.95209168559, 0.1999538384064}}},
		{"spherical, 12 nearest", spherical, 12, [][2]float64{{6.10621872332, 0.1090935709759}, {6.05017309886, 0.0590110351746},
			{5.85635539224, 0.0643359756620}, {6.38933208014, 0.1264939986770}, {5.86665012815, 0.2089186080686}}},
	} {
		k, err := NewKriging(gstatPoints(), c.v, c.neighbours)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range at {
			if value, variance := k.At(p); math.Abs(value-c.want[i][0]) > 1e-10 || math.Abs(variance-c.want[i][1]) > 1e-10 {
				t.Errorf("%s at %v: %.11f, variance %.11f; want %v (%s)", c.name, p, value, variance, c.want[i], gstat)
			}
		}
	}
	d, _ := NewIDW(gstatPoints(), 2, 12)
	for i, want := range []float64{6.23411772802, 6.04789375835, 5.83805678774, 6.52089934392, 5.84954340274} {
		if got := d.At(at[i]); math.Abs(got-want) > 1e-10 {
			t.Errorf("inverse distance, 12 nearest, at %v: %.11f, want %v (%s)", at[i], got, want, gstat)
		}
	}
}

// gstat counts observed less predicted, we the other way round.
func TestLeaveOneOutAgainstGstat(t *testing.T) {
	s := make1(t, plane(2, 2, 400), gstatPoints(), Options{Variogram: Variogram{Spherical, 0.02, 0.3, 200}, Neighbours: 60, Near: 1e-9})
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"bias", s.Check.Bias, 0.00201940813735}, {"RMSE", s.Check.RMSE, 0.15359936327710}, {"spread", s.Check.Spread, 0.53601543097032}} {
		if math.Abs(c.got-c.want) > 1e-10 {
			t.Errorf("%s = %.12f, want %v (%s)", c.name, c.got, c.want, gstat)
		}
	}
}
