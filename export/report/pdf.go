package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"rootworthy/export/mapdraw"
)

// Paper is a size of paper.
type Paper string

// The sizes.
const (
	Letter Paper = "Letter" // 8.5 by 11 inches
	A4     Paper = "A4"     // 210 by 297 millimetres
)

// Papers lists the sizes.
func Papers() []Paper { return []Paper{Letter, A4} }

// Measures of a page, in points of 1/72 inch.
const (
	pageMargin = 19 / 25.4 * 72 // 19 mm
	footRoom   = 16
	bodySize   = 10
	tableSize  = 9
)

// PDF writes the document on paper. Equal documents give equal bytes: the date inside is that of the run.
func (d *Document) PDF(w io.Writer, paper Paper) error {
	f := fpdf.New("P", "pt", string(paper), "")
	// The library keeps parts of the file in maps; without this their order would change from run to run.
	f.SetCatalogSort(true)
	f.SetTitle(printed(d.Title), true)
	f.SetSubject(d.Subject, true)
	f.SetCreator(d.Program, true)
	f.SetProducer(d.Program, true)
	f.SetLang("en")
	day := dayOf(d.Date)
	f.SetCreationDate(day)
	f.SetModificationDate(day)
	f.AddUTF8FontFromBytes("Go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("Go", "B", gobold.TTF)
	f.SetMargins(pageMargin, pageMargin, pageMargin)
	// Pages end where this package says, so that no row is split and headings stay with what follows.
	f.SetAutoPageBreak(false, 0)
	// How many pages there are is known at the end; the library then puts the number in the place of this word.
	f.AliasNbPages("{pages}")
	width, height := f.GetPageSize()
	p := &sheets{f: f, width: width - 2*pageMargin, bottom: height - pageMargin - footRoom, running: d.Title}
	f.SetFooterFunc(p.footer)
	p.write(d)
	// The library keeps its first error and does nothing more after it, so asking once is enough.
	if err := f.Error(); err != nil {
		return fmt.Errorf("cannot make the PDF: %w", err)
	}
	return f.Output(w)
}

// dayOf turns the date of the run into the date of the document; a run without one gets the least that means nothing.
func dayOf(date string) time.Time {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t
}

// lostLetters stands at the end of a document in which letters were replaced; the page in HTML shows them, with the fonts of the reader.
const lostLetters = "Letters that this PDF has no font for stand as ?. The page in HTML shows them."

// printed replaces letters that the fonts lack: a mark instead of nothing.
func printed(s string) string {
	return strings.Map(func(r rune) rune {
		// The library writes two bytes a letter, so nothing beyond the first 65,536 can be written.
		if r > 0xffff || !mapdraw.Has(r) {
			return '?'
		}
		return r
	}, s)
}

// sheets are pages in the making. y is where the next block begins, from the upper edge of the page; it grows downwards.
type sheets struct {
	f             *fpdf.Fpdf
	width, bottom float64 // of the text; lower end of the text
	y             float64
	running       string // foot of the page
	fresh         bool   // nothing stands on the page yet
	lost          bool   // a map wrote letters that the fonts lack
}

// write puts all blocks on pages.
func (p *sheets) write(d *Document) {
	p.newPage()
	p.text(d.Subject, tableSize, false, colorGrey())
	p.y += 2
	p.f.Bookmark(printed(d.Title), 0, p.y)
	p.text(d.Title, 20, true, colorHeading())
	p.y += 4
	for i, b := range d.Blocks {
		switch b := b.(type) {
		case Heading:
			p.heading(b, d.Blocks[i+1:])
		case Para:
			p.para(b)
		case Bullets:
			p.bullets(b)
		case Table:
			p.table(b)
		case Figure:
			p.figure(b, d.Blocks[i+1:])
		case Figures:
			p.figures(b)
		case PageBreak:
			if !p.fresh {
				p.newPage()
			}
		}
	}
	if p.lost || d.losesLetters() {
		p.text(lostLetters, tableSize, false, colorGrey())
	}
}

// losesLetters says whether some letter of the text is replaced on paper; what maps write within themselves is known only once they are drawn.
func (d *Document) losesLetters() bool {
	lost := func(list ...string) bool {
		return slices.ContainsFunc(list, func(s string) bool { return printed(s) != s })
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case Heading:
			if lost(b.Text, b.Running) {
				return true
			}
		case Figure:
			if lost(b.Caption) {
				return true
			}
		case Figures:
			if slices.ContainsFunc(b.Items, func(f Figure) bool { return lost(f.Caption) }) {
				return true
			}
		case Para:
			if lost(b.Text) {
				return true
			}
		case Bullets:
			if lost(b.Items...) {
				return true
			}
		case Table:
			if lost(b.Caption, b.Note) || slices.ContainsFunc(b.Rows, func(row []string) bool { return lost(row...) }) {
				return true
			}
		}
	}
	return lost(d.Title)
}

// Colours of text.
func colorInk() mapdraw.Color     { return mapdraw.Color{R: 0x1a, G: 0x1a, B: 0x1a} }
func colorGrey() mapdraw.Color    { return mapdraw.Color{R: 0x59, G: 0x59, B: 0x59} }
func colorHeading() mapdraw.Color { return mapdraw.Color{R: 0x1f, G: 0x5f, B: 0x8b} }
func colorShade() mapdraw.Color   { return mapdraw.Color{R: 0xee, G: 0xf2, B: 0xf6} }

// rgb takes a colour apart as the library wants it.
func rgb(c mapdraw.Color) (r, g, b int) { return int(c.R), int(c.G), int(c.B) }

// newPage begins a page; fresh says that nothing stands on it yet.
func (p *sheets) newPage() {
	p.f.AddPage()
	p.y, p.fresh = pageMargin, true
}

// room begins a new page where less than h is left.
func (p *sheets) room(h float64) {
	// What is higher than a page begins on the one that is still empty; another would be as short.
	if p.y+h > p.bottom && !p.fresh {
		p.newPage()
	}
}

// footer ends a page: what it is about, and its number.
func (p *sheets) footer() {
	y := p.bottom + footRoom
	p.line(pageMargin, y, mapdraw.Fit(printed(p.running), tableSize, p.width*0.75), tableSize, false, colorGrey())
	p.f.SetFont("Go", "", tableSize)
	// Measured with a number of two digits at least: the width of the word that stands in its place would set it askew.
	n := fmt.Sprintf("Page %d of {pages}", p.f.PageNo())
	p.line(pageMargin+p.width-mapdraw.TextWidth(fmt.Sprintf("Page %d of %d", p.f.PageNo(), max(10, p.f.PageNo())), tableSize, false), y, n, tableSize, false, colorGrey())
}

// line writes one line at a place.
func (p *sheets) line(x, y float64, s string, size float64, bold bool, c mapdraw.Color) {
	font := ""
	if bold {
		font = "B"
	}
	p.f.SetFont("Go", font, size)
	p.f.SetTextColor(rgb(c))
	p.f.Text(x, y, s)
	p.fresh = false
}

// leading is the distance of lines in parts of their size.
const leading = 1.32

// text writes wrapped text over the whole width, from page to page.
func (p *sheets) text(s string, size float64, bold bool, c mapdraw.Color) {
	for _, l := range mapdraw.Wrap(printed(s), p.width, size, bold) {
		p.room(size * leading)
		p.y += size * leading
		p.line(pageMargin, p.y-size*0.3, l, size, bold, c)
	}
}

// heading keeps with what follows it.
func (p *sheets) heading(h Heading, next []Block) {
	size := 15.0
	if h.Level > 2 {
		size = 12
	}
	// Two lines and a half: the space above, the heading, and some below.
	p.room(size*2.5 + p.keep(next))
	if h.Running != "" {
		p.running = h.Running
	}
	if !p.fresh {
		p.y += size * 0.7
	}
	// Level 2 is the outermost of the bookmarks beside the title.
	p.f.Bookmark(printed(h.Text), h.Level-2, p.y)
	p.text(h.Text, size, true, colorHeading())
	p.y += 2
}

// keep is how much of the next block a heading wants on its page.
func (p *sheets) keep(next []Block) float64 {
	if len(next) == 0 {
		return 0
	}
	switch b := next[0].(type) {
	case Para:
		h := float64(len(mapdraw.Wrap(printed(b.Text), p.width, bodySize, false)))*bodySize*leading + 4
		if len(next) > 1 {
			// A sentence that leads up to a table belongs to it as much as to its heading.
			switch next[1].(type) {
			case Table, Figure, Figures, Bullets: // what the paragraph leads up to
				return h + p.keep(next[1:])
			}
		}
		// Three lines of text at least: a heading over a single line at the foot of a page looks lost.
		return max(40, h)
	case Table:
		if len(b.Rows) == 0 {
			return 40
		}
		return p.rowHeight(b, b.heads(), true) + p.rowHeight(b, b.Rows[0], false) + 30
	case Figure:
		return b.Draw(mapdraw.Options{Style: mapdraw.Paper(), Width: p.width, Height: leastMap, Parts: mapdraw.Legend | mapdraw.Foot}).Height + 2*tableSize*leading
	case Figures: // its first row: a heading at the foot of a page leads nowhere
		across := max(1, b.Across)
		_, _, h := p.drawRow(b.Items[:min(across, len(b.Items))], p.figureWidth(across))
		return h
	}
	return 40
}

// para writes a paragraph by its tone: an answer larger, small print grey.
func (p *sheets) para(b Para) {
	switch b.Tone {
	case Answer:
		p.text(b.Text, 12.5, false, colorInk())
		p.y += 3
	case Small:
		p.text(b.Text, tableSize, false, colorGrey())
		p.y += 4
	default:
		p.text(b.Text, bodySize, false, colorInk())
		p.y += 4
	}
}

// bullets writes items that may run over to the next page, line by line.
func (p *sheets) bullets(b Bullets) {
	const indent = 12
	for _, s := range b.Items {
		for i, l := range mapdraw.Wrap(printed(s), p.width-indent, bodySize, false) {
			p.room(bodySize * leading)
			p.y += bodySize * leading
			// The dot stands at the first line only; the others are indented alike.
			if i == 0 {
				p.line(pageMargin, p.y-bodySize*0.3, "•", bodySize, false, colorInk())
			}
			p.line(pageMargin+indent, p.y-bodySize*0.3, l, bodySize, false, colorInk())
		}
		p.y += 2
	}
	p.y += 3
}
