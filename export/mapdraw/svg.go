package mapdraw

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
)

// SVG writes the drawing as one <svg> element, fit to stand in a page or alone. Every id begins with prefix, because
// in a page with two maps url(#…) would find the first. There is no script, no style sheet and no outside font; looks
// are attributes, which a strict content security policy lets pass.
func (d *Drawing) SVG(w io.Writer, prefix string) error {
	s := &svg{w: bufio.NewWriterSize(w, 1<<15), prefix: prefix}
	s.raw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 `, number(d.Width), " ", number(d.Height), `" width="`, number(d.Width), `" height="`, number(d.Height),
		`" role="img" aria-labelledby="`, prefix, `-title `, prefix, `-desc" font-family="Helvetica, Arial, sans-serif">`, "\n")
	s.raw(`<title id="`, prefix, `-title">`, escaped(d.Title), `</title><desc id="`, prefix, `-desc">`, escaped(d.Desc), "</desc>\n")
	s.patterns(d)
	s.shapes(d)
	for _, x := range d.Items {
		switch x := x.(type) {
		case Area:
			s.area(x)
		case Line:
			s.line(x)
		case Dot:
			s.raw(`<circle cx="`, number(x.At.X), `" cy="`, number(x.At.Y), `" r="`, number(x.Radius), `" fill="`, x.Color.Hex(), `"/>`, "\n")
		case Text:
			s.text(x)
		}
	}
	s.raw("</svg>\n")
	return s.w.Flush()
}

// svg is a file in the making; bufio keeps its first error.
type svg struct {
	w      *bufio.Writer
	prefix string
	shape  map[string]int // paths that are drawn more than once, by their number
}

// raw writes pieces of markup.
func (s *svg) raw(parts ...string) {
	for _, p := range parts {
		s.w.WriteString(p)
	}
}

// leastShared is how long a path must be before it is worth a name of its own.
const leastShared = 80

// shapes defines every path that is drawn more than once (filled, patterned, lined twice), so that a file holds it once.
func (s *svg) shapes(d *Drawing) {
	times := map[string]int{}
	var order []string
	see := func(path string, n int) {
		if len(path) < leastShared {
			return
		}
		if times[path] == 0 {
			order = append(order, path)
		}
		times[path] += n
	}
	for _, x := range d.Items {
		switch x := x.(type) {
		case Area:
			n := 1
			if x.Pattern != Plain {
				n = 2
			}
			see(pathOf(x.Rings, true), n)
		case Line:
			see(pathOf(x.Paths, x.Closed), 1)
		}
	}
	s.shape = map[string]int{}
	for _, path := range order {
		if times[path] > 1 {
			s.shape[path] = len(s.shape) + 1
			s.raw(`<defs><path id="`, s.shapeID(path), `" d="`, path, "\"/></defs>\n")
		}
	}
}

// shapeID is the id of a path that is drawn more than once; the prefix keeps pictures on one page apart.
func (s *svg) shapeID(path string) string {
	return s.prefix + "-shape" + strconv.Itoa(s.shape[path])
}

// path draws a path with attributes, by its name where it has one.
func (s *svg) path(path, attributes string) {
	if s.shape[path] > 0 {
		s.raw(`<use href="#`, s.shapeID(path), `" `, attributes, `/>`)
		return
	}
	s.raw(`<path d="`, path, `" `, attributes, `/>`)
}

// number prints a coordinate with two decimals at most.
// A hundredth of a pixel cannot be seen, and every digit less makes a file of many corners smaller.
func number(x float64) string {
	b := strconv.AppendFloat(nil, x, 'f', 2, 64)
	b = bytes.TrimRight(bytes.TrimRight(b, "0"), ".")
	if string(b) == "-0" {
		return "0"
	}
	return string(b)
}

// escaped makes text safe between tags and in attributes. Letters that XML forbids become the replacement character.
func escaped(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a buffer does not fail
	return b.String()
}

// patterns defines those patterns that the drawing uses.
func (s *svg) patterns(d *Drawing) {
	used := [Dashed + 1]bool{}
	for _, x := range d.Items {
		if a, ok := x.(Area); ok {
			used[a.Pattern] = true
		}
	}
	for _, p := range Patterns() {
		if used[p] {
			s.raw("<defs>", s.pattern(p, d.Style), "</defs>\n")
		}
	}
}

// pattern is one definition; it repeats what [Pattern.cut] draws.
func (s *svg) pattern(p Pattern, y Style) string {
	head := func(w, h float64, turn string) string {
		return fmt.Sprintf(`<pattern id="%s" patternUnits="userSpaceOnUse" width="%s" height="%s"%s>`, s.patternID(p), number(w), number(h), turn)
	}
	stroke := func(path string) string {
		return fmt.Sprintf(`<path d="%s" fill="none" stroke="%s" stroke-width="%s"/></pattern>`, path, p.color().Hex(), number(p.width(y)))
	}
	switch p {
	case Dotted:
		h := number(y.DotPitch / 2)
		return head(y.DotPitch, y.DotPitch, "") + fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s" fill="%s"/></pattern>`, h, h, number(y.DotRadius), p.color().Hex())
	case Lined:
		h := number(y.LinePitch / 2)
		return head(y.LinePitch, y.LinePitch, ` patternTransform="rotate(-45)"`) + stroke("M0 "+h+"H"+number(y.LinePitch))
	}
	q, half := y.DashPitch/4, y.DashPitch/2
	return head(y.DashPitch, y.DashPitch, "") + stroke(fmt.Sprintf("M0 %sH%sM%s %sH%s", number(q), number(y.DashLength), number(half), number(half+q), number(half+y.DashLength)))
}

func (s *svg) patternID(p Pattern) string { return fmt.Sprintf("%s-pattern%d", s.prefix, p) }

// area writes a shape, and its pattern over it as a shape of its own.
func (s *svg) area(a Area) {
	id := ""
	if a.ID != "" {
		id = ` id="` + escaped(s.prefix+"-"+a.ID) + `"`
	}
	path := pathOf(a.Rings, true)
	title := ""
	if a.Title != "" {
		title = "<title>" + escaped(a.Title) + "</title>"
	}
	s.raw(`<g`, id, ` fill-rule="evenodd">`, title)
	s.path(path, `fill="`+a.Fill.Hex()+`"`)
	if a.Pattern != Plain {
		s.path(path, `fill="url(#`+s.patternID(a.Pattern)+`)"`)
	}
	s.raw("</g>\n")
}

// pathOf prints rings or lines as path data.
func pathOf(rings [][]Point, closed bool) string {
	var b []byte
	for _, r := range rings {
		for i, p := range r {
			switch i {
			case 0:
				b = append(b, 'M')
			case 1:
				b = append(b, 'L')
			default:
				b = append(b, ' ')
			}
			b = append(append(append(b, number(p.X)...), ' '), number(p.Y)...)
		}
		if closed {
			b = append(b, 'Z')
		}
	}
	return string(b)
}

// line writes paths that are not filled, with round ends and corners.
func (s *svg) line(l Line) {
	s.path(pathOf(l.Paths, l.Closed), `fill="none" stroke="`+l.Color.Hex()+`" stroke-width="`+number(l.Width)+`" stroke-linejoin="round" stroke-linecap="round"`)
	s.raw("\n")
}

// text writes a line at the width it was measured for: the fonts of a reader may be wider than ours, and a letter must
// not leave its box nor a line the sheet.
func (s *svg) text(t Text) {
	s.raw(`<text x="`, number(t.At.X), `" y="`, number(t.At.Y), `" font-size="`, number(t.Size), `" fill="`, t.Color.Hex(), `"`)
	if w := TextWidth(t.Text, t.Size, t.Bold); w > 0 {
		s.raw(` textLength="`, number(w), `" lengthAdjust="spacingAndGlyphs"`)
	}
	if t.Bold {
		s.raw(` font-weight="bold"`)
	}
	if t.Anchor != Start {
		s.raw(` text-anchor="`, [...]string{"start", "middle", "end"}[t.Anchor], `"`)
	}
	if t.Up {
		s.raw(` transform="rotate(-90 `, number(t.At.X), " ", number(t.At.Y), `)"`)
	}
	s.raw(`>`, escaped(t.Text), "</text>\n")
}
