package samplesheet

import (
	"fmt"
	"io"
	"strings"

	"rootworthy/export/words"
	"rootworthy/suitability/sampling"
)

// textWidth is the width of the plain sheet in columns.
const textWidth = 80

// writeText writes the sheet as plain text.
func writeText(w io.Writer, p *sampling.Plan) error {
	var b strings.Builder
	b.WriteString(strings.ToUpper(title) + dated(p) + "\n")
	para(&b, "", total(p))
	b.WriteString("\n")
	for _, r := range rules(p) {
		para(&b, "- ", r)
	}
	for i := range p.Fields {
		textField(&b, p, &p.Fields[i])
	}
	if lines := leftLines(p); len(lines) > 0 {
		b.WriteString("\nNOT SAMPLED\n")
		for _, l := range lines {
			para(&b, "- ", l)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// dated is the day of the run, not of printing: the same plan is the same sheet.
func dated(p *sampling.Plan) string {
	if d := p.Result.Provenance.Date; d != "" {
		return ", " + words.Date(d)
	}
	return ""
}

// textField is a field: why each zone is dug, bags to tick off, and the stops for those who type places into a receiver.
func textField(b *strings.Builder, p *sampling.Plan, f *sampling.Field) {
	fmt.Fprintf(b, "\nFIELD %s: %s, %s on foot\n", words.Shown(fieldName(f.Field), mostName), words.Count(len(f.Stops), "stop", "stops"), walk(f.Way))
	for i := range p.Zones {
		z := &p.Zones[i]
		if z.Zone.FieldID != f.Field.ID {
			continue
		}
		para(b, "  ", fmt.Sprintf("Zone %s, %s acres. %s", words.Shown(z.Zone.ID, mostName), words.Acres(z.Zone.Area), reason(z)))
		for k := range p.Bags {
			if bag := &p.Bags[k]; bag.Zone == z.Zone {
				fmt.Fprintf(b, "  [ ] bag %s: %s, %d cores\n", words.Shown(bag.ID, mostName), depth(bag), bag.Cores)
			}
		}
	}
	b.WriteString("  stop     latitude    longitude  into\n")
	for _, s := range f.Stops {
		para(b, fmt.Sprintf("  %4d  %s %s  ", s.Number, right(degrees(s.At[1]), 11), right(degrees(s.At[0]), 12)), fills(p, s))
	}
}

// right pads on the left, so that degrees stand below degrees.
func right(s string, n int) string { return strings.Repeat(" ", max(0, n-len(s))) + s }

// para writes text wrapped, the lines after the first indented like it.
func para(b *strings.Builder, first, s string) {
	b.WriteString(words.Paragraph(s, textWidth, first, strings.Repeat(" ", len(first))))
}
