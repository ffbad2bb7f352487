package arrange

import (
	"container/heap"
	"math"
	"slices"

	"rootworthy/internal/geo"
)

// Simplify thins out the lines of a coverage for drawing: corners whose triangle with their neighbours is smaller
// than tolerance² grid units² go, smallest first (Visvalingam and Whyatt 1993). Lines that layers share are thinned
// alike, corners where three lines meet stay, and no line ever jumps over a corner, so neighbours stay neighbours and
// islands stay where they are. No ring goes below three corners. Not for areas.
//
// Why nothing crosses: a corner v between u and w goes only if no other corner lies in the closed triangle u, v, w. No
// line can then pass through the triangle: it has no end in it, cannot cross u-v or v-w, and a straight line does not
// enter and leave through u-w. So moving the line from u-v-w to u-w sweeps over nothing.
func Simplify(layers [][]Polygon, tolerance float64) [][]Polygon {
	lb := covering(layers)
	t := newThinner(lb, tolerance*tolerance)
	t.run()
	return t.lines().noded().split(len(layers), layersAbove)
}

// link is one end of an edge: the corner at the other end, and what the edge, going there, adds to the face on its
// right to give that on its left.
type link struct {
	to    int32
	delta int32
}

// thinner holds the graph of corners while they go.
type thinner struct {
	lb     *labelled
	limit  float64 // area below which a corner goes
	links  [][]link
	gone   []bool
	tree   *boxTree
	near   []int32
	queue  corners
	latest []float64 // per corner: its area as last put in the queue
}

func newThinner(lb *labelled, limit float64) *thinner {
	n := len(lb.points)
	t := &thinner{lb: lb, limit: limit, links: make([][]link, n), gone: make([]bool, n), latest: make([]float64, n)}
	for _, e := range lb.edges {
		t.links[e.a] = append(t.links[e.a], link{e.b, e.delta})
		t.links[e.b] = append(t.links[e.b], link{e.a, lb.winds.neg(e.delta)})
	}
	boxes := make([]geo.Box, n)
	for i, p := range lb.points {
		boxes[i] = boxOf(p, p)
	}
	t.tree = newBoxTree(boxes)
	return t
}

// run removes corners until none is below the limit.
func (t *thinner) run() {
	for v := range t.links {
		t.put(int32(v))
	}
	for len(t.queue) > 0 {
		c := heap.Pop(&t.queue).(corner)
		if t.gone[c.at] || c.area != t.latest[c.at] || !t.removable(c.at) {
			continue
		}
		u, w := t.remove(c.at)
		t.put(u)
		t.put(w)
	}
}

// put queues a corner between two lines if its triangle is small enough.
func (t *thinner) put(v int32) {
	if len(t.links[v]) != 2 {
		return
	}
	p := t.lb.points
	o, a, b := p[v], p[t.links[v][0].to], p[t.links[v][1].to]
	area := math.Abs(float64(a.X-o.X)*float64(b.Y-o.Y)-float64(b.X-o.X)*float64(a.Y-o.Y)) / 2
	t.latest[v] = area
	if area < t.limit {
		heap.Push(&t.queue, corner{area, v})
	}
}

// removable says whether the triangle of v and its neighbours is free, and its neighbours are not joined already.
func (t *thinner) removable(v int32) bool {
	u, w := t.links[v][0].to, t.links[v][1].to
	if slices.ContainsFunc(t.links[u], func(l link) bool { return l.to == w }) {
		return false
	}
	p := t.lb.points
	a, b, c := p[u], p[v], p[w]
	reach := boxOf(a, b)
	reach.Grow(boxOf(c, c))
	t.near = t.tree.find(reach, t.near[:0])
	return !slices.ContainsFunc(t.near, func(i int32) bool {
		return i != u && i != v && i != w && !t.gone[i] && inTriangle(p[i], a, b, c)
	})
}

// inTriangle says whether p lies in the closed triangle a, b, c, which may be flat; p is then known to lie in its box.
func inTriangle(p, a, b, c geo.Pt) bool {
	s1, s2, s3 := geo.Orient(a, b, p), geo.Orient(b, c, p), geo.Orient(c, a, p)
	return min(s1, s2, s3) >= 0 || max(s1, s2, s3) <= 0
}

// remove takes out corner v and joins its neighbours.
func (t *thinner) remove(v int32) (u, w int32) {
	u, w = t.links[v][0].to, t.links[v][1].to
	t.gone[v] = true
	t.relink(u, v, w)
	t.relink(w, v, u)
	return u, w
}

// relink makes the line from u to v go on to w. What it adds stays the same, as no line ends in v.
func (t *thinner) relink(u, v, w int32) {
	for i := range t.links[u] {
		if t.links[u][i].to == v {
			t.links[u][i].to = w
		}
	}
}

// lines returns what is left.
func (t *thinner) lines() *lines {
	l := &lines{winds: t.lb.winds, points: t.lb.points}
	for v, links := range t.links {
		for _, k := range links {
			if !t.gone[v] && int(k.to) > v { // corners are numbered in order
				l.edges = append(l.edges, edge{int32(v), k.to, k.delta})
			}
		}
	}
	l.merge()
	return l
}

// corner waits for its turn.
type corner struct {
	area float64
	at   int32
}

// corners is a heap, the smallest triangle first.
type corners []corner

func (q corners) Len() int { return len(q) }
func (q corners) Less(i, j int) bool {
	return q[i].area < q[j].area || q[i].area == q[j].area && q[i].at < q[j].at
}
func (q corners) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *corners) Push(x any)   { *q = append(*q, x.(corner)) }
func (q *corners) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
