package ranking

import (
	"slices"
	"strings"
)

// Criterion is one count on which fields are compared. It indexes [Weights], [Field].Measures and the like.
type Criterion uint8

// The criteria, in the order of every output. The order also settles equal scores.
const (
	Suited Criterion = iota // m² suited once limed
	Cost                    // of a suited m²: money, or kg of lime, by [Options].Basis
	Ready                   // days until at least half of the suited ground can be sown
	Sure                    // chance, 0…1, that the field is suited enough
	Risk                    // share, 0…1, of the ground called suited that may prove worse
	Count                   // how many there are; not a criterion
)

// Criteria lists them all in that order.
func Criteria() []Criterion { return []Criterion{Suited, Cost, Ready, Sure, Risk} }

// names are the stable names, by criterion.
var names = [Count]string{"suited", "cost", "ready", "sure", "risk"}

// String returns the name by which weights are set and columns are headed.
func (c Criterion) String() string {
	if c < Count {
		return names[c]
	}
	return "no criterion"
}

// CriterionByName returns the criterion of a name in any case; ok is false for any other word.
func CriterionByName(name string) (c Criterion, ok bool) {
	i := slices.Index(names[:], strings.ToLower(strings.TrimSpace(name)))
	// an index of -1 must not become a large unsigned number in a value that somebody uses without looking at ok
	return Criterion(max(i, 0)), i >= 0
}

// Basis says what the cost of a suited acre is counted in.
type Basis uint8

// The bases. Without prices the lime stands for the cost: it is the largest part that differs from field to field.
const (
	ByLime  Basis = iota // kg of lime, 100 % CCE, per suited m²
	ByMoney              // money of the user's prices per suited m²
)

// Start says what days of readiness are counted to.
type Start uint8

// The starts. Without a day and a region no sowing window is known, and the wait after the lime stands for it.
const (
	ByWait   Start = iota // days from the first pass of lime until the last has worked
	ByWindow              // days from today until the first sowing window that is then open
)
