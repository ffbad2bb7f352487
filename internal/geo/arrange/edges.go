package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// edge is a straight line of the arrangement from its lesser end a to its greater end b, numbers of points, with what
// it adds to the winding vector of the face on its right (below) to give that of the face on its left (above).
type edge struct{ a, b, delta int32 }

// lines gathers the rings of all layers as edges between points. Direction and number of runs along an edge survive
// only in its winding vector, so the order, start and direction in which rings were given is forgotten from here on.
type lines struct {
	points []geo.Pt // once merged: in order, each once
	edges  []edge   // once merged: in order of their ends, each once
	starts []int32  // once merged: per point the first edge that starts there; one more at the end
	winds  *windings
}

func newLines() *lines { return &lines{winds: newWindings()} }

// addRing adds a closed ring (first point not repeated) to a layer. Repeated points are skipped.
func (l *lines) addRing(ring []geo.Pt, layer int) {
	up, down := l.winds.single(int32(layer), 1), l.winds.single(int32(layer), -1)
	first := int32(len(l.points))
	for _, p := range ring {
		if n := len(l.points); n == int(first) || l.points[n-1] != p {
			l.points = append(l.points, p)
		}
	}
	n := int32(len(l.points))
	for i := first; i < n; i++ {
		j := i + 1
		if j == n {
			j = first
		}
		l.add(i, j, up, down)
	}
}

// add adds an edge from point i to point j, with what it adds if it runs upwards in the order of points or downwards.
func (l *lines) add(i, j, up, down int32) {
	switch c := l.points[i].Compare(l.points[j]); {
	case c < 0:
		l.edges = append(l.edges, edge{i, j, up})
	case c > 0:
		l.edges = append(l.edges, edge{j, i, down})
	}
}

// addPolygons adds all rings of parts to a layer.
func (l *lines) addPolygons(parts []Polygon, layer int) {
	for _, part := range parts {
		for _, ring := range part {
			l.addRing(ring, layer)
		}
	}
}

// ends returns the ends of an edge.
func (l *lines) ends(e int32) (a, b geo.Pt) { return l.points[l.edges[e].a], l.points[l.edges[e].b] }

// merge sorts points and edges and makes one of those that are alike. Edges are put by their first ends by counting, as
// those are numbers of points, and only within the few of each end by their second. Edges that add nothing to any layer (a line
// walked to and fro, the common line of two parts in one layer) vanish: dissolving is no more than this.
func (l *lines) merge() {
	l.sortPoints()
	n := len(l.points)
	starts := countBy(l.edges, n, func(e *edge) int32 { return e.a })
	sorted := make([]edge, len(l.edges))
	next := slices.Clone(starts)
	for _, e := range l.edges {
		sorted[next[e.a]] = e
		next[e.a]++
	}
	l.edges = l.edges[:0]
	for v := range n {
		fan := sorted[starts[v]:starts[v+1]]
		starts[v] = int32(len(l.edges))
		slices.SortFunc(fan, func(e, f edge) int { return int(e.b - f.b) })
		for i := 0; i < len(fan); {
			e := fan[i]
			for i++; i < len(fan) && fan[i].b == e.b; i++ {
				e.delta = l.winds.add(e.delta, fan[i].delta)
			}
			if e.delta != 0 {
				l.edges = append(l.edges, e)
			}
		}
	}
	starts[n] = int32(len(l.edges))
	l.starts = starts
}

// sortPoints puts points in order, each once, and renumbers the ends of edges.
func (l *lines) sortPoints() {
	type numbered struct {
		geo.Pt
		n int32
	}
	order := make([]numbered, len(l.points))
	for i, p := range l.points {
		order[i] = numbered{p, int32(i)}
	}
	slices.SortFunc(order, func(p, q numbered) int { return p.Compare(q.Pt) })
	rank := make([]int32, len(order))
	l.points = l.points[:0]
	for _, p := range order {
		if n := len(l.points); n == 0 || l.points[n-1] != p.Pt {
			l.points = append(l.points, p.Pt)
		}
		rank[p.n] = int32(len(l.points) - 1)
	}
	for i := range l.edges {
		e := &l.edges[i]
		e.a, e.b = rank[e.a], rank[e.b]
	}
}

// countBy returns, for each of n keys and one more, how many edges have a lesser key.
func countBy(edges []edge, n int, key func(*edge) int32) []int32 {
	at := make([]int32, n+1)
	for i := range edges {
		at[key(&edges[i])+1]++
	}
	for i := range n {
		at[i+1] += at[i]
	}
	return at
}
