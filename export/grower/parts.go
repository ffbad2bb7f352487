package grower

import (
	"fmt"
	"strings"

	"rootworthy/export/report"
)

// FieldBlocks takes the plan of one field out of the document of all, by its place in the run: its calendar and materials, and how the
// steps that it has are done. The heading with its name is left out.
func FieldBlocks(d *report.Document, place int) []report.Block {
	own := section(d, fmt.Sprintf("field-%d", place+1))
	if len(own) == 0 {
		return nil
	}
	has := map[string]bool{}
	for _, b := range own {
		if t, ok := b.(report.Table); ok {
			for _, l := range t.Links {
				has[l] = true
			}
		}
	}
	// The page has its own heading.
	out := own[1:]
	keep := true
	for i, b := range section(d, "steps") {
		if h, ok := b.(report.Heading); ok && i > 0 {
			// Only how those steps are done that this field has; a field with a stand needs no lesson on lime.
			keep = has[h.ID]
		}
		if keep && len(has) > 0 {
			out = append(out, b)
		}
	}
	return append(out, section(d, "cautions")...)
}

// FarmBlocks is the document without its fields: the answer, all steps by date, how they are done, nutrients, seed, sources.
func FarmBlocks(d *report.Document) []report.Block {
	var out []report.Block
	keep := true
	for _, b := range d.Blocks {
		// A field's part runs from its heading to the next of the same level.
		if h, ok := b.(report.Heading); ok && h.Level == 2 {
			keep = !strings.HasPrefix(h.ID, "field-")
		}
		if keep {
			out = append(out, b)
		}
	}
	return out
}

// section is a heading of the second level with all up to the next.
func section(d *report.Document, id string) []report.Block {
	from := -1
	for i, b := range d.Blocks {
		h, ok := b.(report.Heading)
		switch {
		case !ok || h.Level != 2:
		case from >= 0:
			// The third index, so that appending to the part cannot write into the document.
			return d.Blocks[from:i:i]
		case h.ID == id:
			from = i
		}
	}
	if from < 0 {
		return nil
	}
	return d.Blocks[from:len(d.Blocks):len(d.Blocks)]
}
