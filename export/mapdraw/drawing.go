package mapdraw

import "strconv"

// Point is a place on a drawing: x to the right, y down, in its units (points on paper, pixels on a screen).
type Point struct{ X, Y float64 }

// Color is a colour without transparency.
type Color struct{ R, G, B uint8 }

// Hex returns the colour as "#2c7fb8".
func (c Color) Hex() string {
	const digits = "0123456789abcdef"
	b := []byte{'#'}
	for _, x := range [...]uint8{c.R, c.G, c.B} {
		b = append(b, digits[x>>4], digits[x&15])
	}
	return string(b)
}

// hex reads a colour constant; a wrong one is a fault of the program that any test of drawing finds.
func hex(s string) Color {
	n, err := strconv.ParseUint(s, 16, 32)
	if err != nil {
		panic("mapdraw: wrong colour constant " + s)
	}
	return Color{uint8(n >> 16), uint8(n >> 8), uint8(n)}
}

// Colours of everything but fills.
func ink() Color   { return hex("1a1a1a") }
func white() Color { return hex("ffffff") }
func grey() Color  { return hex("595959") }

// Drawing is a picture as a list of things to paint one over the other.
type Drawing struct {
	Width, Height float64
	Title         string // what it shows, in a few words
	Desc          string // the same in a sentence, for those who do not see it
	Style         Style
	Notes         []string // whose data, when made and by what, the caution; for those who leave out [Foot]
	Items         []Item
}

// Item is one thing to paint: [Area], [Line], [Dot] or [Text].
type Item interface{ item() }

// Area is a filled shape. Outer rings run one way round and holes the other; rings are not closed by a repeated point.
type Area struct {
	ID      string // "" or a name within the drawing
	Title   string // "" or what it is, shown by a page on pointing at it
	Rings   [][]Point
	Fill    Color
	Pattern Pattern
}

// Line is a set of lines with round ends and corners.
type Line struct {
	Paths  [][]Point
	Closed bool // each path returns to its beginning
	Width  float64
	Color  Color
}

// Dot is a filled circle.
type Dot struct {
	At     Point
	Radius float64
	Color  Color
}

// Anchor says which part of a text stands at its place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of text; At is on its base line.
type Text struct {
	At     Point
	Text   string
	Size   float64
	Bold   bool
	Anchor Anchor
	Up     bool // written upwards, along the left edge of a map
	Color  Color
}

func (Area) item() {}
func (Line) item() {}
func (Dot) item()  {}
func (Text) item() {}

// add appends items.
func (d *Drawing) add(items ...Item) { d.Items = append(d.Items, items...) }

// rectangle returns the corners of a box.
func rectangle(x, y, w, h float64) []Point {
	return []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// box paints a filled box with a rim; no rim if its width is 0.
func (d *Drawing) box(x, y, w, h float64, fill Color, pattern Pattern, rim float64) {
	r := rectangle(x, y, w, h)
	d.add(Area{Rings: [][]Point{r}, Fill: fill, Pattern: pattern})
	if rim > 0 {
		d.add(Line{Paths: [][]Point{r}, Closed: true, Width: rim, Color: ink()})
	}
}

// moved returns an item at another place.
// Slices of the item are copied, since drawings may share them.
func moved(x Item, dx, dy float64) Item {
	shift := func(p Point) Point { return Point{p.X + dx, p.Y + dy} }
	all := func(paths [][]Point) [][]Point {
		out := make([][]Point, len(paths))
		for i, path := range paths {
			out[i] = make([]Point, len(path))
			for k, p := range path {
				out[i][k] = shift(p)
			}
		}
		return out
	}
	switch x := x.(type) {
	case Area:
		x.Rings = all(x.Rings)
		return x
	case Line:
		x.Paths = all(x.Paths)
		return x
	case Dot:
		x.At = shift(x.At)
		return x
	case Text:
		x.At = shift(x.At)
		return x
	}
	return x
}
