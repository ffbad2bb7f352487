package ranking

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Weights say how much each criterion counts, in any unit: only their ratios matter. A criterion of weight 0 counts for
// nothing, in dominance neither.
type Weights [Count]float64

// ProposalName is what the default weights are called wherever they are shown.
const ProposalName = "our proposal"

// Proposal returns the default weights: ground first, then what it costs and how sure it is, then when and what may go wrong.
// Source: proposal of this program; nobody's published weights.
func Proposal() Weights { return Weights{Suited: 3, Cost: 2, Ready: 1, Sure: 2, Risk: 2} }

// mostWeight keeps a slip of the pen from drowning all other criteria.
const mostWeight = 1000

// Check says what is wrong with weights, and what to do.
func (w Weights) Check() error {
	sum := 0.0
	for _, c := range Criteria() {
		if !(w[c] >= 0 && w[c] <= mostWeight) { // also refuses NaN
			return fmt.Errorf("%s=%v is not a weight; give a number from 0 to %d", c, w[c], mostWeight)
		}
		sum += w[c]
	}
	if sum == 0 {
		return fmt.Errorf("all weights are 0, so nothing counts; give at least one of %s more", strings.Join(names[:], ", "))
	}
	return nil
}

// Shares returns the weights as parts of 1. w has passed Check, so its sum is not zero.
func (w Weights) Shares() Weights {
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	for c := range w {
		w[c] /= sum
	}
	return w
}

// String prints weights as they are typed: "suited=3,cost=2,ready=1,sure=2,risk=2".
func (w Weights) String() string {
	parts := make([]string, Count)
	for _, c := range Criteria() {
		// the fewest digits that read back to the same weight
		parts[c] = c.String() + "=" + strconv.FormatFloat(w[c], 'g', -1, 64)
	}
	return strings.Join(parts, ",")
}

// ParseWeights reads weights as typed, "suited=3,cost=2". Criteria that are not named keep the weight of [Proposal].
// The error tells every wrong part.
func ParseWeights(text string) (Weights, error) {
	// who types one weight wants to move that one and leave the rest
	w, named := Proposal(), [Count]bool{}
	var wrong []string
	for _, part := range strings.Split(text, ",") {
		name, number, found := strings.Cut(part, "=")
		c, known := CriterionByName(name)
		x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		switch {
		case !found:
			wrong = append(wrong, fmt.Sprintf("%q is not name=number", part))
		case !known:
			wrong = append(wrong, fmt.Sprintf("%q is not a criterion; there are %s", strings.TrimSpace(name), strings.Join(names[:], ", ")))
		case err != nil || math.IsNaN(x) || x < 0 || x > mostWeight:
			wrong = append(wrong, fmt.Sprintf("%s: %q is not a weight; give a number from 0 to %d", c, number, mostWeight))
		case named[c]:
			wrong = append(wrong, fmt.Sprintf("%s is given twice", c))
		default:
			w[c], named[c] = x, true
		}
	}
	if len(wrong) > 0 {
		return w, fmt.Errorf("%s", strings.Join(wrong, "; "))
	}
	return w, w.Check()
}
