package mapdraw

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/export"
)

// plot draws the map itself with everything on its frame.
func (m *sheet) plot() {
	box, ok := boxOf(m.outlines)
	if !ok {
		m.lines("There is no shape to draw.", m.o.Style.Text, false, ink())
		return
	}
	f := m.frameFor(box)
	v := m.viewOf(box, f, sides{})
	shapes, labels := m.fit(v)
	if m.far {
		m.overview(v, f, shapes, labels)
		return
	}
	for range 2 { // the smaller map may call out more or longer labels
		// Labels without room stand beside the map, which takes width from the map, which leaves less room for labels: two rounds settle nearly
		// all of it.
		free := m.sidesFor(v, labels)
		if m.o.Bare || free == v.free || free == (sides{}) {
			break
		}
		v = m.viewOf(box, f, sides{max(free.west, v.free.west), max(free.east, v.free.east)})
		shapes, labels = m.fit(v)
	}
	m.ground(shapes)
	m.relief(v, f)
	hidden := m.labels(v, f, labels)
	m.edge(v, f, hidden)
}

// overview draws many fields: labels stand in their fields or beside them, or else are called out all or none, since a
// choice among equals would only puzzle. Lines to labels run under the fields, which they would cut in two.
func (m *sheet) overview(v view, f frame, shapes placed, labels []label) {
	beside, rest := m.beside(f, shapes.patches, labels)
	hidden := 0
	if size := m.o.Style.Text; len(rest) <= 2*int((f.h-2*size)/(size*calloutGap)) && !m.o.Bare && columnsFree(f, beside, rest) {
		hidden = m.d.calledOut(f, v.middle.X, rest, size, false)
	} else {
		hidden = len(rest)
	}
	m.ground(shapes)
	m.relief(v, f)
	m.specks(shapes)
	for _, l := range beside {
		_, h := boxSize(l.text, l.size)
		m.d.boxed(l.text, l.at, l.size, h)
	}
	m.edge(v, f, hidden)
}

// specks marks fields too small to be seen by a dot.
func (m *sheet) specks(shapes placed) {
	radius := m.o.Style.Core * 1.5
	for _, parts := range shapes.patches {
		low, high := bounds(rings(parts))
		if w, h := high.X-low.X, high.Y-low.Y; max(w, h) < 2*radius && max(w, h) >= 0 {
			m.d.add(Dot{Point{(low.X + high.X) / 2, (low.Y + high.Y) / 2}, radius, ink()})
		}
	}
}

// edge draws what stands on the frame and under it.
func (m *sheet) edge(v view, f frame, hidden int) {
	if m.o.Bare {
		m.y = f.y + f.h
		return
	}
	m.frame(v, f)
	m.y = f.y + f.h + m.o.Style.Text*1.3
	m.scaleRow(v, f)
	if hidden > 0 {
		m.lines(fmt.Sprintf("%s too small to number here: %s. The table lists them all.", m.label, export.Thousands(hidden)), m.o.Style.Text, false, ink())
	}
}

// frameFor returns the frame: as high as the ground needs, within bounds.
func (m *sheet) frameFor(box orb.Bound) frame {
	gutter := m.o.Style.Text * 1.5
	if m.o.Bare {
		gutter = 0
	}
	f := frame{x: gutter, y: m.y, w: m.o.Width - gutter - 1}
	if !m.o.Bare {
		f.w -= m.o.Style.Text * 0.6
	}
	w, h := groundAt(box.Center()).span(box)
	f.h = f.w
	if w > 0 {
		// A strip of a field would else be a line across the sheet, or a tower.
		f.h = f.w * max(0.5, min(1, h/w))
	}
	if m.o.Height > 0 {
		f.h = m.o.Height
	}
	return f
}

// viewOf scales the ground to the frame, a margin kept and columns at both sides left free for labels.
func (m *sheet) viewOf(box orb.Bound, f frame, free sides) view {
	g := groundAt(box.Center())
	w, h := g.span(box)
	pad := m.o.Style.Text
	if m.o.Bare {
		pad = m.o.Style.Rim
	}
	// Units of the sheet in a metre: the lesser of what the width and the height allow.
	k := math.Inf(1)
	if w > 0 {
		k = (f.w - 2*pad - free.west - free.east) / w
	}
	if h > 0 {
		k = min(k, (f.h-2*pad)/h)
	}
	// A field that is a point, or columns as wide as the sheet: any scale draws it.
	if math.IsInf(k, 1) || k <= 0 {
		k = 1
	}
	return view{g, Point{f.x + f.w/2 + (free.west-free.east)/2, f.y + f.h/2}, k, free}
}

// placed is what a map shows, on the sheet: the patches, then the outlines.
type placed struct{ patches, outlines [][]part }

// fit thins all lines together and looks where each label has room.
func (m *sheet) fit(v view) (placed, []label) {
	var shapes []orb.MultiPolygon
	for _, p := range m.patches {
		shapes = append(shapes, v.shape(p.shape))
	}
	var out placed
	if m.far { // each patch is its own outline
		if len(shapes) > mostBeside {
			out.patches = thinnedAlone(shapes, m.o.Style.Thin)
		} else {
			out.patches = thinned(shapes, m.o.Style.Thin)
		}
		out.outlines = out.patches
	} else {
		for _, o := range m.outlines {
			shapes = append(shapes, v.shape(o))
		}
		thin := thinned(shapes, m.o.Style.Thin)
		out = placed{thin[:len(m.patches)], thin[len(m.patches):]}
	}
	var labels []label
	for i, p := range m.patches {
		switch {
		case p.label == "" || len(out.patches[i]) == 0:
		// Most fields of a county are too small for their name, and their boxes say so without a search.
		case m.far && !m.hasRoom(out.patches[i], p.label):
			labels = append(labels, label{p.label, middleOf(out.patches[i]), true, m.o.Style.Text})
		default:
			labels = append(labels, labelsFor(out.patches[i], p.label, m.o.Style.Text)...)
		}
	}
	return out, labels
}

// hasRoom says whether a label may fit into a shape at all, which its box decides before any search.
func (m *sheet) hasRoom(parts []part, text string) bool {
	low, high := bounds(rings(parts))
	w, h := boxSize(text, m.o.Style.Text)
	return high.X-low.X > w && high.Y-low.Y > h
}

// middleOf is the middle of the box around a shape.
func middleOf(parts []part) Point {
	low, high := bounds(rings(parts))
	return Point{(low.X + high.X) / 2, (low.Y + high.Y) / 2}
}

// sides are the widths of the columns left free for labels that are called out.
type sides struct{ west, east float64 }

// sidesFor returns the columns that labels without room need: on the side that each is nearer to.
func (m *sheet) sidesFor(v view, labels []label) (free sides) {
	// A longer label is called out all the same and hangs into the map.
	most := m.o.Width / 5
	for _, l := range labels {
		if !l.out {
			continue
		}
		w, _ := boxSize(l.text, l.size)
		if side := min(w+10, most); l.at.X < v.middle.X {
			free.west = max(free.west, side)
		} else {
			free.east = max(free.east, side)
		}
	}
	return free
}

// ground paints fills first, then every white line, then every dark one, so that lines meet cleanly.
func (m *sheet) ground(p placed) {
	s := m.o.Style
	var edges [][][]Point // by shape, so that a line runs over the very path that is filled
	for i, x := range m.patches {
		look := OutsideLook()
		if x.row >= 0 {
			look = m.looks[x.row]
		}
		for _, a := range areasBySize(p.patches[i], s.Least) {
			pattern := look.Pattern
			// A pattern needs some width to be known by; below it the fill alone says what the ground is.
			if a.small {
				pattern = Plain
			}
			m.d.add(Area{ID: idOf(x.id, a.first), Title: x.title, Rings: a.rings, Fill: look.Fill, Pattern: pattern})
			edges = append(edges, a.rings)
		}
	}
	var outline [][]Point
	for _, o := range p.outlines {
		outline = append(outline, rings(o)...)
	}
	if m.far {
		m.d.add(Line{Paths: outline, Closed: true, Width: s.Core * 0.7, Color: ink()})
		return
	}
	// The boundary of the field is drawn heavier than the lines between its zones, but for a small map, which has no room for two weights.
	heavy := 1.8
	if m.o.Bare {
		heavy = 1
	}
	for _, e := range edges {
		m.d.add(Line{Paths: e, Closed: true, Width: s.Rim, Color: white()})
	}
	m.d.add(Line{Paths: outline, Closed: true, Width: s.Rim * heavy, Color: white()})
	for _, e := range edges {
		m.d.add(Line{Paths: e, Closed: true, Width: s.Core, Color: ink()})
	}
	m.d.add(Line{Paths: outline, Closed: true, Width: s.Core * heavy, Color: ink()})
}

// idOf gives the id to the first shape of a patch only: ids are unique.
func idOf(id string, first bool) string {
	if !first {
		return ""
	}
	return id
}

// sized are the parts of a patch that are drawn alike.
type sized struct {
	rings        [][]Point
	small, first bool
}

// areasBySize parts what is wide enough for a pattern from what is not.
func areasBySize(parts []part, least float64) []sized {
	var wide, small [][]Point
	for _, p := range parts {
		low, high := bounds(p[:1])
		w, h := high.X-low.X, high.Y-low.Y
		// A long thin sliver may have a wide box, which its area gives away.
		if min(w, h) < least || p.area() < least*least/2 {
			small = append(small, p...)
		} else {
			wide = append(wide, p...)
		}
	}
	var out []sized
	if len(wide) > 0 {
		out = append(out, sized{wide, false, true})
	}
	if len(small) > 0 {
		out = append(out, sized{small, true, len(wide) == 0})
	}
	return out
}

// labels writes them and returns how many have no room anywhere.
func (m *sheet) labels(v view, f frame, labels []label) (hidden int) {
	var out []label
	for _, l := range labels {
		if l.out {
			out = append(out, l)
			continue
		}
		_, h := boxSize(l.text, l.size)
		m.d.boxed(l.text, l.at, l.size, h)
	}
	if m.o.Bare {
		return len(out)
	}
	return m.d.calledOut(f, v.middle.X, out, m.o.Style.Text, true)
}
