package web

import (
	"slices"
	"sync"

	"rootworthy/export"
	"rootworthy/suitability"
)

// loaded is a run in memory, in the order of its files.
type loaded struct {
	result *suitability.Result
	zones  []*suitability.Zone // as every file lists them; a zone's place here is its number in the page
	field  map[string]int      // place of a field by id
	sums   []export.Sum
	found  []string // by zone, in small letters: what a search looks through

	shapes packed
	plans  planShelf
	relief func() *relief // likewise; nil without heights

	chances func() *chances // how sure it is, likewise
	bags    samplings
	ranks   rankings
	money   reckoned

	mu    sync.Mutex
	last  *scene // the latest what-if: a page asks about it several times
	plain *scene // nothing moved
}

func newLoaded(r *suitability.Result) *loaded {
	l := &loaded{result: r, zones: export.Zones(r), field: map[string]int{}, sums: export.Sums(r), relief: reliefOf(nil, r)}
	for i := range r.Fields {
		l.field[r.Fields[i].ID] = i
	}
	l.found = make([]string, len(l.zones))
	for i, z := range l.zones {
		l.found[i] = searchText(z)
	}
	l.shapes = newPacked(l)
	l.chances = sync.OnceValue(func() *chances { return newChances(l.result) })
	return l
}

// place is where a zone stands in the list of the run.
func (l *loaded) place(z *suitability.Zone) int {
	return slices.IndexFunc(l.zones, func(x *suitability.Zone) bool { return x.ID == z.ID })
}
