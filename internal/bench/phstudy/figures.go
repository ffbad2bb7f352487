package main

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// figure is one number about pairs; it may have no answer.
// A figure without an answer is printed as none, never as 0.
type figure struct {
	name string
	of   func([]pair) (v float64, ok bool)
}

// figures are those of the study, in the order of its table.
func figures() []figure {
	share := func(in func(pair) bool) func([]pair) (float64, bool) {
		return func(p []pair) (float64, bool) {
			n := 0.0
			for _, x := range p {
				if in(x) {
					n++
				}
			}
			return n / float64(len(p)), len(p) > 0
		}
	}
	return []figure{
		{"survey less test, mean", bias},
		{"root mean square", rmse},
		{"tests in the mean range", share(func(p pair) bool { return p.low <= p.lab && p.lab <= p.high })},
		{"tests in the range of some soil there", share(func(p pair) bool { return p.lowest <= p.lab && p.lab <= p.highest })},
		{"rank correlation", spearman},
		// 6.2 and 6.5 are the limits of the crop profile for surface pH.
		{"same side of 6.2", share(func(p pair) bool { return (p.lab >= 6.2) == (p.survey >= 6.2) })},
		{"same side of 6.5", share(func(p pair) bool { return (p.lab >= 6.5) == (p.survey >= 6.5) })},
		{"same of the three classes", share(func(p pair) bool { return class(p.lab) == class(p.survey) })},
	}
}

// class of a surface pH: under 6.2, up to 6.5, or more. Source of the limits: the crop profile.
func class(ph float64) int {
	switch {
	case ph < 6.2:
		return 0
	case ph < 6.5:
		return 1
	}
	return 2
}

// bias is over 0 where the survey is less acid than the test.
func bias(p []pair) (float64, bool) {
	sum := 0.0
	for _, x := range p {
		sum += x.survey - x.lab
	}
	return sum / float64(len(p)), len(p) > 0
}

func rmse(p []pair) (float64, bool) {
	sum := 0.0
	for _, x := range p {
		sum += (x.survey - x.lab) * (x.survey - x.lab)
	}
	return math.Sqrt(sum / float64(len(p))), len(p) > 0
}

// spearman is the correlation of ranks, equal values sharing their mean rank. Without differences on one side there is none.
func spearman(p []pair) (float64, bool) {
	a := ranks(p, func(x pair) float64 { return x.survey })
	b := ranks(p, func(x pair) float64 { return x.lab })
	mean := float64(len(p)+1) / 2
	var ab, aa, bb float64
	for i := range p {
		x, y := a[i]-mean, b[i]-mean
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	return ab / math.Sqrt(aa*bb), len(p) > 2 && aa > 0 && bb > 0
}

// ranks returns the rank of each pair by a value, from 1; equal values share the mean of their ranks.
func ranks(p []pair, of func(pair) float64) []float64 {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(of(p[i]), of(p[j])) })
	out := make([]float64, len(p))
	// Each turn takes all that are equal; ranks count from 1, and the mean of i+1 to j is (i+j+1)/2.
	for i := 0; i < len(order); {
		j := i
		for j < len(order) && of(p[order[j]]) == of(p[order[i]]) {
			j++
		}
		for k := i; k < j; k++ {
			out[order[k]] = float64(i+j+1) / 2
		}
		i = j
	}
	return out
}

// leastClusters is under how many clusters no interval is given: drawing from so few says nothing.
const leastClusters = 5

// interval holds a figure 19 times in 20 by the percentile bootstrap: clusters are drawn with replacement, with all their pairs.
//
// Source: Efron and Tibshirani, An Introduction to the Bootstrap (1993), percentile interval; from memory, not checked; the test
// counts how often the interval of a mean holds the truth.
func interval(p []pair, f figure, seed uint64, draws int) (low, high float64, ok bool) {
	clusters := byCluster(p)
	if len(clusters) < leastClusters {
		return 0, 0, false
	}
	// The same draws for every figure, so that rows of a table can be compared.
	r := rand.New(rand.NewPCG(seed, 0xb007))
	var all []float64
	var drawn []pair
	for range draws {
		// Clusters and not pairs are drawn: bags of one field on one soil are nearly one observation, and pairs drawn singly
		// would make the interval too narrow.
		drawn = drawn[:0]
		for range clusters {
			drawn = append(drawn, clusters[r.IntN(len(clusters))]...)
		}
		// A draw may lack the figure, as a rank correlation among equal values; the interval is then of the draws that have it.
		if v, ok := f.of(drawn); ok {
			all = append(all, v)
		}
	}
	if len(all) == 0 {
		return 0, 0, false
	}
	slices.Sort(all)
	at := func(q float64) float64 { return all[int(math.Round(q*float64(len(all)-1)))] }
	return at(0.025), at(0.975), true
}

// byCluster groups pairs, in the order in which clusters first appear.
func byCluster(p []pair) (out [][]pair) {
	place := map[string]int{}
	for _, x := range p {
		i, ok := place[x.cluster]
		if !ok {
			i = len(out)
			place[x.cluster] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], x)
	}
	return out
}
