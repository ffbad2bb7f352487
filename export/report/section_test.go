package report

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
)

// The parts of a folded page hold what the unfolded one does, word for word and in its order; only the headings are left to the page around
// them. Names of tables stay different over all parts.
func TestSectionsHoldTheWholeDocument(t *testing.T) {
	table := func(caption string) Table {
		return Table{Caption: caption, Columns: []Column{{Head: "What"}}, Rows: [][]string{{"a < b"}}}
	}
	blocks := []Block{Para{Text: "Answer."}, table("first"), Heading{Level: 2, Text: "One & two", ID: "one"}, Para{Text: "In one."}, Heading{Level: 3, Text: "Within", ID: "within"},
		table("second"), Heading{Level: 2, Text: "Three", ID: "three"}, Bullets{Items: []string{"x"}}, table("third"), Heading{Level: 2, Text: "Bare", ID: "bare"}}
	before, sections, err := Sections(blocks)
	if err != nil || len(sections) != 3 || len(sections[0].Parts) != 1 || sections[0].Parts[0].ID != "within" || sections[0].Title != "One & two" || sections[2].HTML != "" {
		t.Fatalf("%v: %+v", err, sections)
	}
	got := before
	for _, s := range sections {
		got += s.HTML
		for _, p := range s.Parts {
			got += p.HTML
		}
	}
	var whole bytes.Buffer
	if err := WriteHTML(&whole, blocks); err != nil {
		t.Fatal(err)
	}
	want := regexp.MustCompile(`(?s)<h[23].*?</h[23]>\n`).ReplaceAllString(whole.String(), "")
	if got != want || strings.Count(got, `id="table-3"`) != 1 {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
	// A heading of the third level that no section holds is one itself, and nothing of nothing is nothing.
	if _, s, _ := Sections([]Block{Heading{Level: 3, Text: "Alone", ID: "alone"}, Para{Text: "Text."}}); len(s) != 1 || !strings.Contains(s[0].HTML, "Text.") {
		t.Errorf("%+v", s)
	}
	if before, s, err := Sections(nil); before != "" || len(s) > 0 || err != nil {
		t.Error(before, s, err)
	}
}

// A cell of a stacked table that only says that there is nothing carries no head: on a narrow window it is left out.
func TestEmptyCellsHaveNoHeadWhereRowsAreStacked(t *testing.T) {
	var b bytes.Buffer
	table := Table{Stack: true, Columns: []Column{{Head: "What"}, {Head: "When"}, {Head: "Beware"}}, Rows: [][]string{{"a", "now", "–"}}}
	if err := WriteHTML(&b, []Block{table}); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); !strings.Contains(s, `<td data-head="When">now</td><td>–</td>`) {
		t.Error(s)
	}
}
