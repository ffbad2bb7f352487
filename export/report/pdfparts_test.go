package report

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"rootworthy/export/mapdraw"
	"rootworthy/export/quillmoor"
)

// onPaper is an empty first page of US Letter to lay parts on.
func onPaper() *sheets {
	f := fpdf.New("P", "pt", string(Letter), "")
	f.AddUTF8FontFromBytes("Go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("Go", "B", gobold.TTF)
	f.SetAutoPageBreak(false, 0)
	width, height := f.GetPageSize()
	p := &sheets{f: f, width: width - 2*pageMargin, bottom: height - pageMargin - footRoom}
	p.newPage()
	return p
}

// No word of a head is broken in its column, on the narrower paper.
func TestHeadsOfTablesAreWhole(t *testing.T) {
	p := onPaper()
	p.width = 210/25.4*72 - 2*pageMargin // A4
	for name, d := range documents(t, quillmoor.Result()) {
		for _, b := range d.Blocks {
			table, ok := b.(Table)
			if !ok {
				continue
			}
			for k, c := range table.Columns {
				for _, word := range strings.Fields(c.Head) {
					if room := c.Share*p.width - 2*cellPad; mapdraw.TextWidth(word, tableSize, true) > room {
						t.Errorf("%s, %q: %q of column %d does not fit into %.0f points", name, table.Caption, word, k+1, room)
					}
				}
			}
		}
	}
}

// Who cannot read a name on paper is told where it can be read; a document with nothing to tell says nothing.
func TestLostLettersAreTold(t *testing.T) {
	r := quillmoor.Result()
	for name, d := range documents(t, r) {
		if d.losesLetters() {
			t.Errorf("%s: loses letters of an English farm", name)
		}
	}
	r.Fields[1].Name = "北の畑"
	for name, d := range documents(t, r) {
		text := poppler(t, "pdftotext", pdfOf(t, d, Letter), "-layout")
		if !d.losesLetters() || strings.Count(text, lostLetters) != 1 {
			t.Errorf("%s: letters are lost and it is not told once", name)
		}
	}
}

// A document loses letters wherever it prints some: text, captions of maps alone and in rows, the foot of the page, and what a map writes
// within itself.
func TestLostLettersAreLookedForEverywhere(t *testing.T) {
	const strange = "北の畑"
	drawn := func(text string) func(mapdraw.Options) *mapdraw.Drawing {
		return func(o mapdraw.Options) *mapdraw.Drawing {
			return &mapdraw.Drawing{Width: o.Width, Height: 100, Items: []mapdraw.Item{mapdraw.Text{At: mapdraw.Point{X: 10, Y: 50}, Text: text, Size: 9}}}
		}
	}
	plain := Figure{ID: "m", Caption: "A map", Draw: drawn("A map")}
	captioned := plain
	captioned.Caption = strange
	written := plain
	written.Draw = drawn(strange)
	for name, c := range map[string]struct {
		blocks []Block
		lost   bool
	}{
		"nothing strange":  {[]Block{Heading{Level: 2, Text: "One", ID: "one", Running: "One"}, plain, Figures{Items: []Figure{plain}, Across: 2}}, false},
		"the foot":         {[]Block{Heading{Level: 2, Text: "One", ID: "one", Running: strange}}, true},
		"a caption":        {[]Block{captioned}, true},
		"one of several":   {[]Block{Figures{Items: []Figure{plain, captioned}, Across: 2}}, true},
		"within a map":     {[]Block{written}, true},
		"in a row of maps": {[]Block{Figures{Items: []Figure{plain, written}, Across: 2}}, true},
	} {
		text := poppler(t, "pdftotext", pdfOf(t, &Document{Title: "Title", Subject: "Subject", Blocks: c.blocks}, Letter), "-layout")
		if got := strings.Count(text, lostLetters); got != map[bool]int{true: 1}[c.lost] {
			t.Errorf("%s: told %d times", name, got)
		}
	}
}

// However long a table is, its note stands on the page of its last row.
func TestNotesStayWithTheirTable(t *testing.T) {
	for rows := 1; rows < 120; rows++ {
		p := onPaper()
		table := Table{Caption: "Rows", Columns: []Column{{Head: "Row", Share: 1}}, Note: strings.Repeat("What the rows mean. ", 12)}
		for i := range rows {
			table.Rows = append(table.Rows, []string{fmt.Sprint(i)})
		}
		p.table(table)
		// Above the note there must be the height of a row on the same page.
		if end := p.y - p.noteHeight(table) - 4 - p.rowHeight(table, table.Rows[0], false); end < pageMargin {
			t.Fatalf("%d rows: the note stands alone on page %d", rows, p.f.PageNo())
		}
	}
}

// However long a table is, its last row has another with it on its page: one line and its note below a head of its own look lost. A table of
// three rows and fewer is too short to part well.
func TestLastRowsAreNotAlone(t *testing.T) {
	for rows := 4; rows < 120; rows++ {
		p := onPaper()
		table := Table{Caption: "Rows", Total: rows%2 == 0, Columns: []Column{{Head: "Row", Share: 1}}, Note: "What the rows mean."}
		for i := range rows {
			table.Rows = append(table.Rows, []string{fmt.Sprint(i)})
		}
		p.table(table)
		row := p.rowHeight(table, table.Rows[0], false)
		// From the upper edge: the head, two rows at least, the note.
		if used := p.y - 4 - p.noteHeight(table) - pageMargin; p.f.PageNo() > 1 && used < 3*row-1 {
			t.Fatalf("%d rows: the last one stands alone on page %d", rows, p.f.PageNo())
		}
	}
}

// A heading stands on the page of the first row of maps below it.
func TestHeadingsStayWithTheirMaps(t *testing.T) {
	r := quillmoor.Result()
	c := documents(t, r)["consultant"]
	i := slices.IndexFunc(c.Blocks, func(b Block) bool { _, ok := b.(Figures); return ok })
	if i < 0 {
		t.Fatal("no small maps")
	}
	maps := c.Blocks[i].(Figures)
	// Begun at any height of the page, so that each way of running out of room comes up.
	for y := pageMargin + 1.0; y < 700; y += 7 {
		p := onPaper()
		p.y, p.fresh = y, false
		next := []Block{Para{Text: "Each has a scale of its own."}, maps}
		p.heading(Heading{Level: 2, Text: "Small maps"}, next)
		page := p.f.PageNo()
		p.para(next[0].(Para))
		p.figures(Figures{Across: maps.Across, Items: maps.Items[:min(len(maps.Items), max(1, maps.Across))]})
		if p.f.PageNo() != page {
			t.Fatalf("begun at %.0f points the heading is on page %d, its maps on page %d", y, page, p.f.PageNo())
		}
	}
}
