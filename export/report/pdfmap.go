package report

import (
	"codeberg.org/go-pdf/fpdf"

	"rootworthy/export/mapdraw"
)

// leastMap is the least height of a map that is worth looking at, in points.
const leastMap = 170

// figure puts a map on the page with its legend; a map too high for what is left of the page is drawn lower, down to
// what is still worth looking at. Where that lets what belongs to the map stand on the same page, it is drawn lower too.
func (p *sheets) figure(f Figure, next []Block) {
	o := mapdraw.Options{Style: mapdraw.Paper(), Width: p.width, Parts: mapdraw.Legend | mapdraw.Foot}
	d := f.Draw(o)
	caption := 2 * tableSize * leading
	// First try: the map a little lower, so that its zone table stands on its page.
	if h, ok := p.following(next); ok && p.y+d.Height+caption+h > p.bottom {
		if low := p.lower(f, o, p.bottom-p.y-caption-h); low != nil {
			d = low
		}
	}
	// Second: lower down to what is left of this page, then a page of its own, and there as high as that page allows.
	if over := p.y + d.Height + caption - p.bottom; over > 0 {
		low := p.lower(f, o, d.Height-over)
		if low == nil {
			p.room(d.Height + caption)
			if over = p.y + d.Height + caption - p.bottom; over > 0 {
				low = p.lower(f, o, d.Height-over)
			}
		}
		if low != nil {
			d = low
		}
	}
	p.text(f.Caption, tableSize, false, colorGrey())
	p.y += 4
	d.Play(canvas{p.f, pageMargin, p.y, &p.lost})
	p.y += d.Height + 6
	p.fresh = false
}

// following measures a heading and a table up to the next page break; ok is false for anything else.
// 40 points stand for a heading; what matters is whether the table fits, not the last point.
func (p *sheets) following(next []Block) (h float64, ok bool) {
	for _, b := range next {
		switch b := b.(type) {
		case Heading:
			h += 40
		case Table:
			h += p.tableHeight(b)
			ok = true
		default:
			_, end := b.(PageBreak)
			return h, ok && end
		}
	}
	return h, ok
}

// lower draws a map that is no higher than allowed; nil where that would be too low.
// It is drawn twice: legend and foot take a height that depends on the width, and only a drawing knows it.
func (p *sheets) lower(f Figure, o mapdraw.Options, most float64) *mapdraw.Drawing {
	o.Height = leastMap
	d := f.Draw(o)
	rest := d.Height - leastMap // legend and foot
	if most-rest < leastMap {
		return nil
	}
	o.Height = most - rest
	return f.Draw(o)
}

// gapBetween is the space between small maps, in points.
const gapBetween = 12

// figureWidth is the width of each of so many maps side by side.
func (p *sheets) figureWidth(across int) float64 {
	return (p.width - gapBetween*float64(across-1)) / float64(across)
}

// drawRow draws maps that stand side by side; high is the highest of them, and all is the height with captions and the space below.
func (p *sheets) drawRow(row []Figure, w float64) (drawn []*mapdraw.Drawing, high, all float64) {
	lines := 0
	for _, f := range row {
		// A frame of 4 by 3, so that fields of all shapes stand in even rows.
		d := f.Draw(mapdraw.Options{Style: mapdraw.Paper(), Width: w, Height: w * 0.75, Bare: true})
		drawn, high = append(drawn, d), max(high, d.Height)
		lines = max(lines, len(mapdraw.Wrap(printed(f.Caption), w, tableSize, false)))
	}
	return drawn, high, high + float64(lines)*tableSize*leading + 8
}

// figures puts small maps side by side.
func (p *sheets) figures(b Figures) {
	across := max(1, b.Across)
	w := p.figureWidth(across)
	for from := 0; from < len(b.Items); from += across {
		row := b.Items[from:min(from+across, len(b.Items))]
		drawn, high, h := p.drawRow(row, w)
		p.room(h)
		for i, f := range row {
			x := pageMargin + float64(i)*(w+gapBetween)
			drawn[i].Play(canvas{p.f, x, p.y, &p.lost})
			for k, l := range mapdraw.Wrap(printed(f.Caption), w, tableSize, false) {
				p.line(x, p.y+high+float64(k+1)*tableSize*leading, l, tableSize, false, colorInk())
			}
		}
		p.y += h
	}
	p.y += 4
}

// canvas paints a drawing at a place of the page.
type canvas struct {
	f    *fpdf.Fpdf
	x, y float64
	lost *bool // set where a letter is replaced
}

// trace lays a path down.
func (c canvas) trace(points []mapdraw.Point, closed bool) {
	for i, q := range points {
		if i == 0 {
			c.f.MoveTo(c.x+q.X, c.y+q.Y)
		} else {
			c.f.LineTo(c.x+q.X, c.y+q.Y)
		}
	}
	if closed {
		c.f.ClosePath()
	}
}

// Fill fills by the even-odd rule.
// Rings with fewer than three points enclose nothing and are left out.
func (c canvas) Fill(rings [][]mapdraw.Point, color mapdraw.Color) {
	c.f.SetFillColor(rgb(color))
	n := 0
	for _, r := range rings {
		if len(r) > 2 {
			c.trace(r, true)
			n++
		}
	}
	// A path operator without a path is a fault of the file, and some readers stop at it.
	if n > 0 {
		c.f.DrawPath("f*")
	}
}

// Stroke draws lines with round ends and corners.
func (c canvas) Stroke(paths [][]mapdraw.Point, closed bool, width float64, color mapdraw.Color) {
	c.f.SetDrawColor(rgb(color))
	c.f.SetLineWidth(width)
	c.f.SetLineCapStyle("round")
	c.f.SetLineJoinStyle("round")
	n := 0
	for _, path := range paths {
		if len(path) > 1 {
			c.trace(path, closed)
			n++
		}
	}
	if n > 0 {
		c.f.DrawPath("D")
	}
	// The library keeps the style for what comes after: rules of tables would get round ends.
	c.f.SetLineCapStyle("butt")
}

// Dots draws lines of no length with round ends: a dot is then two short numbers in the file.
func (c canvas) Dots(centres []mapdraw.Point, radius float64, color mapdraw.Color) {
	paths := make([][]mapdraw.Point, len(centres))
	for i, q := range centres {
		paths[i] = []mapdraw.Point{q, q}
	}
	c.Stroke(paths, false, 2*radius, color)
}

// Write writes text in the same fonts that the drawing measured it in.
func (c canvas) Write(t mapdraw.Text) {
	font := ""
	if t.Bold {
		font = "B"
	}
	s := printed(t.Text)
	*c.lost = *c.lost || s != t.Text
	c.f.SetFont("Go", font, t.Size)
	c.f.SetTextColor(rgb(t.Color))
	// By the anchor: the text begins at the place, stands in its middle, or ends there.
	back := mapdraw.TextWidth(s, t.Size, t.Bold) * [...]float64{0, 0.5, 1}[t.Anchor]
	x, y := c.x+t.At.X, c.y+t.At.Y
	if !t.Up {
		c.f.Text(x-back, y, s)
		return
	}
	c.f.TransformBegin()
	c.f.TransformRotate(90, x, y)
	c.f.Text(x-back, y, s)
	c.f.TransformEnd()
}
