package report

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
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
