package choice

import (
	"fmt"
	"io"
	"strconv"

	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// mostDrawn is how many fields a picture shows: what fits a page.
const mostDrawn = 40

// Picture writes the picture of the places alone, as an SVG file.
func (c *Choice) Picture(w io.Writer) error {
	return c.picture(mapdraw.Options{Style: mapdraw.Screen(), Width: 760}).SVG(w, "places")
}

// picture shows where fields stand and how far that moves: a mark on the place of each, a line over the places that it has in 8 draws of
// 10. The mark tells the verdict by its shape.
func (c *Choice) picture(o mapdraw.Options) *mapdraw.Drawing {
	n := min(len(c.Ranking.Fields), mostDrawn)
	if o.Style.Text == 0 {
		o.Style = mapdraw.Screen()
	}
	if o.Width <= 0 {
		o.Width = 660
	}
	// Two places at least, so that the scale has a length even with one field.
	p := plotted{Drawing: &mapdraw.Drawing{Width: o.Width, Style: o.Style, Title: "Where each field stands, and how far that moves"}, last: 2, text: o.Style.Text}
	p.row = p.text * 1.9
	if o.Height > 0 { // what is left of a page, say; lines may stand closer, but not run together
		p.row = min(max(o.Height/float64(n), p.text*1.3), p.row)
	}
	for _, f := range c.Ranking.Fields[:n] {
		p.last = max(p.last, f.P90, f.Rank)
		p.left = max(p.left, mapdraw.TextWidth(c.label(&f), p.text, false))
	}
	// Names may take two fifths of the picture; longer ones are cut.
	p.left = min(p.left, o.Width*0.42) + p.text
	p.key()
	p.axis(n)
	for k := range n {
		p.field(c.label(&c.Ranking.Fields[k]), &c.Ranking.Fields[k], k)
	}
	p.Height = p.top() + float64(n)*p.row + 2.6*p.text
	first := &c.Ranking.Fields[0]
	p.Desc = fmt.Sprintf("A line for each of %s. First is %s, between places %d and %d in 8 draws of 10. The table after it holds the same.",
		words.Count(n, "field", "fields"), c.FieldName(first.Field), first.P10, first.P90)
	return p.Drawing
}

// label names a field before its line.
func (c *Choice) label(f *ranking.Ranked) string { return c.FieldName(f.Field) }

// plotted is a picture in the making.
// left is the width of the names, row the height of a line, text the size of letters, all in units of the drawing.
type plotted struct {
	*mapdraw.Drawing
	left, row, text float64
	last            int // place at the right end
}

// The verdicts are told by shape and all text is dark; so nothing hangs on colour.
func ink() mapdraw.Color  { return mapdraw.Color{R: 0x1a, G: 0x1a, B: 0x1a} }
func grey() mapdraw.Color { return mapdraw.Color{R: 0x59, G: 0x59, B: 0x59} }
func pale() mapdraw.Color { return mapdraw.Color{R: 0xb5, G: 0xb5, B: 0xb5} }
func blue() mapdraw.Color { return mapdraw.Color{R: 0x2c, G: 0x7f, B: 0xb8} }

// top is where the lines begin, below the key.
func (p plotted) top() float64 { return 2 * p.text }

// x is where a place lies.
func (p plotted) x(place int) float64 {
	return p.left + p.text + (p.Width-p.left-2*p.text)*float64(place-1)/float64(p.last-1)
}

// write puts a text at a baseline, line draws over what is there.
func (p plotted) write(x, y float64, s string, a mapdraw.Anchor, c mapdraw.Color) {
	p.Items = append(p.Items, mapdraw.Text{At: mapdraw.Point{X: x, Y: y}, Text: s, Size: p.text, Anchor: a, Color: c})
}

func (p plotted) line(width float64, c mapdraw.Color, points ...mapdraw.Point) {
	p.Items = append(p.Items, mapdraw.Line{Paths: [][]mapdraw.Point{points}, Width: width, Color: c})
}

// key explains the marks.
func (p plotted) key() {
	x, y := p.text*0.5, p.text*1.1
	for _, v := range ranking.Verdicts() {
		p.mark(x, y-p.text*0.35, v)
		p.write(x+p.text*0.7, y, string(v), mapdraw.Start, ink())
		x += p.text*2.4 + mapdraw.TextWidth(string(v), p.text, false)
	}
}

// axis draws places under the lines, each fifth or tenth of them named.
func (p plotted) axis(n int) {
	bottom := p.top() + float64(n)*p.row
	step := 1
	for _, s := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if step = s; float64(p.last)/float64(s) <= 8 {
			break
		}
	}
	for place := 1; place <= p.last; place++ {
		// The first place is always named, and no other so near that the numbers touch.
		if place != 1 && place%step != 0 || place != 1 && p.x(place)-p.x(1) < 1.5*p.text {
			continue
		}
		p.line(0.5, pale(), mapdraw.Point{X: p.x(place), Y: p.top()}, mapdraw.Point{X: p.x(place), Y: bottom})
		p.write(p.x(place), bottom+p.text*1.2, strconv.Itoa(place), mapdraw.Middle, grey())
	}
	p.write(p.Width-p.text*0.3, bottom+p.text*2.4, "place on the list", mapdraw.End, grey())
}

// field draws the line of one.
func (p plotted) field(label string, f *ranking.Ranked, k int) {
	y := p.top() + (float64(k)+0.5)*p.row
	p.write(0, y+p.text*0.35, mapdraw.Fit(label, p.text, p.left-p.text*0.5), mapdraw.Start, ink())
	a, b := mapdraw.Point{X: p.x(f.P10), Y: y}, mapdraw.Point{X: p.x(f.P90), Y: y}
	p.line(p.text*0.3, blue(), a, b)
	for _, end := range []mapdraw.Point{a, b} {
		p.line(1.2, ink(), mapdraw.Point{X: end.X, Y: y - p.text*0.35}, mapdraw.Point{X: end.X, Y: y + p.text*0.35})
	}
	p.mark(p.x(f.Rank), y, f.Verdict)
}

// mark draws a verdict: a dot, a ring, a cross, each on white so that it stands out from the line.
func (p plotted) mark(x, y float64, v ranking.Verdict) {
	r := p.text * 0.36
	dot := func(radius float64, c mapdraw.Color) {
		p.Items = append(p.Items, mapdraw.Dot{At: mapdraw.Point{X: x, Y: y}, Radius: radius, Color: c})
	}
	white := mapdraw.Color{R: 0xff, G: 0xff, B: 0xff}
	// Shapes tell the verdicts apart, for a print has no colour to do it.
	dot(r*1.35, white)
	switch v {
	case ranking.Take:
		dot(r, ink())
	case ranking.VisitFirst:
		dot(r, ink())
		dot(r*0.6, white)
	default:
		p.line(1.4, ink(), mapdraw.Point{X: x - r*0.8, Y: y - r*0.8}, mapdraw.Point{X: x + r*0.8, Y: y + r*0.8})
		p.line(1.4, ink(), mapdraw.Point{X: x - r*0.8, Y: y + r*0.8}, mapdraw.Point{X: x + r*0.8, Y: y - r*0.8})
	}
}
