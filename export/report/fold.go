package report

import "fmt"

// fold begins a part that folds, and ends those that it does not stand in. It needs no script: a link to the part or to anything in it opens it,
// and so does the search of a browser. The id is of what folds and not of the heading, which would be in sight already and open nothing.
func (p *page) fold(h Heading) {
	p.unfold(h.Level)
	open := ""
	if h.Open {
		open = " open"
	}
	p.raw(fmt.Sprintf("<details class=\"part\"%s><summary><h%d>%s</h%d>", open, h.Level, text(h.Text), h.Level))
	// Hidden while the part lies open: it is said again under the heading.
	if h.Say != "" {
		p.raw(" <span class=\"say\">", text(h.Say), "</span>")
	}
	p.raw("</summary>\n<div id=\"", h.ID, "\">\n")
	p.within = append(p.within, h.Level)
}

// unfold ends the parts of a level and those within them; 0 ends all.
func (p *page) unfold(level int) {
	for n := len(p.within); n > 0 && p.within[n-1] >= level; n-- {
		p.raw("</div></details>\n")
		p.within = p.within[:n-1]
	}
}
