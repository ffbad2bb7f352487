package overlay

// slab holds the rings of many polygons end to end, without a pointer in it: nothing for the collector to follow, and
// no growing (a polygon that does not fit begins a new slab).
type slab struct {
	pts    []offset
	boxes  []offbox // of chunk i: points 8i … 8i+8
	edges  []uint8  // number of edges in chunk i
	supers []offbox // sixteen chunks of one polygon each, begun anew with every polygon
	rings  []span   // start relative to the polygon's first point
}

// Slabs grow from firstSlab to lastSlab points (32 kiB to 2 MiB), so that a small survey stays small.
const (
	firstSlab = 1 << 12
	lastSlab  = 1 << 18
)

func newSlab(points int) *slab {
	return &slab{
		pts:   make([]offset, 0, points),
		boxes: make([]offbox, 0, points/chunk),
		edges: make([]uint8, 0, points/chunk),
	}
}

// room says whether a polygon of that many points (rings padded) still fits.
func (s *slab) room(points int) bool { return len(s.pts)+points <= cap(s.pts) }

// mark is a place in a slab: where a polygon begins or ends.
type mark struct{ pts, supers, rings uint32 }

func (s *slab) mark() mark {
	return mark{uint32(len(s.pts)), uint32(len(s.supers)), uint32(len(s.rings))}
}

// reset drops everything after m.
func (s *slab) reset(m mark) {
	s.pts, s.boxes, s.edges = s.pts[:m.pts], s.boxes[:m.pts/chunk], s.edges[:m.pts/chunk]
	s.supers, s.rings = s.supers[:m.supers], s.rings[:m.rings]
}

// addRing boxes the chunks of a ring of n edges whose points lie in the slab from start on, closed; and returns twice
// its area.
func (s *slab) addRing(from mark, start, n int) (area int64) {
	s.rings = append(s.rings, span{int32(start - int(from.pts)), int32(n)})
	// n edges have n+1 points: when n is a multiple of chunk, the repeated point opens a chunk without edges.
	first, end := start/chunk, (start+padded(n+1))/chunk
	pts := s.pts[start : start+n+1]
	s.pts, s.boxes, s.edges = s.pts[:end*chunk], s.boxes[:end], s.edges[:end]
	boxes := s.boxes[first:]
	edges := s.edges[first:][:len(boxes)]
	for i := range boxes {
		k := min(chunk, len(pts)-1)
		edges[i] = uint8(k)
		if k == 0 {
			boxes[i] = noEdges()
			break
		}
		b, a := measureChunk(pts[:k+1])
		boxes[i] = b
		area += a
		pts = pts[k:]
	}
	return area
}

// noEdges returns the box of a chunk without edges: it meets nothing, and no box grows by it.
func noEdges() offbox { return offbox{1<<31 - 1, 1<<31 - 1, 0, 0} }

// boxAgain boxes the chunks of a ring anew, whose points have been put into another order.
func (s *slab) boxAgain(start, n int) {
	for i := 0; i < n; i += chunk {
		s.boxes[(start+i)/chunk], _ = measureChunk(s.pts[start+i : start+min(i+chunk, n)+1])
	}
}

// measureChunk returns the box around a run of edges, and its share in twice the ring's area.
func measureChunk(pts []offset) (box offbox, area int64) {
	px, py := pts[0].x, pts[0].y
	x0, y0, x1, y1 := px, py, px, py
	for _, q := range pts[1:] {
		area += (int64(px) + int64(q.x)) * (int64(q.y) - int64(py))
		px, py = q.x, q.y
		x0, x1 = min(x0, px), max(x1, px)
		y0, y1 = min(y0, py), max(y1, py)
	}
	return offbox{x0, y0, x1, y1}, area
}

// addSupers boxes the chunks of the polygon that began at from and returns the box of all.
func (s *slab) addSupers(from mark) offbox {
	all := noEdges()
	for boxes := s.boxes[int(from.pts)/chunk:]; len(boxes) > 0; {
		n := min(superChunk, len(boxes))
		b := noEdges()
		for i := range boxes[:n] {
			b.grow(boxes[i])
		}
		s.supers = append(s.supers, b)
		all.grow(b)
		boxes = boxes[n:]
	}
	return all
}
