package taskdata

import (
	"fmt"
	"io"
	"strings"

	"rootworthy/export/words"
)

// sheetWidth is how many letters a printed line holds.
const sheetWidth = 78

// WriteSheetText writes the load sheet as plain text of 78 columns.
func (p *Plan) WriteSheetText(w io.Writer) error {
	s := p.sheet()
	var b strings.Builder
	if s.Untested != "" {
		b.WriteString(wrapped(s.Untested, "", "") + "\n")
	}
	fmt.Fprintf(&b, "%s", strings.ToUpper(s.Title))
	if s.Date != "" {
		fmt.Fprintf(&b, "  (%s)", s.Date)
	}
	fmt.Fprintf(&b, "\n\nProduct   %s\nSpreader  %s\n", s.Product, s.Machine)
	if s.Cells != "" {
		fmt.Fprintf(&b, "Cells     %s\n", s.Cells)
	}
	fmt.Fprintf(&b, "\n%-34s%9s%11s%9s%7s%8s\n", "Task", "limed ac", "short tons", "tonnes", "loads", "last")
	for _, f := range append(s.Fields, s.Total) {
		b.WriteString(strings.TrimRight(fmt.Sprintf("%-34s%9s%11s%9s%7s%8s", f.Name, f.Area, f.Tons, f.Tonnes, f.Loads, f.Last), " ") + "\n")
	}
	b.WriteString("\n" + wrapped("Rate check. Tray opening "+s.Tray+". "+weighed, "", "") + "\n")
	fmt.Fprintf(&b, "%12s%10s%10s%17s%10s\n", "short ton/ac", "lb/ac", "t/ha", "grams in a tray", "ounces")
	for _, r := range s.Rates {
		fmt.Fprintf(&b, "%12s%10s%10s%17s%10s\n", r.ShortTons, r.Pounds, r.Metric, r.Grams, r.Ounces)
	}
	section := func(title string, lines []string) {
		if len(lines) > 0 {
			b.WriteString("\n" + title + "\n")
			for _, l := range lines {
				b.WriteString(wrapped(l, "- ", "  "))
			}
		}
	}
	section("Take care", s.Cautions)
	section("Note", s.Notes)
	section("Nothing is spread on", s.Left)
	_, err := io.WriteString(w, b.String())
	return err
}

// wrapped breaks a text at blanks.
func wrapped(text, first, rest string) string { return words.Paragraph(text, sheetWidth, first, rest) }
