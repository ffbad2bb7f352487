package overlay

import "rootworthy/internal/geo"

// soil is one survey polygon as an overlay sees it: a view into its slab, or a figure where it is too wide for that. Views
// are taken anew for every field and hold on to nothing that is written to later: a polygon made valid meanwhile gets a new
// slab, and the old one stays as it was for those who still look at it.
type soil struct {
	origin geo.Pt
	pts    []offset
	boxes  []offbox
	edges  []uint8
	supers []offbox
	rings  []span
	box    geo.Box
	wide   *figure // instead of all above but rings and box
	of     *mended // where it comes from, if not from the coverage's slabs

	land             pane  // the field's box
	nearFrom, nearTo int32 // where in worker.near its chunks are that meet it
}

// view makes s the polygon p.
func (p *polygon) view(s *soil) {
	s.box, s.origin, s.wide, s.of = p.box, p.origin, nil, nil
	if p.own != nil {
		// Where its slices lie follows from the room it was given; how much of each is used stands in p.to.
		b := ownSlab(p.own, int(p.room), int(p.ringRoom))
		s.pts = b.pts[:p.to.pts]
		s.boxes, s.edges = b.boxes[:p.to.pts/chunk], b.edges[:p.to.pts/chunk]
		s.supers, s.rings = b.supers[:p.to.supers], b.rings[:p.to.rings]
		return
	}
	b := p.slab
	if b == nil {
		s.pts, s.boxes, s.edges, s.supers, s.rings = nil, nil, nil, nil, nil
		return
	}
	first, last := p.from.pts/chunk, p.to.pts/chunk
	s.pts = b.pts[p.from.pts:p.to.pts]
	s.boxes, s.edges = b.boxes[first:last], b.edges[first:last]
	s.supers = b.supers[p.from.supers:p.to.supers]
	s.rings = b.rings[p.from.rings:p.to.rings]
}

// at returns point i.
func (s *soil) at(i int) geo.Pt {
	if s.wide != nil {
		return s.wide.pts[i]
	}
	p := s.pts[i]
	return geo.Pt{X: s.origin.X + int64(p.x), Y: s.origin.Y + int64(p.y)}
}

// appendRing appends the points of ring r, the first one repeated at the end, to dst.
func (s *soil) appendRing(dst []geo.Pt, r span) []geo.Pt {
	for i := r.start; i <= r.start+r.n; i++ {
		dst = append(dst, s.at(int(i)))
	}
	return dst
}

// widen turns s into a figure, so that it may meet a field that is too wide for 64 bits. Fields of more than 107 km are rare,
// so this allocates as it likes. Rings keep their direction and their numbers: crossings name edges by them.
func (s *soil) widen() {
	f := &figure{}
	f.pts = make([]geo.Pt, len(s.pts))
	for i := range s.pts {
		f.pts[i] = s.at(i)
	}
	f.rings = s.rings
	for _, r := range s.rings {
		f.outer = append(f.outer, geo.DoubledArea(f.ring(r)).Sign() >= 0)
	}
	f.finish()
	s.wide = f
}
