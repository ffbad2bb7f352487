package change

import (
	"cmp"
	"context"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/overlay"
	"rootworthy/suitability"
)

// likeness is ground that a field of the first run shares with one of the second.
type likeness struct {
	a, b   int
	shared float64 // m²
}

// sameField is the share of the smaller of two fields of one id that the other must hold to be the same field. Neighbours whose numbers moved
// by one overlap along their common line by a few parts in a hundred at most; by proposal.
const sameField = 0.1

// match puts fields together that lie on one another.
//
// Fields of one id that share some ground belong together, whatever was done to the boundary. Of the rest two belong together if each holds
// more than half of the other: no field holds more than half of two that do not overlap. What is then left over joins the field that holds
// half of it or more: a field that was split in two, or two that were joined. Every step looks at the ground alone, alike from both
// runs, so exchanging them gives the same groups.
func match(ctx context.Context, a, b *suitability.Result, in ground) ([]Fields, error) {
	shared, err := in.shared(ctx, a, b)
	if err != nil {
		return nil, err
	}
	m := matching{groups: newGroups(len(a.Fields), len(b.Fields)), taken: [2][]bool{make([]bool, len(a.Fields)), make([]bool, len(b.Fields))}}
	areas := [2][]float64{in.areas(a), in.areas(b)}
	// Ids first: who redraws a boundary by much means the same field still.
	for _, s := range shared {
		if a.Fields[s.a].ID == b.Fields[s.b].ID && s.shared > sameField*min(areas[0][s.a], areas[1][s.b]) {
			m.take(s)
		}
	}
	// The most first: where fields of one run overlap, the better partner is taken.
	slices.SortStableFunc(shared, func(x, y likeness) int { return cmp.Compare(y.shared, x.shared) })
	for _, s := range shared {
		if !m.taken[0][s.a] && !m.taken[1][s.b] && s.shared > areas[0][s.a]/2 && s.shared > areas[1][s.b]/2 {
			m.take(s)
		}
	}
	m.join(shared, areas)
	return m.fields(), nil
}

// matching is which fields have found their like.
type matching struct {
	groups
	taken [2][]bool
}

func (m *matching) take(s likeness) {
	m.taken[0][s.a], m.taken[1][s.b] = true, true
	m.union(s.a, m.second+s.b)
}

// join gives every field that is left over to the one that holds most of it, where that is half of it or more.
func (m *matching) join(shared []likeness, areas [2][]float64) {
	// Beside taken and not into it: two parts of a field may both join it, in whatever order they come.
	joined := [2][]bool{slices.Clone(m.taken[0]), slices.Clone(m.taken[1])}
	for _, s := range shared { // by falling ground: the first that serves is the best
		if !joined[0][s.a] && s.shared >= areas[0][s.a]/2 || !joined[1][s.b] && s.shared >= areas[1][s.b]/2 {
			joined[0][s.a], joined[1][s.b] = joined[0][s.a] || s.shared >= areas[0][s.a]/2, joined[1][s.b] || s.shared >= areas[1][s.b]/2
			m.union(s.a, m.second+s.b)
		}
	}
}

// fields lists the groups by their first field.
func (m *matching) fields() []Fields {
	var out []Fields
	place := map[int]int{} // of a root in out; roots are the least numbers, so groups come in the order of the first run
	for i := range m.parent {
		root := m.root(i)
		at, ok := place[root]
		if !ok {
			at = len(out)
			place[root] = at
			out = append(out, Fields{})
		}
		if i < m.second {
			out[at].A = append(out[at].A, i)
		} else {
			out[at].B = append(out[at].B, i-m.second)
		}
	}
	return out
}

// groups are sets of fields, joined by and by; the fields of the second run are numbered behind those of the first.
type groups struct {
	parent []int
	second int // number of the second run's first field
}

func newGroups(a, b int) groups {
	g := groups{make([]int, a+b), a}
	for i := range g.parent {
		g.parent[i] = i
	}
	return g
}

// root is the least number in the set of i.
func (g *groups) root(i int) int {
	for g.parent[i] != i {
		g.parent[i] = g.parent[g.parent[i]] // halves the way for the next one who asks
		i = g.parent[i]
	}
	return i
}

func (g *groups) union(i, j int) {
	i, j = g.root(i), g.root(j)
	g.parent[max(i, j)] = min(i, j)
}

// shared cuts the fields of one run by those of the other.
func (in ground) shared(ctx context.Context, a, b *suitability.Result) ([]likeness, error) {
	cover := overlay.New()
	for i := range b.Fields {
		if err := in.take(cover, uint32(i), b.Fields[i].Shape); err != nil {
			return nil, about(&b.Fields[i], err)
		}
	}
	var out []likeness
	var fault error
	fields := func(yield func(int, orb.MultiPolygon) bool) {
		for i := range a.Fields {
			shape, err := in.plane.ForwardMultiPolygon(a.Fields[i].Shape, true)
			if err != nil {
				fault = about(&a.Fields[i], err)
				return
			}
			if !yield(i, shape) {
				return
			}
		}
	}
	// One worker, since the fields of a run are few against their zones, and the fault above is then read after it was written.
	err := cover.Run(ctx, fields, overlay.Options{Workers: 1, Dissolve: true}, func(c overlay.Cut) error {
		for _, p := range c.Pieces { // dissolved: one for each field that shares ground
			out = append(out, likeness{c.Field, int(p.Key), p.Area})
		}
		return nil
	})
	if err == nil {
		err = fault
	}
	return out, err
}
