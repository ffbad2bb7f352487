package arrange

import "slices"

// split takes the polygons of several classes of ground at once. classes gives, for a winding vector, the classes
// (0..n-1, rising) that ground of it belongs to; it must give none for the vector nil. Each edge goes only to the
// classes it bounds, so the work grows with the borders and not with borders times classes.
func (lb *labelled) split(n int, classes func([]wind) []int32) [][]Polygon {
	// Faces share their winding vectors, of which there are few: each is asked for its classes once. Number 0 is nil,
	// ground that no layer goes round.
	of := make([][]int32, len(lb.winds.vecs))
	for i, v := range lb.winds.vecs {
		if i > 0 {
			of[i] = classes(v)
		}
	}
	borders := make([][]border, n)
	for e := range lb.edges {
		under, over := of[lb.under[e]], of[lb.over[e]]
		for len(under) > 0 || len(over) > 0 {
			switch {
			case len(over) == 0 || len(under) > 0 && under[0] < over[0]:
				borders[under[0]] = append(borders[under[0]], border{int32(e), groundBelow})
				under = under[1:]
			case len(under) == 0 || over[0] < under[0]:
				borders[over[0]] = append(borders[over[0]], border{int32(e), groundAbove})
				over = over[1:]
			default: // the class is on both sides
				under, over = under[1:], over[1:]
			}
		}
	}
	w := newWalker(lb)
	out := make([][]Polygon, n)
	for k, b := range borders {
		out[k] = w.trace(b)
	}
	return out
}

// layersAbove returns the layers that wind more than zero times, in order.
func layersAbove(v []wind) (layers []int32) {
	for _, w := range v {
		if w.count > 0 {
			layers = append(layers, w.layer)
		}
	}
	return slices.Clip(layers)
}
