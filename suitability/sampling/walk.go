package sampling

import "github.com/paulmach/orb"

// walk returns an order to visit points in: from the south-western one to the nearest each time, then bettered by turning
// stretches around as long as that shortens the way. Lines may cross what nobody can cross; nothing is known of gates.
func walk(points []orb.Point) []int {
	if len(points) == 0 {
		return nil
	}
	first := 0
	for i, p := range points {
		// metres east and north together: the least of them is the south-western corner
		if p[0]+p[1] < points[first][0]+points[first][1] {
			first = i
		}
	}
	order := []int{first}
	seen := make([]bool, len(points))
	seen[first] = true
	for len(order) < len(points) {
		last, next := points[order[len(order)-1]], -1
		for i, p := range points {
			if !seen[i] && (next < 0 || between(p, last) < between(points[next], last)) {
				next = i
			}
		}
		seen[next] = true
		order = append(order, next)
	}
	better(points, order)
	return order
}

// rounds bounds how often the whole way is gone through again.
const rounds = 30

// better turns stretches around; the first point stays.
func better(points []orb.Point, order []int) {
	at := func(i int) orb.Point { return points[order[i]] }
	for round := 0; round < rounds; round++ {
		done := true
		for i := 1; i < len(order)-1; i++ {
			for j := i + 1; j < len(order); j++ {
				// the two ends of the stretch are joined the other way round; the last point has no way on
				now, then := between(at(i-1), at(i)), between(at(i-1), at(j))
				if j+1 < len(order) {
					now += between(at(j), at(j+1))
					then += between(at(i), at(j+1))
				}
				// a micrometre, so that rounding never turns a stretch to and fro for ever
				if then < now-1e-6 {
					for a, b := i, j; a < b; a, b = a+1, b-1 {
						order[a], order[b] = order[b], order[a]
					}
					done = false
				}
			}
		}
		if done {
			return
		}
	}
}

// length is how long a way is.
func length(points []orb.Point, order []int) (m float64) {
	for i := 1; i < len(order); i++ {
		m += between(points[order[i-1]], points[order[i]])
	}
	return m
}
