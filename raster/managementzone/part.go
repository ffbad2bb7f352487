package managementzone

import (
	"math"
	"slices"
)

// mostClasses is how many steps of the values are told apart: finer ones change no zone that anybody would see.
const mostClasses = 512

// class is a run of units of nearly one mean.
type class struct{ weight, sum, most float64 }

// part returns the upper ends of the classes that part the units' means best, for as many as are worth it. The last end
// is infinite.
//
// For k classes the split with the least sum of squared distances to their means is found among all there are.
// Source: Fisher 1958, On grouping for maximum homogeneity (from memory, not checked).
func part(units []unit, o Options) []float64 {
	// Means of blocks are parted, not cells: what is never driven apart must not be parted.
	steps := classesOf(units)
	n := len(steps)
	if n == 0 {
		return []float64{math.Inf(1)}
	}
	within := newScatter(steps)
	most := min(o.Most, n)
	cost := make([][]float64, most+1) // cost[k][i]: of the first i steps in k classes
	from := make([][]int, most+1)     // where the last of them begins
	for k := range cost {
		// dynamic programming: the best split of the first i steps in k classes is a best split of fewer in k-1, and one
		// class more
		cost[k], from[k] = make([]float64, n+1), make([]int, n+1)
		for i := range cost[k] {
			cost[k][i] = math.Inf(1)
		}
	}
	cost[0][0] = 0
	best := 1
	for k := 1; k <= most; k++ {
		for i := k; i <= n; i++ {
			for j := k - 1; j < i; j++ {
				if c := cost[k-1][j] + within.of(j, i); c < cost[k][i] {
					cost[k][i], from[k][i] = c, j
				}
			}
		}
		// Gains fall from zone to zone only mostly, and the first that is too small ends the search: a fourth zone is
		// not asked for when the third was not worth it.
		if k > 1 {
			gain := cost[k-1][n] - cost[k][n]
			// also where the ground does not vary at all and both sides are 0
			if !(gain >= o.LeastGain*cost[1][n]) || gain <= 0 {
				break
			}
			best = k
		}
	}
	ends := []float64{math.Inf(1)}
	// back from the last class to the first
	for i, k := from[best][n], best-1; k > 0; i, k = from[k][i], k-1 {
		ends = append(ends, steps[i-1].most)
	}
	slices.Reverse(ends)
	return ends
}

// classesOf sorts the units into steps of rising mean, equal means in one.
func classesOf(units []unit) []class {
	order := make([]*unit, len(units))
	cells := 0
	for i := range units {
		order[i] = &units[i]
		cells += units[i].cells
	}
	slices.SortStableFunc(order, func(a, b *unit) int {
		switch x, y := a.mean(), b.mean(); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	var out []class
	// At least as many cells a step, so that a field of a million blocks costs no more than one of 512: the search grows
	// with the square.
	enough := float64(cells) / mostClasses
	for _, u := range order {
		m := u.mean()
		if len(out) == 0 || m > out[len(out)-1].most && out[len(out)-1].weight >= enough {
			out = append(out, class{})
		}
		c := &out[len(out)-1]
		c.weight += float64(u.cells)
		c.sum += float64(u.cells) * m
		c.most = m
	}
	return out
}

// scatter gives the sum of squared distances to the mean of any run of steps, from running sums about the mean of all.
type scatter struct{ weight, sum, squares []float64 }

// newScatter sums up the steps from the left, so that any run of them is a difference of two sums.
func newScatter(steps []class) scatter {
	total, weight := 0.0, 0.0
	for _, c := range steps {
		total, weight = total+c.sum, weight+c.weight
	}
	mean := total / weight
	s := scatter{make([]float64, 1), make([]float64, 1), make([]float64, 1)}
	for i, c := range steps {
		// about the mean of all, or squares of large values would cancel
		d := c.sum/c.weight - mean
		s.weight = append(s.weight, s.weight[i]+c.weight)
		s.sum = append(s.sum, s.sum[i]+c.weight*d)
		s.squares = append(s.squares, s.squares[i]+c.weight*d*d)
	}
	return s
}

// of returns the scatter of steps from i up to j, which is not counted.
func (s scatter) of(i, j int) float64 {
	w, sum := s.weight[j]-s.weight[i], s.sum[j]-s.sum[i]
	return math.Max(0, s.squares[j]-s.squares[i]-sum*sum/w)
}
