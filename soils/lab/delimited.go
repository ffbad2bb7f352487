package lab

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
)

// Bounds of a table. Laboratory files have some hundred rows and at most some hundred columns; a file beyond these is
// read up to the bound, and told.
const (
	widest      = 1024    // columns
	mostCells   = 2000000 // cells in all, 16 bytes each beside their text
	longestCell = 1 << 16 // bytes of a quoted cell
	mostQuoted  = 30      // lines that one quoted cell may span; beyond it the quotation mark was a slip, such as an inch mark
)

// delimiters are tried in this order; of equals the first counts.
var delimiters = []struct {
	sep  byte
	name string
}{{',', "commas"}, {';', "semicolons"}, {'\t', "tabs"}, {'|', "bars"}}

// readDelimited splits a text by the delimiter under which most of its headers are understood.
func readDelimited(file, text string, m *Mapping, faults *diag.List) (t table, h heading, delimiter string, ok bool) {
	// "of equals the first" needs "greater" below, and a first that beats nothing at all
	best := -1
	for i, d := range delimiters {
		// Tried on the head alone; a megabyte need not be split four times.
		start := splitter{text: text, sep: d.sep, most: searchRows + 2, quiet: true}
		// Not the most cells but the most headers understood: an address line has more commas than a header of two
		// columns.
		if head, known, found := findHeading(start.rows(), m); found && known > best {
			best, h, delimiter, ok = known, head, delimiters[i].name, true
		}
	}
	if !ok {
		return t, h, "", false
	}
	for _, d := range delimiters {
		if d.name == delimiter {
			// again from the start, this time with its faults told
			all := splitter{text: text, sep: d.sep, file: file, faults: faults}
			t = table{rows: all.rows()}
		}
	}
	return t, h, delimiter, true
}

// splitter cuts a text into rows of cells as RFC 4180 has them, and goes on where files do not follow it: a quotation
// mark inside a cell is a quotation mark, and one that is not closed within some lines is taken as a character.
type splitter struct {
	text   string
	sep    byte
	most   int // rows; 0 means all
	quiet  bool
	file   string
	faults *diag.List

	line  int
	cells int
}

// rows takes all rows off the text. Empty ones count too, so that lines are those of the file.
func (s *splitter) rows() []tableRow {
	var out []tableRow
	s.line = 1
	for s.text != "" && (s.most == 0 || len(out) < s.most) {
		row := tableRow{line: s.line}
		row.cells = s.row()
		// Cells are counted as they come, since nothing in the file says how many there will be.
		if s.cells += len(row.cells); s.cells > mostCells {
			s.fault(row.line, "too large", fmt.Sprintf("the table has over %d cells; the rest from here on is not read", mostCells), "split the file")
			break
		}
		out = append(out, row)
	}
	return out
}

// row takes one row off the text.
func (s *splitter) row() []string {
	var cells []string
	for {
		cell, end := s.cell()
		// the rest of the row is still taken off the text, so that the next row begins where it does
		if len(cells) < widest {
			cells = append(cells, cell)
		} else if len(cells) == widest && strings.TrimSpace(cell) != "" {
			s.fault(s.line, "too wide", fmt.Sprintf("the row has over %d cells; the rest of it is not read", widest), "check the separator")
		}
		if end {
			return cells
		}
	}
}

// cell takes one cell off the text; end says that its row ends with it.
func (s *splitter) cell() (cell string, end bool) {
	// blanks before the mark are not part of RFC 4180, and stand in files all the same
	lead := len(s.text) - len(strings.TrimLeft(s.text, " "))
	if s.sep != ' ' && strings.HasPrefix(s.text[lead:], `"`) {
		// else the mark was a character, as in 6" of a depth
		if cell, end, ok := s.quotedCell(lead); ok {
			return cell, end
		}
	}
	i := strings.IndexAny(s.text, string(s.sep)+"\r\n")
	if i < 0 {
		cell, s.text = s.text, ""
		return cell, true
	}
	cell = s.text[:i]
	return cell, s.endCell(i)
}

// quotedCell takes a cell in quotation marks. It fails, and takes nothing, when the closing mark is not where a cell ends.
func (s *splitter) quotedCell(lead int) (cell string, end, ok bool) {
	var b strings.Builder
	rest, lines := s.text[lead+1:], 0
	for {
		i := strings.IndexByte(rest, '"')
		if i < 0 {
			i = len(rest)
		}
		// lines are only counted as far as they matter, or one open mark in a large file would have the file gone through for every row
		if lines += newlines(rest[:i], mostQuoted+1-lines); i == len(rest) || lines > mostQuoted {
			s.fault(s.line, "open quotation mark", "a quotation mark that opens a cell is not closed; it is taken as a character", "close it, or double it inside a quoted cell")
			return "", false, false
		}
		// a cell as long is a mark that was never closed, in a file without line ends
		if b.WriteString(rest[:i]); b.Len() > longestCell {
			return "", false, false
		}
		rest = rest[i+1:]
		// two marks within a quoted cell are one mark of its text
		if strings.HasPrefix(rest, `"`) {
			b.WriteByte('"')
			rest = rest[1:]
			continue
		}
		break
	}
	after := strings.TrimLeft(rest, " ")
	if after != "" && after[0] != s.sep && after[0] != '\r' && after[0] != '\n' {
		return "", false, false // text after the mark: `"6" deep`
	}
	s.text = after
	end = s.endCell(0)
	s.line += lines
	return b.String(), end, true
}

// newlines counts line ends in s, but no more than most.
func newlines(s string, most int) int {
	n := 0
	for n < most {
		i := strings.IndexByte(s, '\n')
		if i < 0 {
			return n
		}
		n, s = n+1, s[i+1:]
	}
	return n
}

// endCell drops the separator or line end at i, and says whether the row ends.
func (s *splitter) endCell(i int) (end bool) {
	s.text = s.text[i:]
	switch {
	case s.text == "":
		return true
	case s.text[0] == s.sep:
		s.text = s.text[1:]
		return false // after a trailing separator the text may be empty: an empty last cell follows
	}
	// CR LF, LF or CR alone: all three end a line
	if strings.HasPrefix(s.text, "\r\n") {
		s.text = s.text[1:]
	}
	s.text = s.text[1:]
	s.line++
	return true
}

// fault is silent while delimiters are only tried: most of these readings are wrong.
func (s *splitter) fault(line int, kind, what, fix string) {
	if !s.quiet {
		s.faults.Add(diag.Fault{File: s.file, Line: line, Kind: kind, What: what, Fix: fix})
	}
}
