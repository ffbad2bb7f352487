package overlay

import "rootworthy/internal/geo"

// What a field needs of the survey is scattered over memory that no cache holds, and much time would pass in waiting for
// it, piece after piece: a look at a box decides what to look at next. So a field goes up to all its polygons together,
// step by step, and each step first reads a word of every line of memory that it will need. These reads do not depend on
// each other, and waiting for all of them takes hardly longer than for one:
//
//	polygons ── super boxes ── boxes of chunks ── points
//
// Nor does the way through the boxes branch on what it finds: a number is always written and only counted if it is
// wanted, as a processor that has guessed wrong waits for what it guessed about.

// atOnce is how many polygons a field goes up to together.
const atOnce = 64

// cacheLine is how many bytes of memory come at once, at least.
const cacheLine = 64

// nearSuper is a super chunk whose box meets the field's.
type nearSuper struct{ view, super int32 }

// approach views the polygons with these numbers, and finds for each the chunks whose boxes meet the field's.
func (w *worker) approach(ids []uint32) error {
	for len(w.views) < len(ids) {
		w.views = append(w.views, soil{})
	}
	views := w.views[:len(ids)]
	seen := int32(0)
	for _, id := range ids {
		seen += int32(w.cov.polygons[id].key)
	}
	for i, id := range ids {
		if err := w.cov.view(id, &views[i]); err != nil {
			return err
		}
	}
	for i := range views {
		for k := 0; k < len(views[i].supers); k += 2 * cacheLine / 16 {
			seen += views[i].supers[k].x0
		}
	}
	w.supers, w.near = w.supers[:0], w.near[:0]
	for i := range views {
		w.nearSupers(&views[i], int32(i))
	}
	for _, n := range w.supers {
		s := &views[n.view]
		first := int(n.super) * superChunk
		boxes := s.boxes[first:min(first+superChunk, len(s.boxes))]
		for k := 0; k < len(boxes); k += cacheLine / 16 {
			seen += boxes[k].x0
		}
	}
	k := 0
	for i := range views {
		s := &views[i]
		s.nearFrom = int32(len(w.near))
		for ; k < len(w.supers) && w.supers[k].view == int32(i); k++ {
			w.nearChunks(s, int(w.supers[k].super))
		}
		s.nearTo = int32(len(w.near))
	}
	for i := range views {
		s := &views[i]
		for _, c := range w.near[s.nearFrom:s.nearTo] { // mostly a chunk's points are one line of memory
			seen += s.pts[c*chunk].x + s.pts[c*chunk+chunk/2].x
		}
	}
	w.fetched += seen
	return nil
}

// nearSupers notes which super boxes of view s, number i, meet the field's box.
func (w *worker) nearSupers(s *soil, i int32) {
	s.clamp(&w.field.box)
	q := &s.land
	m := len(w.supers)
	w.supers = roomFor(w.supers, len(s.supers))
	for k := range s.supers {
		w.supers[m] = nearSuper{i, int32(k)}
		m += q.meets(&s.supers[k])
	}
	w.supers = w.supers[:m]
}

// nearChunks notes which chunks of a super chunk have boxes that meet the field's.
func (w *worker) nearChunks(s *soil, super int) {
	first := super * superChunk
	boxes := s.boxes[first:min(first+superChunk, len(s.boxes))]
	q := &s.land
	m := len(w.near)
	w.near = roomFor(w.near, len(boxes))
	near := w.near
	for k := range boxes {
		near[m] = int32(first + k)
		m += q.meets(&boxes[k])
	}
	w.near = w.near[:m]
}

// roomFor returns s longer by n.
func roomFor[T any](s []T, n int) []T {
	for cap(s) < len(s)+n {
		s = append(s[:cap(s)], *new(T))[:len(s)]
	}
	return s[:len(s)+n]
}

// again views a polygon that has been made valid since.
func (w *worker) again(id uint32) error {
	s := w.soil
	err := w.cov.view(id, s)
	s.clamp(&w.field.box)
	s.nearFrom = int32(len(w.near))
	for k := range s.supers {
		if s.land.meets(&s.supers[k]) != 0 {
			w.nearChunks(s, k)
		}
	}
	s.nearTo = int32(len(w.near))
	return err
}

// clamp keeps the box b of the field as offsets, cut off where they end: whoever lies in the polygon's box is still found.
func (s *soil) clamp(b *geo.Box) {
	cut := func(v int64) int32 { return int32(max(0, min(v, 1<<31-1))) }
	land := offbox{cut(b.X0 - s.origin.X), cut(b.Y0 - s.origin.Y), cut(b.X1 - s.origin.X), cut(b.Y1 - s.origin.Y)}
	s.land = land.pane()
}
