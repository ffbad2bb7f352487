package report

import "rootworthy/export/mapdraw"

// cellPad is the space around the text of a cell.
const cellPad = 4.5

// heads are the heads of the columns.
func (t Table) heads() []string {
	out := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = c.Head
	}
	return out
}

// table writes a table; its head repeats on each page and no row is split.
func (p *sheets) table(t Table) {
	first := 3 * tableSize * leading
	if len(t.Rows) > 0 { // a head is no use at the foot of a page
		first = max(first, 2*tableSize*leading+p.rowHeight(t, t.Rows[0], false))
	}
	p.room(p.rowHeight(t, t.heads(), true) + first)
	p.y += 2
	p.text(t.Caption, tableSize+0.5, true, colorInk())
	p.y += 3
	p.row(t, t.heads(), true)
	for i, r := range t.Rows {
		end := i == len(t.Rows)-1
		last := t.Total && end
		h := p.rowHeight(t, r, last)
		if end { // the note explains the table: alone on the next page nobody knows of what it speaks
			h += p.noteHeight(t)
		} else if i == len(t.Rows)-2 && i > 1 { // nor is a last row alone there much of a table: it takes the one before it along
			if both := h + p.rowHeight(t, t.Rows[i+1], t.Total) + p.noteHeight(t); both < (p.bottom-pageMargin)/2 {
				h = both
			}
		}
		if p.y+h > p.bottom {
			p.newPage()
			p.row(t, t.heads(), true)
		}
		// A heavier line sets the sum off, as in a ledger.
		if last {
			p.rule(1)
		}
		p.row(t, r, last)
	}
	p.y += 4
	if t.Note != "" {
		p.text(t.Note, tableSize, false, colorGrey())
		p.y += 4
	}
}

// noteHeight is the room that the note under a table takes; none where it is so long that a page of its own is due to it.
func (p *sheets) noteHeight(t Table) float64 {
	if t.Note == "" {
		return 0
	}
	h := 4 + float64(len(mapdraw.Wrap(printed(t.Note), p.width, tableSize, false)))*tableSize*leading
	if h > (p.bottom-pageMargin)/3 {
		return 0
	}
	return h
}

// tableHeight is about how high a whole table is.
func (p *sheets) tableHeight(t Table) float64 {
	h := p.rowHeight(t, t.heads(), true) + 3*tableSize*leading
	for _, r := range t.Rows {
		if h > p.bottom {
			return h // no page holds it
		}
		h += p.rowHeight(t, r, false)
	}
	return h + float64(len(mapdraw.Wrap(t.Note, p.width, tableSize, false)))*tableSize*leading + 8
}

// cellLines wraps the text of a cell. Words longer than the cell are broken: a code without blanks must not run into
// its neighbour.
func (p *sheets) cellLines(t Table, k int, s string, bold bool) []string {
	return mapdraw.Wrap(printed(s), t.Columns[k].Share*p.width-2*cellPad, tableSize, bold)
}

// rowHeight is the height of a row with its space.
// The height of its highest cell; the first cell is always bold, and bold letters are wider.
func (p *sheets) rowHeight(t Table, row []string, bold bool) float64 {
	most := 1
	for k, s := range row {
		most = max(most, len(p.cellLines(t, k, s, bold || k == 0)))
	}
	return float64(most)*tableSize*leading + 2*cellPad
}

// row writes a row; heads stand on a shade, the first cell is bold.
func (p *sheets) row(t Table, row []string, head bool) {
	h := p.rowHeight(t, row, head)
	if head {
		p.f.SetFillColor(rgb(colorShade()))
		p.f.Rect(pageMargin, p.y, p.width, h, "F")
	}
	x := pageMargin
	for k, s := range row {
		c := t.Columns[k]
		bold := head || k == 0
		for i, l := range p.cellLines(t, k, s, bold) {
			at := x + cellPad
			if c.Number {
				// Figures end at the right edge, so that their decimals stand one below the other.
				at = x + c.Share*p.width - cellPad - mapdraw.TextWidth(l, tableSize, bold)
			}
			p.line(at, p.y+cellPad+float64(i+1)*tableSize*leading-tableSize*0.35, l, tableSize, bold, colorInk())
		}
		x += c.Share * p.width
	}
	p.y += h
	p.rule(0.4)
}

// rule draws a line over the whole width.
func (p *sheets) rule(width float64) {
	p.f.SetDrawColor(rgb(colorGrey()))
	p.f.SetLineWidth(width)
	p.f.Line(pageMargin, p.y, pageMargin+p.width, p.y)
}
