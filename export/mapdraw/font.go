package mapdraw

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is a font at hand: its outlines in units of its own square.
type face struct {
	font *sfnt.Font
	unit fixed.Int26_6 // size at which outlines are read: one unit of the square is one whole number
	mu   sync.Mutex    // guards buf, advances and glyphs
	buf  sfnt.Buffer
	wide map[rune]float64
}

// faces reads the two fonts once. They are part of the program, so a fault in them is one of the build.
var faces = sync.OnceValue(func() [2]*face {
	return [2]*face{newFace(goregular.TTF), newFace(gobold.TTF)}
})

// newFace reads a font; letters are measured once each.
func newFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("mapdraw: an embedded font cannot be read: " + err.Error())
	}
	return &face{font: f, unit: fixed.I(int(f.UnitsPerEm())), wide: map[rune]float64{}}
}

// faceOf picks regular or bold.
func faceOf(bold bool) *face {
	if bold {
		return faces()[1]
	}
	return faces()[0]
}

// advance returns how wide a letter is, in parts of the size.
func (f *face) advance(r rune) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	if w, ok := f.wide[r]; ok {
		return w
	}
	g, _ := f.font.GlyphIndex(&f.buf, r) // a letter it lacks is glyph 0, a box
	a, err := f.font.GlyphAdvance(&f.buf, g, f.unit, font.HintingNone)
	w := float64(a) / float64(f.unit)
	if err != nil {
		// A letter that cannot be measured still takes some room.
		w = 0.5
	}
	f.wide[r] = w
	return w
}

// TextWidth returns the width of a text of the given size in the Go fonts, in the unit of the size.
func TextWidth(s string, size float64, bold bool) float64 {
	f, w := faceOf(bold), 0.0
	for _, r := range s {
		w += f.advance(r)
	}
	return w * size
}

// Fit cuts a text to a width in the unit of the size, the cut marked.
func Fit(s string, size, width float64) string {
	if TextWidth(s, size, false) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && TextWidth(string(r)+"…", size, false) > width {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// Has says whether the fonts hold a letter.
func Has(r rune) bool {
	f := faceOf(false)
	f.mu.Lock()
	defer f.mu.Unlock()
	g, err := f.font.GlyphIndex(&f.buf, r)
	return err == nil && g != 0
}

// outline calls the functions for each stroke of a letter, in parts of the size, y down.
// The fonts are TrueType, whose curves have one control point each.
func (f *face) outline(r rune, move, line func(Point), curve func(c, p Point)) {
	f.mu.Lock()
	defer f.mu.Unlock()
	g, _ := f.font.GlyphIndex(&f.buf, r)
	segments, err := f.font.LoadGlyph(&f.buf, g, f.unit, nil)
	if err != nil {
		return
	}
	at := func(p fixed.Point26_6) Point {
		return Point{float64(p.X) / float64(f.unit), float64(p.Y) / float64(f.unit)}
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			move(at(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			line(at(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			curve(at(s.Args[0]), at(s.Args[1]))
		}
	}
}
