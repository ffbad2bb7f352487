package lab

import "strings"

// heading is where a table begins.
type heading struct {
	row   int  // index of the header row
	units bool // the next row holds units
}

// first is the index of the first row that may be a sample.
func (h heading) first() int {
	if h.units {
		return h.row + 2
	}
	return h.row + 1
}

// searchRows is how far down the header is looked for: laboratories print their address and the client's above it.
const searchRows = 60

// mostHeaders is how many cells are tried as headers in all: understanding one takes some 100 µs.
const mostHeaders = 4096

// findHeading returns the row with the most headers that are understood, and how many; ok is false when no row has two, one
// of them a result. Of equals the first counts.
func findHeading(rows []tableRow, m *Mapping) (h heading, known int, ok bool) {
	budget := mostHeaders
	for i, row := range rows[:min(len(rows), searchRows)] {
		n, results := understoodIn(row, m, &budget)
		// A title such as "pH report" is one understood word; a header has two, and a result among them.
		if results > 0 && n >= 2 && n > known {
			h, known, ok = heading{row: i}, n, true
		}
	}
	if ok && h.row+1 < len(rows) {
		// units may stand in a row of their own below the names
		h.units = isUnitsRow(rows[h.row+1])
	}
	return h, known, ok
}

// understoodIn counts the headers of a row that are understood, and those of results among them; a result that lacks
// only its unit, or that is refused for a reason we know, counts as understood.
func understoodIn(row tableRow, m *Mapping, budget *int) (n, results int) {
	for _, cell := range row.cells {
		if cell == "" || len(cell) > longestHeader || readFigure(cell, markPoint).state == cellFigure { // no header looks like that
			continue
		}
		// shared by all rows, so that a file of nothing but wide rows costs no more
		if *budget--; *budget < 0 {
			break
		}
		// through the mapping, so that headers in another language can be named there
		c := m.apply(squeeze(cell), understand(cell, ""))
		switch {
		// results stand from waterPH on in the list of kinds
		case c.holds >= waterPH || c.lacksUnit():
			n++
			results++
		case c.holds != nothing:
			n++
		}
	}
	return n, results
}

// isUnitsRow says whether a row holds units: none of its cells is a figure, and most are units or say "units".
func isUnitsRow(row tableRow) bool {
	units, other := 0, 0
	for i, cell := range row.cells {
		s := plainWords(cell)
		if s == "" || len(s) > longestHeader || i >= mostHeaders {
			continue
		}
		measures, rest := words().takeAll("measure", s)
		_, rest = words().takeAll("length", rest)
		switch {
		case readFigure(cell, markPoint).state == cellFigure:
			return false
		case len(measures) > 0 || rest == "" || rest == "units" || rest == "unit":
			units++
		default:
			other++
		}
	}
	// "Sample 1" in the first cell begins a sample whose results are words
	return units > 0 && units > other && !strings.Contains(plainWords(row.cell(0)), "sample")
}
