package arrange

import (
	"slices"

	"rootworthy/internal/geo"
)

// edge is a straight line of the arrangement from its lesser end a to its greater end b, with what it adds to the
// winding vector of the face on its right (below) to give that of the face on its left (above).
type edge struct {
	a, b  geo.Pt
	delta int32
}

// lines gathers the rings of all layers as edges. Direction and number of runs along an edge survive only in its
// winding vector, so the order, start and direction in which rings were given is forgotten from here on.
type lines struct {
	edges []edge
	winds *windings
}

func newLines() *lines { return &lines{winds: newWindings()} }

// addRing adds a closed ring (first point not repeated) to a layer. Repeated points are skipped.
func (l *lines) addRing(ring []geo.Pt, layer int) {
	up, down := l.winds.single(int32(layer), 1), l.winds.single(int32(layer), -1)
	for i, b := range ring {
		a := ring[(i+len(ring)-1)%len(ring)]
		if a.Less(b) {
			l.edges = append(l.edges, edge{a, b, up})
		} else if b.Less(a) {
			l.edges = append(l.edges, edge{b, a, down})
		}
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

// merge sorts the edges by their ends and makes one of those that are alike. Edges that add nothing to any layer (a
// line walked to and fro, the common line of two parts in one layer) vanish: dissolving is no more than this.
func (l *lines) merge() {
	slices.SortFunc(l.edges, compareEdges)
	kept := l.edges[:0]
	for i := 0; i < len(l.edges); {
		e := l.edges[i]
		for i++; i < len(l.edges) && l.edges[i].a == e.a && l.edges[i].b == e.b; i++ {
			e.delta = l.winds.add(e.delta, l.edges[i].delta)
		}
		if e.delta != 0 {
			kept = append(kept, e)
		}
	}
	l.edges = kept
}

// compareEdges orders edges by their lesser ends, then by their greater ends.
func compareEdges(e, f edge) int {
	if c := e.a.Compare(f.a); c != 0 {
		return c
	}
	return e.b.Compare(f.b)
}
