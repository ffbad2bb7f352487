package interp

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

const (
	isaaks = `Isaaks and Srivastava 1989, An Introduction to Applied Geostatistics, chapter 12, pp. 290-296`
	primer = `Virginia Tech, kriging example with linear semivariogram`
)

// sevenPoints are the samples around (65, 137) of the book's example.
func sevenPoints() []Sample {
	return []Sample{
		{orb.Point{61, 139}, 477}, {orb.Point{63, 140}, 696}, {orb.Point{64, 129}, 227}, {orb.Point{68, 128}, 646},
		{orb.Point{71, 140}, 606}, {orb.Point{73, 141}, 791}, {orb.Point{75, 128}, 783},
	}
}

// bookModel is C(h) = 10 exp(-0.3 h).
func bookModel() Variogram { return Variogram{Model: Exponential, Sill: 10, Range: 10} }

func threePoints() []Sample {
	return []Sample{{orb.Point{1, 2}, 150}, {orb.Point{4, 1}, 110}, {orb.Point{6, 4}, 140}}
}

func TestKrigingExamples(t *testing.T) {
	slope4 := Variogram{Model: Linear, Sill: 4, Range: 1}
	for _, c := range []struct {
		name                string
		samples             []Sample
		v                   Variogram
		at                  orb.Point
		value, variance     float64
		tolerance, variable float64
		source              string
	}{
		{"krig-1 (read)", sevenPoints(), bookModel(), orb.Point{65, 137}, 592.7, 8.96, 0.05, 0.005, isaaks},
		{"krig-2 (computed)", sevenPoints(), bookModel(), orb.Point{65, 137}, 592.72894, 8.95605, 2e-4, 2e-4, isaaks},
		{"krig-3 (read)", threePoints(), slope4, orb.Point{3, 2}, 128.9, 6.70, 0.05, 0.05, primer},
		{"krig-3 (computed)", threePoints(), slope4, orb.Point{3, 2}, 128.9131, 6.6960, 5e-5, 5e-5, primer},
		{"krig-4 (read)", threePoints(), slope4, orb.Point{4, 4}, 138.6, 10.4, 0.05, 0.05, primer},
		{"krig-4 (computed)", threePoints(), slope4, orb.Point{4, 4}, 138.6197, 10.3851, 5e-5, 5e-5, primer},
		{"at a point itself", sevenPoints(), bookModel(), orb.Point{71, 140}, 606, 0, 1e-9, 1e-9, "kriging without a nugget goes through its points"},
	} {
		k, err := NewKriging(c.samples, c.v, 0)
		if err != nil {
			t.Fatal(err)
		}
		value, variance := k.At(c.at)
		if !(math.Abs(value-c.value) <= c.tolerance && math.Abs(variance-c.variance) <= c.variable) {
			t.Errorf("%s: %.6f, variance %.6f; want %v, %v (%s)", c.name, value, variance, c.value, c.variance, c.source)
		}
	}
}

// The weights are what the estimate of a single one among zeros is. The Lagrange multiplier, in the form for
// semivariograms, is what the variance has beyond the weighted semivariances: variance = Σ w γ + μ.
func TestKrigingWeights(t *testing.T) {
	at, multiplier := orb.Point{65, 137}, 0.0
	for i, want := range []float64{0.1729, 0.3178, 0.1287, 0.0864, 0.1511, 0.0572, 0.0858} { // krig-2 (computed)
		samples := sevenPoints()
		for j := range samples {
			samples[j].Value = 0
		}
		samples[i].Value = 1
		k, _ := NewKriging(samples, bookModel(), 0)
		w, variance := k.At(at)
		if math.Abs(w-want) > 5e-5 {
			t.Errorf("weight of point %d = %.5f, want %v (%s)", i+1, w, want, isaaks)
		}
		if i == 0 {
			multiplier = variance
		}
		p := samples[i].At
		multiplier -= w * bookModel().At(math.Hypot(p[0]-at[0], p[1]-at[1]))
	}
	if math.Abs(multiplier-0.9066) > 2e-4 { // krig-2 (computed)
		t.Errorf("multiplier %.5f, want 0.9066 (%s)", multiplier, isaaks)
	}
}

func TestInverseDistanceExamples(t *testing.T) {
	for _, c := range []struct {
		name        string
		power, want float64
	}{
		{"idw-1 (computed)", 1, 593.95367}, {"idw-2 (computed)", 2, 597.62038},
	} {
		d, err := NewIDW(sevenPoints(), c.power, 0)
		if err != nil {
			t.Fatal(err)
		}
		if got := d.At(orb.Point{65, 137}); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%s: %.5f, want %v (%s)", c.name, got, c.want, isaaks)
		}
	}
}
