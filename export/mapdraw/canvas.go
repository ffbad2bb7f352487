package mapdraw

// Canvas is whatever can be painted on with plain shapes: a page of a PDF, a raster.
type Canvas interface {
	// Fill fills rings by the even-odd rule; holes run against the ring around them.
	Fill(rings [][]Point, c Color)
	// Stroke draws lines with round corners; closed ones return to their beginning.
	Stroke(paths [][]Point, closed bool, width float64, c Color)
	// Dots draws filled circles.
	Dots(centres []Point, radius float64, c Color)
	// Write writes one line of text in the fonts of this package.
	Write(t Text)
}

// Play paints the drawing on a canvas, patterns cut by geometry.
func (d *Drawing) Play(c Canvas) {
	for _, x := range d.Items {
		switch x := x.(type) {
		case Area:
			c.Fill(x.Rings, x.Fill)
			// Cut by geometry, so that no canvas need know how to clip.
			dots, lines := x.Pattern.cut(x.Rings, d.Style)
			if len(dots) > 0 {
				c.Dots(dots, d.Style.DotRadius, x.Pattern.color())
			}
			if len(lines) > 0 {
				c.Stroke(lines, false, x.Pattern.width(d.Style), x.Pattern.color())
			}
		case Line:
			c.Stroke(x.Paths, x.Closed, x.Width, x.Color)
		case Dot:
			c.Dots([]Point{x.At}, x.Radius, x.Color)
		case Text:
			c.Write(x)
		}
	}
}

// width is the width of the lines of a pattern.
func (p Pattern) width(s Style) float64 {
	if p == Dashed {
		return s.DashWidth
	}
	return s.LineWidth
}
