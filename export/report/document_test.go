package report

import (
	"bytes"
	"encoding/xml"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// documents builds every report of the invented run.
func documents(t testing.TB, r *suitability.Result) map[string]*Document {
	t.Helper()
	opt := Options{Compare: [2]string{"Q1", "Q3"}, Files: []FileInfo{{"zones.geojson", "the map", 123, "00ff"}}}
	c, err := Consultant(r, opt)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*Document{"landowner": Landowner(r, opt), "consultant": c, "technician": Technician(r, opt)}
}

// htmlOf is a document as a page.
func htmlOf(t testing.TB, d *Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// pdfOf is a document on a paper.
func pdfOf(t testing.TB, d *Document, p Paper) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.PDF(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Reports of one run are the same to the byte, so that two copies can be compared.
func TestSameRunSameBytes(t *testing.T) {
	a, b := documents(t, quillmoor.Result()), documents(t, quillmoor.Result())
	for name := range a {
		if htmlOf(t, a[name]) != htmlOf(t, b[name]) {
			t.Errorf("%s.html differs from run to run", name)
		}
		for _, p := range Papers() {
			if !bytes.Equal(pdfOf(t, a[name], p), pdfOf(t, b[name], p)) {
				t.Errorf("%s.pdf on %s differs from run to run", name, p)
			}
		}
	}
}

// A page stands alone: no script, no style attribute, nothing from elsewhere; ids are unique and links lead somewhere.
func TestPagesStandAlone(t *testing.T) {
	for name, d := range documents(t, quillmoor.Result()) {
		s := htmlOf(t, d)
		body := strings.ReplaceAll(s, "http://www.w3.org/2000/svg", "")
		for _, bad := range []string{"<script", " style=", "http:", "https:", "@import", "url(h", "<img", "<link"} {
			if strings.Contains(body, bad) {
				t.Errorf("%s holds %q", name, bad)
			}
		}
		ids := map[string]int{}
		for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(s, -1) {
			if ids[m[1]]++; ids[m[1]] > 1 {
				t.Errorf("%s: id %q is there twice", name, m[1])
			}
		}
		for _, m := range regexp.MustCompile(`(?:href="#|aria-labelledby="|url\(#)([^")]*)`).FindAllStringSubmatch(s, -1) {
			for _, id := range strings.Fields(m[1]) {
				if ids[id] != 1 {
					t.Errorf("%s refers to %q, which is not there", name, id)
				}
			}
		}
	}
}

// There is one heading of level 1, none is skipped, and the answer stands before everything else.
func TestHeadingsAreInOrder(t *testing.T) {
	for name, d := range documents(t, quillmoor.Result()) {
		s := htmlOf(t, d)
		level := 0
		for _, m := range regexp.MustCompile(`<h([1-6])`).FindAllStringSubmatch(s, -1) {
			n := int(m[1][0] - '0')
			if n > level+1 || n == 1 && level > 0 {
				t.Errorf("%s: heading %d after %d", name, n, level)
			}
			level = n
		}
		if a, n := strings.Index(s, `class="answer"`), strings.Index(s, "<nav"); name == "landowner" && (a < 0 || n < a) {
			t.Errorf("%s: the contents come before the answer", name)
		}
	}
}

// Names from somebody's file cannot break a page or a sheet.
func TestHostileNames(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[0].Name = `</title><script>alert(1)</script>"'&` + "\x00\u202e\n" + strings.Repeat("x", 5000)
	r.Fields[1].Name = "日本 🙂 ✓"
	for name, d := range documents(t, r) {
		s := htmlOf(t, d)
		if strings.Contains(s, "<script") || strings.Contains(s, "\u202e") || strings.Contains(s, strings.Repeat("x", 100)) {
			t.Errorf("%s: a name is written as it stands", name)
		}
		if len(pdfOf(t, d, A4)) < 1000 {
			t.Errorf("%s: no PDF", name)
		}
	}
}

// A name of sixty letters without a blank is wider than a phone. In the contents, whose items are laid out side by side, it breaks only
// where any letter may be the last of a line; without that the page scrolls sideways.
func TestLongNamesBreakInTheContents(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[1].Name, r.Fields[1].ID = "", strings.Repeat("Long", 15)
	for name, d := range documents(t, r) {
		s := htmlOf(t, d)
		if name == "landowner" && !strings.Contains(s, strings.Repeat("Long", 14)) {
			t.Errorf("%s: the name is not there", name)
		}
		if !strings.Contains(s, "nav li{min-width:0;overflow-wrap:anywhere}") {
			t.Errorf("%s: a long name does not break in the contents", name)
		}
	}
}

// An empty run and a run without any answer have reports too.
func TestRunsWithoutAnswers(t *testing.T) {
	r := quillmoor.Result()
	for i := range r.Fields {
		r.Fields[i].Zones, r.Fields[i].Trouble = nil, "outside the survey"
	}
	r.Fields[0].Shape, r.Fields[0].Area = nil, 0
	for _, r := range []*suitability.Result{{}, r, {Fields: r.Fields[:1]}} {
		for name, d := range map[string]*Document{"landowner": Landowner(r, Options{}), "technician": Technician(r, Options{})} {
			if s := htmlOf(t, d); strings.Contains(s, "NaN") || len(pdfOf(t, d, Letter)) == 0 {
				t.Errorf("%s: not a number, or nothing", name)
			}
		}
		c, err := Consultant(r, Options{})
		if err != nil {
			t.Fatal(err)
		}
		text := textOf(t, htmlOf(t, c)) + textOf(t, htmlOf(t, Landowner(r, Options{})))
		for _, wrong := range []string{"Nothing limits", "what the soil survey says", "No class hinges"} {
			if strings.Contains(text, wrong) {
				t.Errorf("a run without answers says %q", wrong)
			}
		}
	}
}

// A comparison with a field that is not there is refused, and the fields that are there are named.
func TestUnknownFieldToCompare(t *testing.T) {
	_, err := Consultant(quillmoor.Result(), Options{Compare: [2]string{"Q1", "Q9"}})
	if err == nil || !strings.Contains(err.Error(), `"Q9"`) || !strings.Contains(err.Error(), "Q1, Q2") {
		t.Errorf("error %v; want one that names Q9 and what there is", err)
	}
}

// The rows of the zone tables add up to the area of the field, as files have it.
func TestLegendAndTablesAgreeWithSums(t *testing.T) {
	r := quillmoor.Result()
	s := htmlOf(t, Landowner(r, Options{}))
	for _, sum := range export.Sums(r) {
		for _, z := range sum.Zones {
			if want := words.AcresAndHectares(z.Area); !strings.Contains(s, want) {
				t.Errorf("%s: %q is not in the report", z.ID, want)
			}
		}
		if want := words.AcresAndHectares(sum.Field.Area); sum.Field.Trouble == "" && !strings.Contains(s, want) {
			t.Errorf("%s: %q is not in the report", sum.Field.ID, want)
		}
	}
}

// Marks of confidence never stand without words, and are hidden from a screen reader, which would read them as circles.
func TestMarksHaveWords(t *testing.T) {
	s := htmlOf(t, Landowner(quillmoor.Result(), Options{}))
	n := 0
	for _, m := range regexp.MustCompile(`<span class="marks" aria-hidden="true">[●○]{3}</span> (\w+)`).FindAllStringSubmatch(s, -1) {
		if !slices.Contains([]string{"quite", "fairly", "not"}, m[1]) {
			t.Errorf("marks are followed by %q", m[1])
		}
		n++
	}
	if n == 0 {
		t.Error("no marks")
	}
}

// textOf returns what a reader sees of a page, maps left out.
func textOf(t testing.TB, page string) string {
	t.Helper()
	page = regexp.MustCompile(`(?s)<(style|svg).*?</(style|svg)>`).ReplaceAllString(page, " ")
	page = regexp.MustCompile(`<(p|li|h1|h2|h3|td|th|tr|figcaption|caption)[ >]`).ReplaceAllString(page, "\n$0")
	var out strings.Builder
	dec := xml.NewDecoder(strings.NewReader(page))
	dec.Strict, dec.AutoClose, dec.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			return out.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			out.Write(c)
		}
	}
}

// Where all ground is to stay in grass the report sends nobody for a lime rate, and says why there is no calendar: not for want of a day.
func TestNothingIsFit(t *testing.T) {
	r := quillmoor.Result()
	for i := range r.Zones {
		r.Zones[i].Rating.Class, r.Zones[i].Lime = suitability.Unsuited, suitability.Lime{}
	}
	text := textOf(t, htmlOf(t, Landowner(r, Options{})))
	for _, not := range []string{"for the lime rate", "without a day to count from"} {
		if strings.Contains(text, not) {
			t.Errorf("on ground that is all unsuited the report says %q", not)
		}
	}
	if !strings.Contains(text, "There is no calendar: no ground here is known to be fit for sowing.") {
		t.Error("it is not told why there is no calendar")
	}
}

// Where paper begins a new page, so does the page in HTML when it is printed: a field, a letter.
func TestPageBreaksHoldInPrint(t *testing.T) {
	d := &Document{Title: "Two letters", Blocks: []Block{Heading{Level: 2, Text: "One", ID: "one"}, PageBreak{}, Heading{Level: 2, Text: "Two", ID: "two"}}}
	s := htmlOf(t, d)
	at := strings.Index(s, `<div class="newpage"></div>`)
	if at < strings.Index(s, `id="one"`) || at > strings.Index(s, `<h2 id="two"`) || !strings.Contains(s, ".newpage{break-before:page}") {
		t.Error("the second letter does not begin a page")
	}
}

// A little lime is a little in both units: "0.02 short tons (0.0 t)" would say that it is none.
func TestLittleLimeInBothUnits(t *testing.T) {
	for kg, want := range map[unit.Mass]string{18: "0.02 short tons (0.02 t)", 700: "0.8 short tons (0.7 t)", 102000: "112.4 short tons (102.0 t)"} {
		if got := (limeOf{mass: kg}).text(); got != want {
			t.Errorf("%g kg reads %q, want %q", float64(kg), got, want)
		}
	}
}
