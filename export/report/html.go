package report

import (
	"bufio"
	"bytes"
	"fmt"
	"html"
	"io"
	"strings"

	"rootworthy/export/mapdraw"
)

// HTML writes the document as one page that needs nothing else: style and maps are inside, there is no script, and
// nothing is fetched.
func (d *Document) HTML(w io.Writer) error {
	// 64 KiB: maps come as very many short strings.
	p := &page{w: bufio.NewWriterSize(w, 1<<16)}
	p.raw("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>")
	p.raw(text(d.Title), "</title>\n<style>\n", style, "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the report</a>\n")
	p.raw("<header><p>", text(d.Subject), "</p></header>\n<main id=\"main\" tabindex=\"-1\">\n<h1>", text(d.Title), "</h1>\n")
	p.sizes, p.folds = sizesFor(d), d.Folds
	for i, b := range d.Blocks {
		if h, ok := b.(Heading); ok && h.Level == 2 && !p.listed { // the answer comes first, then the contents
			p.contents(d.Blocks[i:])
			p.listed = true
		}
		if err := p.block(b); err != nil {
			return err
		}
	}
	p.unfold(0)
	p.raw("</main>\n<footer><p>", text(d.madeBy()), "</p></footer>\n</body>\n</html>\n")
	return p.w.Flush()
}

// madeBy says what made the document, and for which day.
func (d *Document) madeBy() string {
	s := d.Subject
	if d.Program != "" {
		s += ". Made by " + d.Program
	}
	if d.Date != "" {
		s += " for " + d.Date
	}
	return s + "."
}

// page is a page in the making; bufio keeps its first error.
type page struct {
	w      *bufio.Writer
	n      int  // tables so far, for their names
	listed bool // the contents are written
	sizes  []sized
	folds  bool  // headings begin parts that fold
	within []int // levels of the headings whose parts are not ended yet
}

func (p *page) raw(parts ...string) {
	for _, s := range parts {
		p.w.WriteString(s)
	}
}

// text makes a string safe between tags and in attributes.
func text(s string) string { return html.EscapeString(s) }

// mostContents is how many sections a list of contents may have; a long one is no help.
const mostContents = 40

// contents lists the sections as links.
func (p *page) contents(blocks []Block) {
	var list []Heading
	for _, b := range blocks {
		if h, ok := b.(Heading); ok && h.Level == 2 {
			list = append(list, h)
		}
	}
	// Of two sections the second is in sight when the first has been read.
	if len(list) < 3 || len(list) > mostContents {
		return
	}
	p.raw("<nav aria-label=\"Contents\"><ul>\n")
	for _, h := range list {
		p.raw("<li><a href=\"#", h.ID, "\">", text(h.Text), "</a></li>\n")
	}
	p.raw("</ul></nav>\n")
}

// block writes one block.
func (p *page) block(b Block) error {
	switch b := b.(type) {
	case Heading:
		if p.folds {
			p.fold(b)
			break
		}
		p.raw(fmt.Sprintf("<h%d id=\"%s\">%s</h%d>\n", b.Level, b.ID, text(b.Text), b.Level))
	case Para:
		// In the order of the tones.
		p.raw("<p", [...]string{"", " class=\"answer\"", " class=\"small\""}[b.Tone], ">", text(b.Text), "</p>\n")
	case Bullets:
		p.raw("<ul>\n")
		for _, s := range b.Items {
			p.raw("<li>", text(s), "</li>\n")
		}
		p.raw("</ul>\n")
	case Table:
		p.table(b)
	case Figure:
		return p.figure(b, "map", p.sizes...)
	case PageBreak: // for those who print the page: letters go to different people
		p.raw("<div class=\"newpage\"></div>\n")
	case Figures:
		p.raw("<div class=\"maps\">\n")
		// Small maps are bare: their captions and the sentence above them say what a legend would.
		for _, f := range b.Items {
			if err := p.figure(f, "small-map", sized{"any", mapdraw.Options{Style: mapdraw.Screen(), Width: 240, Bare: true}}); err != nil {
				return err
			}
		}
		p.raw("</div>\n")
	}
	return nil
}

// Widths that a map is drawn for: a page shows the one that suits the window, so that no letter on it is ever under 12
// pixels and no map is blown up far beyond the size it was drawn for.
const phoneWidth, deskWidth = 340, 660

// screen has text a little larger than elsewhere: a map is shown somewhat smaller on the narrowest window.
func screen() mapdraw.Style {
	s := mapdraw.Screen()
	s.Text = 14
	return s
}

// sized is a map as drawn for one width of window.
type sized struct {
	class string
	o     mapdraw.Options
}

// mostTwice is how many maps are drawn for both widths; beyond, a page would grow past what a phone can hold.
const mostTwice = 120

// sizesFor chooses the widths that the maps of a document are drawn for.
func sizesFor(d *Document) []sized {
	maps := 0
	for _, b := range d.Blocks {
		if _, ok := b.(Figure); ok {
			maps++
		}
	}
	phone := mapdraw.Options{Style: screen(), Width: phoneWidth}
	// The narrow one alone: it can be read on a wide screen, while the other would be too small on a phone.
	if maps > mostTwice {
		return []sized{{"only", phone}}
	}
	return []sized{{"phone", phone}, {"desk", mapdraw.Options{Style: screen(), Width: deskWidth}}}
}

// figure writes a map for each width, its caption and its legend.
// Which of the widths is seen is settled by the style sheet alone, without a script.
func (p *page) figure(f Figure, class string, sizes ...sized) error {
	p.raw("<figure class=\"", class, "\">\n")
	var notes []string
	for _, s := range sizes {
		p.raw("<div class=\"", s.class, "\">")
		d := f.Draw(s.o)
		if err := d.SVG(p.w, f.ID+"-"+s.class); err != nil {
			return err
		}
		p.raw("</div>\n")
		// Notes of a map (fields too small to number) are those of the last width drawn: the widest window.
		if !s.o.Bare {
			notes = d.Notes
		}
	}
	p.raw("<figcaption>", text(f.Caption))
	for _, n := range notes {
		p.raw("<br>", text(n))
	}
	p.raw("</figcaption>\n</figure>\n")
	if f.Legend != nil {
		p.legend(f)
	}
	return nil
}

// legend writes the legend as a table: what the map shows, for those who do not see it.
func (p *page) legend(f Figure) {
	rows := f.Legend()
	if len(rows) == 0 {
		return
	}
	p.raw("<table class=\"legend\">\n<caption>Legend and areas</caption>\n<thead><tr><th scope=\"col\">Ground</th><th scope=\"col\" class=\"number\">Area</th><th scope=\"col\" class=\"number\">Share</th></tr></thead>\n<tbody>\n")
	for i, r := range rows {
		p.raw("<tr><th scope=\"row\">", swatch(r.Look, fmt.Sprintf("%s-patch%d", f.ID, i)), text(r.Text), "</th><td class=\"number\">", text(r.Area), "</td><td class=\"number\">", text(r.Share), "</td></tr>\n")
	}
	p.raw("</tbody>\n</table>\n")
}

// swatch is a patch of the legend as a drawing of its own, drawn like the map.
func swatch(l mapdraw.Look, prefix string) string {
	d := mapdraw.Swatch(l, mapdraw.Screen(), 36, 22)
	var b bytes.Buffer
	d.SVG(&b, prefix) // a buffer does not fail
	s := b.String()
	// The title and description of the drawing are cut off: the words stand beside the patch, and twice is once too often when read aloud.
	_, rest, _ := strings.Cut(s, "</desc>\n")
	return fmt.Sprintf(`<svg class="patch" aria-hidden="true" focusable="false" viewBox="0 0 36 22" width="36" height="22">%s `, strings.TrimRight(rest, "\n"))
}

// table writes a table in a region that scrolls by itself, so that the page never does.
func (p *page) table(t Table) {
	p.n++
	caption := fmt.Sprintf("table-%d", p.n)
	// A region that scrolls must be reachable by the keyboard and have a name, hence tabindex and the label.
	p.raw("<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-labelledby=\"", caption, "\">\n<table", stackClass(t), ">\n<caption id=\"", caption, "\">", text(t.Caption), "</caption>\n<thead><tr>")
	for _, c := range t.Columns {
		p.raw("<th scope=\"col\"", numberClass(c), ">", text(c.Head), "</th>")
	}
	p.raw("</tr></thead>\n<tbody>\n")
	for i, row := range t.Rows {
		p.row(t, i, row)
	}
	p.raw("</tbody>\n</table>\n</div>\n")
	if t.Note != "" {
		p.raw("<p class=\"small\">", text(t.Note), "</p>\n")
	}
}

// row writes a row; its first cell names it.
func (p *page) row(t Table, i int, row []string) {
	if t.Total && i == len(t.Rows)-1 {
		p.raw("<tr class=\"total\">")
	} else {
		p.raw("<tr>")
	}
	for k, cell := range row {
		s := text(cell)
		// Marks are for the eye; the words after them say the same, and a screen reader would spell the dots out.
		if k < len(t.Columns) && strings.HasPrefix(cell, "●") {
			marks, rest, _ := strings.Cut(s, " ")
			s = "<span class=\"marks\" aria-hidden=\"true\">" + marks + "</span> " + rest
		}
		if k == 0 && len(t.Links) > i && t.Links[i] != "" {
			s = "<a href=\"#" + t.Links[i] + "\">" + s + "</a>"
		}
		switch {
		case k == 0:
			p.raw("<th scope=\"row\"", numberClass(t.Columns[k]), headOf(t, k, cell), ">", s, "</th>")
		default:
			p.raw("<td", numberClass(t.Columns[k]), headOf(t, k, cell), ">", s, "</td>")
		}
	}
	p.raw("</tr>\n")
}

// stackClass marks a table whose rows become blocks on a narrow window.
func stackClass(t Table) string {
	if t.Stack {
		return " class=\"stack\""
	}
	return ""
}

// headOf gives a cell of a stacked table the head of its column, which a narrow window shows above it. A cell that only says that there is nothing
// has none: there it is left out, since a column that stays empty tells nothing where there are no columns.
func headOf(t Table, k int, cell string) string {
	if !t.Stack || cell == "–" {
		return ""
	}
	return " data-head=\"" + text(t.Columns[k].Head) + "\""
}

// numberClass marks a cell of figures, which stand at the right edge.
func numberClass(c Column) string {
	if c.Number {
		return " class=\"number\""
	}
	return ""
}
