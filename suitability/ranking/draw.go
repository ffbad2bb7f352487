package ranking

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// moves says what moves from draw to draw. Both together answer how firm the order is; each alone says whether better figures or a talk
// about weights would firm it.
type moves uint8

const (
	moveWeights moves = 1 << iota
	moveInputs
)

// looseness is how far weights move: half of them is as given, half is a weighting drawn blindly from all there are.
// Source: proposal of this program.
const looseness = 0.5

// drawWeights draws weights around those given, over the criteria that count.
//
//	weights = (1 − l) given + l blind      blind: even on the simplex, exponentials over their sum
//
// Source: even draws on a simplex by exponentials are textbook; the mixture is a proposal of this program.
func (t *table) drawWeights(r *rand.Rand) (w Weights) {
	sum := 0.0
	for _, c := range t.used {
		w[c] = r.ExpFloat64()
		sum += w[c]
	}
	for _, c := range t.used {
		// the blind part is divided by its own sum, so weights drawn sum to 1 as those given do
		w[c] = (1-looseness)*t.shares[c] + looseness*w[c]/sum
	}
	return w
}

// drawMarks draws the marks of a field: a value from its range, most often the likely one; anything where it is missing.
// Criteria and fields are drawn apart, though fields on one soil err together: their order among themselves is firmer than
// the draws show. The ends of suited ground hold nine cases of ten and are taken for the ends of the triangle.
func (t *table) drawMarks(f *Field, r *rand.Rand) (marks [Count]float64) {
	for _, c := range t.used {
		switch m := f.Measures[c]; m.State {
		case Known:
			marks[c] = t.scales[c].Of(triangle(r.Float64(), m))
		// even from 0 to 1 on the scale of marks: nothing is known, not even what is likely. Hopeless keeps 0
		case Missing:
			marks[c] = r.Float64()
		}
	}
	return marks
}

// triangle returns the value below which a share u of a triangular distribution lies.
//
// Source: textbook; inverse of the distribution function.
// u is 0…1. A measure without a range is its likely value.
func triangle(u float64, m Measure) float64 {
	width := m.High - m.Low
	if width <= 0 {
		return m.Likely
	}
	if u*width < m.Likely-m.Low {
		return m.Low + math.Sqrt(u*width*(m.Likely-m.Low))
	}
	return m.High - math.Sqrt((1-u)*width*(m.High-m.Likely))
}

// randOf is the source of a field: its own, so that no other field changes its draws.
func randOf(seed uint64, f *Field) *rand.Rand {
	h := fnv.New64a()
	for _, s := range f.key() {
		h.Write([]byte(s))
		// a mark between the parts, so that "a", "bc" and "ab", "c" do not hash alike
		h.Write([]byte{0})
	}
	// by name and not by place: a field more or less leaves the draws of the others as they are
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// randOfWeights is the source of the weights. The second number is a fixed word that no field's hash is likely to be.
func randOfWeights(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0x77656967687473)) }
