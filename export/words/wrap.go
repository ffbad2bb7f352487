package words

import (
	"io"
	"strings"
	"unicode/utf8"
)

// defaultWidth is how many columns a page of text has when nobody says.
const defaultWidth = 80

// page writes text of a fixed width. Its first error is kept, so that callers write on and ask once.
type page struct {
	w     io.Writer
	width int
	err   error
}

// line writes one line, without blanks at its end.
func (p *page) line(s string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, strings.TrimRight(s, " ")+"\n")
	}
}

// text writes s wrapped, the first line indented by first, the others by rest.
func (p *page) text(first, rest, s string) {
	indent := first
	for _, l := range wrap(s, p.width-max(cells(first), cells(rest))) {
		p.line(indent + l)
		indent = rest
	}
}

// Paragraph wraps a text into lines of at most width columns, each ended: the first line behind first, the others behind rest.
func Paragraph(s string, width int, first, rest string) string {
	var b strings.Builder
	indent := first
	for _, l := range wrap(s, width-max(cells(first), cells(rest))) {
		b.WriteString(indent + l + "\n")
		indent = rest
	}
	return b.String()
}

// wrap breaks s at blanks into lines of at most width characters; a longer word stands alone.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		switch {
		case line == "":
			line = word
		case cells(line)+1+cells(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	// An empty text gives one empty line.
	return append(lines, line)
}

// cells counts the columns of a text: one for each letter. Letters of double width are rare in names of fields here.
func cells(s string) int { return utf8.RuneCountInString(s) }

// left pads s on the right to n columns, or cuts it, the cut marked.
func left(s string, n int) string {
	if c := cells(s); c <= n {
		return s + strings.Repeat(" ", n-c)
	}
	r := []rune(s)
	return string(r[:n-1]) + "~"
}

// right pads s on the left to n columns; a longer one is left whole, since half a number is a lie.
func right(s string, n int) string { return strings.Repeat(" ", max(0, n-cells(s))) + s }

// printable takes control characters out of names that come from files of others, so that none can move the cursor of
// a terminal.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 0x20 || r >= 0x7f && r < 0xa0 || r == utf8.RuneError {
			return '?'
		}
		return r
	}, s)
}
