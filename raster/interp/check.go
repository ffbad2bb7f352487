package interp

import "math"

// LeaveOneOut says how well a method finds each point from the others. All but N are zero with fewer than two points.
type LeaveOneOut struct {
	N        int
	Bias     float64 // mean of estimate less value
	RMSE     float64 // root mean squared difference
	MAE      float64 // mean difference
	MeanRMSE float64 // RMSE of the mean of the others: a surface must do better to be worth its name
	// Spread is the root mean square of difference over kriging standard error: near 1 the errors are honest, over 1 they are too small. 0 for
	// methods without an error.
	Spread float64
}

// Skill returns the share of the mean's squared error that the surface takes away; 0 or less means that the mean is as good.
func (l LeaveOneOut) Skill() float64 {
	// all values alike: there is nothing to be skilled at
	if l.MeanRMSE == 0 {
		return 0
	}
	return 1 - l.RMSE*l.RMSE/(l.MeanRMSE*l.MeanRMSE)
}

// leaveOneOut estimates each point from the others; variance is 0 where the method has none.
func leaveOneOut(points []Sample, without func(i int) (value, variance float64)) LeaveOneOut {
	n := len(points)
	l := LeaveOneOut{N: n}
	if n < 2 {
		return l
	}
	mean, _ := meanOf(points)
	squares, mean2, spread := 0.0, 0.0, 0.0
	for i, p := range points {
		value, variance := without(i)
		d := value - p.Value
		l.Bias += d / float64(n)
		l.MAE += math.Abs(d) / float64(n)
		squares += d * d
		// A variance of 0 claims to be exact; one such point would make the mean infinite.
		if variance > 0 {
			spread += d * d / variance
		}
		ofMean := (mean - p.Value) * float64(n) / float64(n-1) // the mean of the others, less the value
		mean2 += ofMean * ofMean
	}
	l.RMSE, l.MeanRMSE, l.Spread = math.Sqrt(squares/float64(n)), math.Sqrt(mean2/float64(n)), math.Sqrt(spread/float64(n))
	return l
}
