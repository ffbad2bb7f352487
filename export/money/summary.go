package money

import (
	"fmt"
	"strings"

	"rootworthy/export/words"
)

// lineWidth is how wide a line for a terminal is.
const lineWidth = 80

// Summary says on a terminal what the document says first, the fields in a table, and what was written where.
func (b *Book) Summary(dir string) string {
	var out strings.Builder
	for _, l := range b.Answer() {
		wrapped(&out, l)
	}
	for _, l := range []string{b.leftOut(), b.Aged()} {
		if l != "" {
			wrapped(&out, l)
		}
	}
	b.table(&out)
	out.WriteByte('\n')
	wrapped(&out, fmt.Sprintf("Written to %s: %s and %s to read, %s, %s and %s for a spreadsheet, %s for what moves the result most.", dir, Page, PDF, ItemsFile, ZonesFile, FieldsFile, BarsSVG))
	return out.String()
}

// mostTold is how many fields a terminal gets; the files have all of them.
const mostTold = 30

// table lists the fields: what an acre of the ground to sow costs and may be worth.
func (b *Book) table(out *strings.Builder) {
	n, more := 0, 0
	for i := range b.Study.Fields {
		f := &b.Study.Fields[i]
		if n == mostTold {
			more++
			continue
		}
		if n == 0 {
			fmt.Fprintf(out, "\n%-24s %5s  %-17s %s\n", "Field; "+b.currency()+" an acre", "Acres", "Cost, low to high", "Worth, likely (low to high)")
		}
		n++
		// A field of which nothing is worth sowing has a reason in place of figures.
		if !(f.Area > 0) {
			fmt.Fprintf(out, "%-24s %5s  %s\n", words.Shown(b.fieldName(i), 24), dash, why(f.Why))
			continue
		}
		// The terminal shows the range of the cost, the page its likely figure too: there is no room for both here.
		cells := b.figureCells(&f.Figures)
		cost := cells[2]
		if r, ok := f.OncePerArea().Get(); ok {
			cost = span(r.Low.PerAcre(), r.High.PerAcre())
		}
		fmt.Fprintf(out, "%-24s %5s  %-17s %s\n", words.Shown(b.fieldName(i), 24), cells[0], cost, cells[3])
	}
	if more > 0 {
		fmt.Fprintf(out, "and %s\n", words.Count(more, "more field", "more fields"))
	}
}

// wrapped writes a paragraph in lines.
func wrapped(out *strings.Builder, s string) { out.WriteString(words.Paragraph(s, lineWidth, "", "")) }
