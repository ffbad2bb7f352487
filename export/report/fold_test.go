package report

import (
	"bytes"
	"strings"
	"testing"
)

// A page that folds has each section in a part of its own, those of the third level within those of the second, all ended; the id is of what
// folds. A page that does not fold has headings with ids, and paper knows nothing of it.
func TestPagesFoldByTheirHeadings(t *testing.T) {
	d := &Document{Title: "Title", Folds: true, Blocks: []Block{Para{Text: "Answer."}, Heading{Level: 3, Text: "First", ID: "first"}, Heading{Level: 2, Text: "One", ID: "one", Open: true},
		Heading{Level: 3, Text: "Within", ID: "within"}, Para{Text: "Text."}, Heading{Level: 3, Text: "Beside", ID: "beside"}, Heading{Level: 2, Text: "Two", ID: "two", Say: "All < half."}}}
	page := func() string {
		var b bytes.Buffer
		if err := d.HTML(&b); err != nil {
			t.Fatal(err)
		}
		_, s, _ := strings.Cut(b.String(), "Answer.</p>\n")
		s, _, _ = strings.Cut(s, "</main>")
		// the list of contents is not the matter here
		before, rest, _ := strings.Cut(s, "<nav")
		if _, after, ok := strings.Cut(rest, "</nav>\n"); ok {
			return before + after
		}
		return s
	}
	const want = `<details class="part"><summary><h3>First</h3></summary>
<div id="first">
</div></details>
<details class="part" open><summary><h2>One</h2></summary>
<div id="one">
<details class="part"><summary><h3>Within</h3></summary>
<div id="within">
<p>Text.</p>
</div></details>
<details class="part"><summary><h3>Beside</h3></summary>
<div id="beside">
</div></details>
</div></details>
<details class="part"><summary><h2>Two</h2> <span class="say">All &lt; half.</span></summary>
<div id="two">
</div></details>
`
	if got := page(); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	folded := pdfOf(t, d, Letter)
	d.Folds = false
	if got := page(); strings.Contains(got, "details") || !strings.Contains(got, `<h2 id="two">Two</h2>`) {
		t.Error(got)
	}
	if !bytes.Equal(folded, pdfOf(t, d, Letter)) {
		t.Error("paper folds")
	}
}
