package suitability

import (
	"math"
	"slices"
)

// The marks that part the classes on the scale of scores.
// Source: proposal.
const (
	SuitedMark   = 70.0
	MarginalMark = 40.0
)

// classOf returns the class of a score. A score on a mark belongs to the better class.
func classOf(score float64) Class {
	switch {
	case score >= SuitedMark:
		return Suited
	case score >= MarginalMark:
		return Marginal
	}
	return Unsuited
}

// markAbove returns the mark that parts class c from the next better one; from suited, the mark of suited.
func markAbove(c Class) float64 {
	if c == Unsuited {
		return MarginalMark
	}
	return SuitedMark
}

// Point is a breakpoint of a [Curve]: the score at a value, and who says so.
type Point struct {
	Value, Score float64
	Source       string
	Status       Status
}

// Curve gives a score from 0 to 100 to a measured value: straight between its points, flat outside.
// Where it crosses a mark it has a point, so that every class limit is a number with a source.
type Curve struct {
	Unit   string
	Points []Point // by rising value
}

// roundInput takes the noise of binary sums off a value: survey values have at most three decimals, so a step of 1e-6
// changes none of them, and a value computed to lie on a limit then does lie on it.
func roundInput(v float64) float64 { return math.Round(v*1e6) / 1e6 }

// Score returns the score of v, rounded to 1e-6 first.
func (c Curve) Score(v float64) float64 {
	v = roundInput(v)
	i := slices.IndexFunc(c.Points, func(p Point) bool { return v <= p.Value })
	switch {
	// flat outside: beyond the last point nothing gets better or worse, and no line is drawn on to where nobody measured
	case i < 0:
		return c.Points[len(c.Points)-1].Score
	// on a point its own score, exactly: interpolation could miss a mark by a rounding error and change the class
	case i == 0 || v == c.Points[i].Value:
		return c.Points[i].Score
	}
	a, b := c.Points[i-1], c.Points[i]
	return roundScore(a.Score + (b.Score-a.Score)*(v-a.Value)/(b.Value-a.Value))
}

// roundScore takes the noise of binary sums off a score, so that 76 is written as 76. The step of 1e-9 is far below
// what a step of 1e-6 of any value changes, so it moves no score over a mark.
func roundScore(s float64) float64 { return math.Round(s*1e9) / 1e9 }

// limitAt returns the breakpoint that has the score mark: of several, the nearest to v. ok is false when the curve
// never comes to that mark. Points are compared with the mark exactly: a profile is refused where its curve crosses a mark between two
// points.
func (c Curve) limitAt(mark, v float64) (best Point, ok bool) {
	for _, p := range c.Points {
		if p.Score == mark && (!ok || math.Abs(p.Value-v) < math.Abs(best.Value-v)) {
			best, ok = p, true
		}
	}
	return best, ok
}

// lowerLimit returns the least value that is suited; missing on a curve that falls from its first point.
func (c Curve) lowerLimit() (v float64, ok bool) {
	for i, p := range c.Points {
		if p.Score >= SuitedMark {
			// at the first point already suited: less would be as good, so there is no lower limit
			return p.Value, i > 0
		}
	}
	return 0, false
}

// rising says whether v lies on the side where more is better. For pH this is the acid side, the one that lime helps.
func (c Curve) rising(v float64) bool {
	low, ok := c.lowerLimit()
	return ok && v < low
}
