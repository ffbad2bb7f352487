package mapdraw

import (
	"fmt"
	"math"
	"testing"

	"rootworthy/suitability"
)

// luminance is the relative luminance of WCAG 2.2, "relative luminance" in its glossary; read.
func luminance(c Color) float64 {
	part := func(x uint8) float64 {
		v := float64(x) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(c.R) + 0.7152*part(c.G) + 0.0722*part(c.B)
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(a, b Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// grey8 is what a grey print makes of a colour, 0 black to 255 white: the weights of luminance, but on the values as they are stored.
func grey8(c Color) float64 { return 0.2126*float64(c.R) + 0.7152*float64(c.G) + 0.0722*float64(c.B) }

// Values of black on white and of a mid grey as the success criterion's own techniques give them (G18: 21:1; #767676 on
// white 4.54:1).
func TestContrastAgreesWithThePublishedValues(t *testing.T) {
	if got := contrast(hex("000000"), white()); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white %.3f, want 21", got)
	}
	if got := contrast(hex("767676"), white()); math.Abs(got-4.54) > 0.005 {
		t.Errorf("#767676 on white %.3f, want 4.54", got)
	}
}

// On every fill one line of the pair, white or dark, has the 3:1 that WCAG 1.4.11 asks of what parts two areas.
func TestDoubleLineIsSeenOnEveryFill(t *testing.T) {
	fills := map[string]Color{"outside": OutsideLook().Fill, "no value": noValue("").Fill}
	for _, c := range suitability.Classes() {
		fills[c.String()] = ClassLook(c).Fill
	}
	for i, c := range append(limeShades(), phShades()...) {
		fills[fmt.Sprint("shade ", i)] = c
	}
	for name, c := range fills {
		if best := max(contrast(c, white()), contrast(c, ink())); best < 3 {
			t.Errorf("%s: best contrast of a line %.2f, want 3", name, best)
		}
	}
	if contrast(white(), ink()) < 4.5 {
		t.Error("letters on their box are too faint")
	}
}

// A pattern must be seen on its own fill.
func TestPatternsStandOutFromTheirFill(t *testing.T) {
	for _, c := range suitability.Classes() {
		if l := ClassLook(c); l.Pattern != Plain && contrast(l.Fill, l.Pattern.color()) < 3 {
			t.Errorf("%s: pattern at %.2f, want 3", c, contrast(l.Fill, l.Pattern.color()))
		}
	}
}

// In grey print classes are told apart by how dark they are, or else by pattern; and always by letter.
func TestClassesStayApartInGreyPrint(t *testing.T) {
	for _, a := range suitability.Classes() {
		for _, b := range suitability.Classes() {
			x, y := ClassLook(a), ClassLook(b)
			if a == b {
				continue
			}
			if math.Abs(grey8(x.Fill)-grey8(y.Fill)) < 40 && x.Pattern == y.Pattern {
				t.Errorf("%s and %s have greys %.0f and %.0f and one pattern", a, b, grey8(x.Fill), grey8(y.Fill))
			}
			if x.Letter == y.Letter || x.Fill == y.Fill {
				t.Errorf("%s and %s look alike", a, b)
			}
		}
	}
}

// One hue each, light to dark, in at most five steps that a grey print keeps apart.
func TestShadesFall(t *testing.T) {
	for name, shades := range map[string][]Color{"lime": limeShades(), "pH": phShades()} {
		if len(shades) > 5 {
			t.Errorf("%s has %d steps", name, len(shades))
		}
		for i := 1; i < len(shades); i++ {
			if d := grey8(shades[i-1]) - grey8(shades[i]); d < 25 {
				t.Errorf("%s: steps %d and %d differ by %.0f of 255", name, i-1, i, d)
			}
		}
	}
}
