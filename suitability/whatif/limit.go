package whatif

import (
	"fmt"
	"slices"
	"sort"

	"rootworthy/suitability"
)

// Limit is a number of the profile that can be moved. Moving it moves the point of the curve along the axis of values; its score, a mark,
// stays.
type Limit struct {
	Key         string // criterion and class, "depth.suited": at this value ground becomes at least that class
	Criterion   suitability.Code
	Class       suitability.Class // Suited or Marginal
	Unit        string
	Value       float64 // as the profile has it
	Least, Most float64 // how far it may be moved
	Step        float64
	Falls       bool // less is better: slope, salts
}

// Limits lists what can be moved, in the order of [suitability.Codes]. On a curve with two sides, as that of pH, the
// limits are those of the lower side.
func Limits(p *suitability.Profile) []Limit {
	var out []Limit
	for _, c := range curves(p) {
		for _, class := range []suitability.Class{suitability.Suited, suitability.Marginal} {
			if i := pointAt(c.curve, markOf(class)); i >= 0 {
				out = append(out, limitAt(c, class, i))
			}
		}
	}
	return out
}

// named is a curve of a profile and how finely its values make sense.
type named struct {
	code  suitability.Code
	step  float64
	curve *suitability.Curve
}

// curves lists the curves of p, which may be changed through it.
func curves(p *suitability.Profile) []named {
	// the steps are how finely people speak of such values: whole centimetres, twentieths of a pH
	return []named{{suitability.Depth, 1, &p.Depth}, {suitability.WaterTable, 1, &p.WaterTable}, {suitability.SubsoilPH, 0.05, &p.SubsoilPH},
		{suitability.SurfacePH, 0.05, &p.SurfacePH}, {suitability.Salinity, 0.1, &p.Salinity}, {suitability.Sodicity, 0.5, &p.Sodicity},
		{suitability.AvailableWater, 1, &p.AvailableWater}, {suitability.Slope, 0.5, &p.Slope}}
}

// markOf is the score at which a class begins.
func markOf(c suitability.Class) float64 {
	if c == suitability.Suited {
		return suitability.SuitedMark
	}
	return suitability.MarginalMark
}

// pointAt returns the first point that has the score mark, -1 when none has.
func pointAt(c *suitability.Curve, mark float64) int {
	return slices.IndexFunc(c.Points, func(p suitability.Point) bool { return p.Score == mark })
}

// limitAt describes the limit at point i. It stays a step away from its neighbours, so that values on the curve go on rising.
func limitAt(c named, class suitability.Class, i int) Limit {
	points := c.curve.Points
	l := Limit{Key: fmt.Sprintf("%s.%s", c.code, class), Criterion: c.code, Class: class, Unit: c.curve.Unit, Value: points[i].Value, Step: c.step}
	l.Least, l.Most = l.Value, l.Value
	if i > 0 {
		l.Least = points[i-1].Value + c.step
	}
	if i+1 < len(points) {
		l.Most = points[i+1].Value - c.step
	}
	l.Falls = fallsAt(points, i)
	return l
}

// fallsAt says whether less is better at point i, the first of its score.
func fallsAt(points []suitability.Point, i int) bool {
	if i > 0 {
		return points[i-1].Score > points[i].Score
	}
	// nothing leads to the first point, so where the curve goes from it decides; it may run level for a while
	for _, p := range points {
		if p.Score != points[0].Score {
			return p.Score < points[0].Score
		}
	}
	// all along one score: neither way is better, and the mark is met up to any value
	return true
}

// Apply returns a profile with limits moved; p is not changed. An unknown key or a value out of range is an error that
// says what is possible.
func Apply(p *suitability.Profile, values map[string]float64) (*suitability.Profile, error) {
	if len(values) == 0 {
		return p, nil
	}
	moved := *p
	// the points are the only thing that move writes to; the rest is shared with p
	for _, c := range curves(&moved) {
		c.curve.Points = slices.Clone(c.curve.Points)
	}
	keys := make([]string, 0, len(values))
	for k := range values {
		keys = append(keys, k)
	}
	// each move narrows the room of the next, so the order must be one and not that of a map
	sort.Strings(keys)
	for _, k := range keys {
		if err := move(&moved, k, values[k]); err != nil {
			return nil, err
		}
	}
	return &moved, nil
}

// move moves one limit. Its source is from then on the user.
func move(p *suitability.Profile, key string, to float64) error {
	// anew for every key, for the same reason
	limits := Limits(p)
	i := slices.IndexFunc(limits, func(l Limit) bool { return l.Key == key })
	if i < 0 {
		return fmt.Errorf("%q is not a limit that can be moved", key)
	}
	l := limits[i]
	const tiny = 1e-9 // of binary sums
	if !(to >= l.Least-tiny && to <= l.Most+tiny) {
		return fmt.Errorf("%s: %g is not possible; give a value from %g to %g, between its neighbours on the curve", key, to, l.Least, l.Most)
	}
	for _, c := range curves(p) {
		if c.code == l.Criterion {
			at := pointAt(c.curve, markOf(l.Class))
			c.curve.Points[at] = suitability.Point{Value: to, Score: markOf(l.Class), Source: "moved by the user", Status: suitability.Practice}
		}
	}
	return nil
}

// PointOf returns the point of the profile behind a limit, with who set it.
func PointOf(p *suitability.Profile, key string) (point suitability.Point, ok bool) {
	for _, c := range curves(p) {
		for _, class := range []suitability.Class{suitability.Suited, suitability.Marginal} {
			if i := pointAt(c.curve, markOf(class)); i >= 0 && fmt.Sprintf("%s.%s", c.code, class) == key {
				return c.curve.Points[i], true
			}
		}
	}
	return point, false
}
