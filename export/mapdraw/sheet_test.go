package mapdraw

import (
	"bytes"
	"encoding/xml"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
)

// drawings draws every kind of map of every field of an invented run, and the overview.
func drawings(t *testing.T, o Options) map[string]*Drawing {
	t.Helper()
	r := quillmoor.Result()
	sums := export.Sums(r)
	out := map[string]*Drawing{"all": Overview(r, sums, o)}
	for i := range sums {
		for _, k := range Kinds() {
			o.Kind = k
			out[sums[i].Field.ID+" "+k.String()] = Field(r, &sums[i], o)
		}
	}
	return out
}

// svgOf is a map as SVG, its ids begun with a prefix, as on a page with several maps.
func svgOf(t *testing.T, d *Drawing, prefix string) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b, prefix); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Every map is sound XML with unique ids that begin with the prefix, named by its title, without a number that is none.
func TestSVGIsSound(t *testing.T) {
	for name, d := range drawings(t, Options{Parts: Whole}) {
		s := svgOf(t, d, "p7")
		ids := map[string]bool{}
		dec := xml.NewDecoder(strings.NewReader(s))
		for {
			tok, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if e, ok := tok.(xml.StartElement); ok {
				for _, a := range e.Attr {
					if a.Name.Local == "id" {
						if ids[a.Value] || !strings.HasPrefix(a.Value, "p7-") {
							t.Errorf("%s: id %q is there twice or without its prefix", name, a.Value)
						}
						ids[a.Value] = true
					}
					if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
						t.Errorf("%s: attribute %s would break a content security policy", name, a.Name.Local)
					}
				}
			}
		}
		if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || !strings.Contains(s, `role="img"`) || !ids["p7-title"] || !ids["p7-desc"] {
			t.Errorf("%s: not a number, or no title", name)
		}
	}
}

func TestSameMapSameBytes(t *testing.T) {
	a, b := drawings(t, Options{Parts: Whole}), drawings(t, Options{Parts: Whole})
	for name := range a {
		if svgOf(t, a[name], "m") != svgOf(t, b[name], "m") {
			t.Errorf("%s differs from run to run", name)
		}
	}
}

// Every map says what the sheet of the trade asks for: title, scale in both units, north, source, date, program, caution.
func TestEveryMapSaysWhereItComesFrom(t *testing.T) {
	for name, d := range drawings(t, Options{Parts: Whole}) {
		s := svgOf(t, d, "m")
		for _, want := range []string{"True north is up", " ft<", " m<", "Dig and test the soil", "November 25, 2026", "rootworthy test", "°"} {
			if !strings.Contains(s, want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
		if !strings.HasPrefix(name, "Q4") && !strings.Contains(s, "QM001") { // Q4 lies outside and has no survey
			t.Errorf("%s names no survey", name)
		}
	}
	undated := quillmoor.Result()
	undated.Provenance.Date = ""
	sums := export.Sums(undated)
	if s := svgOf(t, Field(undated, &sums[0], Options{Parts: Whole}), "m"); strings.Contains(s, "2026") {
		t.Error("a run without a date has one on its map")
	}
}

// evenOdd is the area of rings of which holes run against the others.
func evenOdd(rings [][]Point) float64 {
	twice := 0.0
	for _, r := range rings {
		for k, a := range r {
			b := r[(k+1)%len(r)]
			twice += a.X*b.Y - b.X*a.Y
		}
	}
	return math.Abs(twice) / 2
}

// The legend equals the map: fills take up the shares that the legend says.
func TestLegendEqualsMap(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	for i := range sums {
		for _, k := range Kinds() {
			byFill, all := map[Look]float64{}, 0.0
			for _, x := range Field(r, &sums[i], Options{Kind: k}).Items {
				if a, ok := x.(Area); ok && (strings.HasPrefix(a.ID, "zone") || a.ID == "outside") {
					byFill[Look{Fill: a.Fill, Pattern: a.Pattern}] += evenOdd(a.Rings)
					all += evenOdd(a.Rings)
				}
			}
			for _, row := range Rows(&sums[i], k) {
				if got := byFill[Look{Fill: row.Fill, Pattern: row.Pattern}] / all; math.Abs(got-row.Share) > 0.005 {
					t.Errorf("%s %s: %s takes %.1f %% of the map, the legend says %.1f %%", sums[i].Field.ID, k, row.Word, 100*got, 100*row.Share)
				}
				delete(byFill, Look{Fill: row.Fill, Pattern: row.Pattern})
			}
			if len(byFill) > 0 {
				t.Errorf("%s %s: the map shows what the legend lacks", sums[i].Field.ID, k)
			}
		}
	}
}

// dotsPerInch makes pixels of a paper drawing at 300 dots an inch.
const dotsPerInch = 300.0 / 72

// pixel is the pixel at a place of the drawing.
func pixel(x float64) int { return int(x * dotsPerInch) }

// At 300 dots an inch there is no ink of a pattern in a hole: a pond in wet ground stays white.
func TestNoInkInHoles(t *testing.T) {
	for _, class := range suitability.Classes() {
		l := ClassLook(class)
		d := &Drawing{Width: 300, Height: 300, Style: Paper()}
		const hole = 72 / 2.54 // 1 cm
		rings := [][]Point{rectangle(10, 10, 280, 280), {{100, 100}, {100, 100 + hole}, {100 + hole, 100 + hole}, {100 + hole, 100}}}
		d.add(Area{Rings: rings, Fill: l.Fill, Pattern: l.Pattern})
		im := d.Image(dotsPerInch)
		// Two pixels are left out along the edge, where the fill ends softly.
		box := image.Rect(pixel(100)+2, pixel(100)+2, pixel(100+hole)-2, pixel(100+hole)-2)
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x < box.Max.X; x++ {
				if c := im.RGBAAt(x, y); c.R != 255 || c.G != 255 || c.B != 255 {
					t.Fatalf("%s: ink %v in the hole at %d, %d", class, c, x, y)
				}
			}
		}
		patterned := 0
		for y := 50; y < 350; y++ {
			for x := 50; x < 350; x++ {
				if c := im.RGBAAt(x, y); (Color{c.R, c.G, c.B}) == l.Pattern.color() {
					patterned++
				}
			}
		}
		if (patterned > 0) != (l.Pattern != Plain) {
			t.Errorf("%s: %d pixels of pattern", class, patterned)
		}
	}
}

// A picture is as wide as was asked, but one that would take too much memory is drawn smaller.
func TestPNGReadsBack(t *testing.T) {
	for name, d := range drawings(t, Options{Parts: Whole, Width: 400}) {
		var b bytes.Buffer
		if err := d.PNG(&b, 1); err != nil {
			t.Fatal(err)
		}
		im, err := png.Decode(&b)
		if err != nil || im.Bounds().Dx() != 400 {
			t.Errorf("%s: %v, %v", name, err, im.Bounds())
		}
	}
	if im := (&Drawing{Width: 1e5, Height: 1e5, Style: Screen()}).Image(4); im.Bounds().Dx()*im.Bounds().Dy() > mostPixels*11/10 {
		t.Errorf("a picture of %v", im.Bounds())
	}
}

// Every zone is numbered on its map, inside or called out, or counted under it.
func TestEveryZoneIsNumbered(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	for i := range sums {
		s := svgOf(t, Field(r, &sums[i], Options{Parts: Whole}), "m")
		for _, z := range sums[i].Zones {
			if want := ">" + zoneNumber(z) + " " + ClassLook(z.Rating.Class).Letter + "</text>"; !strings.Contains(s, want) {
				t.Errorf("%s has no label %q", z.ID, want)
			}
		}
	}
}

// A field beyond repair has no shape; its sheet says so and nothing breaks.
func TestFieldWithoutShape(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[0].Shape, r.Fields[0].Zones = nil, nil
	sums := export.Sums(r)
	if s := svgOf(t, Field(r, &sums[0], Options{Parts: Whole}), "m"); !strings.Contains(s, "no shape") {
		t.Error("the sheet does not say that there is no shape")
	}
}
