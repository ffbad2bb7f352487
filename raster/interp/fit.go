package interp

import "math"

// Fit is a variogram with what it was fitted to.
type Fit struct {
	Variogram
	Lags     []Lag
	Residual float64 // Σ pairs/h² × (lag - model)², which the fit makes smallest
}

// gaussianNugget is the least nugget of a Gaussian model, as a share of its sill: without one neighbours are so alike that
// weights swing between large and negative.
// Source: proposal; the trouble is common knowledge among users, no source read.
const gaussianNugget = 1e-3

// calm returns the variogram, a Gaussian one with its least nugget.
func (v Variogram) calm() Variogram {
	if v.Model == Gaussian {
		v.Nugget = math.Max(v.Nugget, gaussianNugget*v.Sill)
	}
	return v
}

// mostRange is how far beyond the longest lag a range is looked for, in lags' reach: farther off the model is a straight
// line anyway.
const mostRange = 3.0

// fit returns the model that fits the lags best by weighted least squares with weights pairs/h². For each range the best
// nugget and sill follow from two linear equations, so only the range is searched for. ok is false when no lag shows a
// difference.
// Source of the weights: gstat, fit.variogram, method 7, the default ("not supported by theory, but by practice").
func fit(lags []Lag) (best Fit, ok bool) {
	best.Residual = math.Inf(1)
	for _, m := range Models() {
		// better by more than rounding, so that of equals the first model stays
		if f := fitRange(m, lags); f.Sill > 0 && f.Residual < best.Residual*(1-1e-9) {
			best, ok = f, true
		}
	}
	best.Lags = lags
	return best, ok
}

// fitRange searches for the range of a model: along a geometric ladder, then between the rungs beside the best.
func fitRange(m Model, lags []Lag) Fit {
	const rungs = 60
	last := lags[len(lags)-1].Distance
	// a range under the first lag is all nugget to the lags: there is nothing to tell one from another by
	least, most := lags[0].Distance/2, last*mostRange
	rung := func(i float64) float64 { return least * math.Pow(most/least, i/rungs) }
	// The sum of squares over the range may have several valleys; the ladder finds the deepest that it meets, thirds its
	// bottom.
	at, best := 0.0, fitSill(m, lags, least)
	for i := 1.0; i <= rungs; i++ {
		if f := fitSill(m, lags, rung(i)); f.Residual < best.Residual {
			at, best = i, f
		}
	}
	lo, hi := math.Max(0, at-1), math.Min(rungs, at+1)
	for range 40 { // thirds of the interval: 1e-7 of a rung
		a, b := fitSill(m, lags, rung(lo+(hi-lo)/3)), fitSill(m, lags, rung(hi-(hi-lo)/3))
		if a.Residual <= b.Residual {
			hi -= (hi - lo) / 3
		} else {
			lo += (hi - lo) / 3
		}
		for _, f := range []Fit{a, b} {
			if f.Residual < best.Residual {
				best = f
			}
		}
	}
	return best
}

// fitSill returns the best nugget and sill, neither part negative, for a range.
func fitSill(m Model, lags []Lag, reach float64) Fit {
	var w, ws, wss, wg, wsg float64 // sums of weight, × shape, × shape², × gamma, × shape × gamma
	for _, l := range lags {
		weight, s := float64(l.Pairs)/(l.Distance*l.Distance), m.shape(l.Distance/reach)
		w, ws, wss = w+weight, ws+weight*s, wss+weight*s*s
		wg, wsg = wg+weight*l.Gamma, wsg+weight*s*l.Gamma
	}
	nugget, part := 0.0, 0.0
	// else the shape is the same at every lag (all beyond the range), and nugget and part cannot be told apart
	if d := w*wss - ws*ws; d > 1e-12*w*wss {
		nugget, part = (wss*wg-ws*wsg)/d, (w*wsg-ws*wg)/d
	} else {
		part = wsg / wss
	}
	// The best with a side condition lies on it: a parabola has its best on the border where its bottom is beyond.
	if nugget < 0 {
		nugget, part = 0, wsg/wss
	}
	// falling with distance: no pattern, all is nugget
	if part < 0 {
		nugget, part = wg/w, 0
	}
	f := Fit{Variogram: Variogram{Model: m, Nugget: nugget, Sill: nugget + part, Range: reach}.calm()}
	for _, l := range lags {
		// of the model as it will be used, calmed
		d := l.Gamma - f.At(l.Distance)
		f.Residual += float64(l.Pairs) / (l.Distance * l.Distance) * d * d
	}
	return f
}
