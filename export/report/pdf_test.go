package report

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/export/mapdraw"
	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
)

// poppler runs one of the poppler-utils on a PDF.
func poppler(t *testing.T, tool string, pdf []byte, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Skipf("%s is not installed (poppler-utils)", tool)
	}
	file := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	full := append([]string{}, args...)
	full = append(full, file)
	if tool == "pdftotext" {
		full = append(full, "-")
	}
	out, err := exec.Command(tool, full...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", tool, err, out)
	}
	return string(out)
}

// Sizes in points. Source: ANSI Y14.1 letter, 8.5 by 11 in; ISO 216 A4, 210 by 297 mm; a point is 1/72 in.
func TestPaperSizes(t *testing.T) {
	d := Landowner(quillmoor.Result(), Options{})
	for p, want := range map[Paper]string{Letter: "612 x 792 pts", A4: "595.28 x 841.89 pts"} {
		info := poppler(t, "pdfinfo", pdfOf(t, d, p))
		if !strings.Contains(info, want) || !strings.Contains(info, "Title:           "+d.Title) {
			t.Errorf("%s:\n%s\nwant %s and the title", p, info, want)
		}
	}
}

// What stands on paper can be read out again, in order, and pages are numbered.
func TestTextComesOutInOrder(t *testing.T) {
	for name, d := range documents(t, quillmoor.Result()) {
		text := poppler(t, "pdftotext", pdfOf(t, d, Letter), "-layout")
		at := 0
		for _, b := range d.Blocks {
			h, ok := b.(Heading)
			if !ok || h.Level != 2 {
				continue
			}
			i := strings.Index(text[at:], printed(h.Text))
			if i < 0 {
				t.Errorf("%s: heading %q does not come out after those before it", name, h.Text)
				continue
			}
			at += i
		}
		pages := strings.Count(text, "\f")
		if !strings.Contains(text, "Page 1 of ") || strings.Contains(text, "{pages}") || pages < 2 {
			t.Errorf("%s: %d pages, not numbered", name, pages)
		}
	}
}

// Nothing runs off the page: every word lies within the margins.
func TestNothingRunsOffThePage(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[2].ID, r.Fields[2].Name = strings.Repeat("long-id-without-blanks", 3), ""
	for i := range r.Zones {
		if r.Zones[i].FieldID == "Q3" {
			r.Zones[i].FieldID = r.Fields[2].ID
		}
	}
	for _, d := range []*Document{Landowner(r, Options{}), Technician(r, Options{})} {
		boxes := poppler(t, "pdftotext", pdfOf(t, d, Letter), "-bbox")
		n := 0
		for _, l := range strings.Split(boxes, "\n") {
			var x0, y0, x1, y1 float64
			if k, _ := sscan(l, &x0, &y0, &x1, &y1); k == 4 {
				n++
				// Two points of room for letters that reach a little over the width they are set by.
				if x0 < pageMargin-2 || x1 > 612-pageMargin+2 || y0 < pageMargin-2 || y1 > 792-pageMargin+2 {
					t.Errorf("%s: off the page: %s", d.Title, l)
				}
			}
		}
		if n < 50 {
			t.Errorf("only %d words seen", n)
		}
	}
}

// sscan reads the box of a word as pdftotext prints it.
func sscan(line string, box ...*float64) (int, error) {
	line = strings.NewReplacer("<word xMin=\"", "", "\" yMin=\"", " ", "\" xMax=\"", " ", "\" yMax=\"", " ", "\">", " ").Replace(strings.TrimSpace(line))
	args := make([]any, len(box))
	for i := range box {
		args[i] = box[i]
	}
	return fmt.Sscan(line, args...)
}

// On paper, drawn by poppler at 300 dots an inch, no ink of a pattern lies in a hole of 1 cm, and there is ink beside it.
func TestNoInkInHolesOnPaper(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("pdftoppm is not installed (poppler-utils)")
	}
	for _, class := range []suitability.Class{suitability.Marginal, suitability.Unsuited, suitability.NotRated} {
		look := mapdraw.ClassLook(class)
		const size, hole = 200.0, 72 / 2.54
		from, to := (size-hole)/2, (size+hole)/2
		shape := [][]mapdraw.Point{{{X: 0, Y: 0}, {X: size, Y: 0}, {X: size, Y: size}, {X: 0, Y: size}}, {{X: from, Y: from}, {X: from, Y: to}, {X: to, Y: to}, {X: to, Y: from}}}
		d := &Document{Title: "Hole", Subject: "Test", Blocks: []Block{Figure{ID: "hole", Draw: func(o mapdraw.Options) *mapdraw.Drawing {
			return &mapdraw.Drawing{Width: size, Height: size, Style: o.Style, Items: []mapdraw.Item{mapdraw.Area{Rings: shape, Fill: look.Fill, Pattern: look.Pattern}}}
		}}}}
		im := paper(t, pdfOf(t, d, Letter))
		box := inkOf(im, look.Fill)
		k := float64(box.Dx()) / size
		// The scale is taken from the picture itself; 2 % is for the soft edge.
		if k < 300.0/72*0.98 || k > 300.0/72*1.02 {
			t.Fatalf("%s: the shape is %d pixels wide", class, box.Dx())
		}
		inside, beside := 0, 0
		for y := int(from*k) + 3; y < int(to*k)-3; y++ {
			for x := int(from*k) + 3; x < int(to*k)-3; x++ {
				if r, g, b, _ := im.At(box.Min.X+x, box.Min.Y+y).RGBA(); r+g+b != 3*0xffff {
					inside++
				}
				if r, g, b, _ := im.At(box.Min.X+x-int(from*k)/2, box.Min.Y+y).RGBA(); r>>8 != uint32(look.Fill.R) || g>>8 != uint32(look.Fill.G) || b>>8 != uint32(look.Fill.B) {
					beside++
				}
			}
		}
		if inside > 0 || beside < 500 {
			t.Errorf("%s: %d pixels of ink in the hole, %d of pattern beside it", class, inside, beside)
		}
	}
}

// paper draws the first page at 300 dots an inch.
func paper(t *testing.T, pdf []byte) image.Image {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(dir+"/a.pdf", pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "300", "-png", "-singlefile", dir+"/a.pdf", dir+"/a").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	f, err := os.Open(dir + "/a.png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	im, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return im
}

// inkOf returns the box around all solid squares of a colour; the soft edges of letters have single pixels of any grey.
func inkOf(im image.Image, c mapdraw.Color) (box image.Rectangle) {
	is := func(x, y int) bool {
		r, g, b, _ := im.At(x, y).RGBA()
		return r>>8 == uint32(c.R) && g>>8 == uint32(c.G) && b>>8 == uint32(c.B)
	}
	const side = 3
	for y := im.Bounds().Min.Y; y < im.Bounds().Max.Y-side; y++ {
		for x := im.Bounds().Min.X; x < im.Bounds().Max.X-side; x++ {
			if is(x, y) && is(x+side, y) && is(x, y+side) && is(x+side, y+side) {
				box = box.Union(image.Rect(x, y, x+side+1, y+side+1))
			}
		}
	}
	return box
}
