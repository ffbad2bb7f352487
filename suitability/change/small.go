package change

import (
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/soils/unit"
)

// Least is the area below which a part of some ground is too small to be told as changed: 200 m², a twentieth of an acre. Lists print tenths of
// an acre, so less would stand there as 0.0; a spreader 20 m wide is over it in 10 m of travel, about what it takes to open and shut. Common
// practice, no source.
const Least unit.Area = 200

// Narrow is the mean width in metres below which a part is too narrow: 1 m, whatever its length. A boundary drawn a second time on an aerial
// picture comes back to about a pixel, half a metre to a metre; what lies between the two lines is no ground that was won or lost. Survey
// lines are rounded to a centimetre in a run, far below. Common practice, no source.
const Narrow = 1.0

// small is how much of an area lies in parts of its shape, in the plane, that are too small or too narrow, or so small that they are not
// in the shape at all. Part by part: many slivers along a line do not make a patch.
func small(area float64, shape orb.MultiPolygon) float64 {
	large := 0.0
	for _, p := range shape {
		part, length := planar.Area(p), 0.0
		for _, r := range p {
			length += planar.Length(r)
		}
		// Of a strip the area is width times length and the outline twice the length, so twice the one by the other is its width; of a
		// square, half its side.
		if part >= float64(Least) && 2*part >= Narrow*length {
			large += part
		}
	}
	if left := area - large; left > 1e-9*area { // else what float64 leaves
		return left
	}
	return 0
}
