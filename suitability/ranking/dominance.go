package ranking

import (
	"cmp"
	"slices"
	"sort"
)

// beats says whether a field is at least as good as another on every count and better on one. What is missing counts as
// bad as can be for the one that beats and as good as can be for the one that is beaten, so that nothing is claimed.
//
// Source: textbook definition of dominance (Pareto).
func (t *table) beats(a, b int) bool {
	// worth and not marks: two values far out on a scale may get marks that are equal once rounded
	x, y := &t.worth[a][atLeast], &t.worth[b][atMost]
	better := false
	for _, c := range t.used {
		if x[c] < y[c] {
			return false
		}
		better = better || x[c] > y[c]
	}
	return better
}

// mostNamed is how many fields that beat one are named. Reports name them in one line; more would not make the case stronger.
const mostNamed = 3

// dominance fills in the layers and who beats whom. Fields stand by rank, so whoever beats a field stands before it.
//
// Each field is put in the first layer that holds nobody who beats it. A layer that does is a sign of one in every layer
// before it, because who beats the one beats the other: halving the layers finds it. A layer is read from its latest
// member backwards, where the likely are. Time: n² comparisons at the very worst, when nobody beats anybody; each mostly ends at
// the first or second criterion.
// Source: efficient non-dominated sort, Zhang, Tian, Cheng and Jin 2015 (from memory, not checked); tested against all pairs.
func (t *table) dominance(ranked []Ranked) {
	// members of a layer in rising place, since fields come by place
	var layers [][]int // places
	for k := range ranked {
		beaten := func(layer int) bool {
			for _, other := range slices.Backward(layers[layer]) {
				if t.beats(t.order[other], t.order[k]) {
					return true
				}
			}
			return false
		}
		n := sort.Search(len(layers), func(layer int) bool { return !beaten(layer) })
		if n == len(layers) {
			layers = append(layers, nil)
		}
		layers[n] = append(layers[n], k)
		ranked[k].Layer = n + 1
	}
	for k := range ranked {
		if ranked[k].Layer > 1 {
			ranked[k].BeatenBy = t.firstBeating(layers[0], k)
		}
	}
}

// firstBeating names the best fields that beat one, all of the first layer: whoever is beaten is beaten by one of them.
func (t *table) firstBeating(first []int, k int) []int {
	var out []int
	// only those that stand before k can beat it
	end, _ := slices.BinarySearchFunc(first, k, cmp.Compare[int])
	for _, other := range first[:end] {
		if t.beats(t.order[other], t.order[k]) {
			if out = append(out, other); len(out) == mostNamed {
				break
			}
		}
	}
	return out
}
