package report

import (
	"bufio"
	"bytes"
)

// Section is a heading with what stands under it, for a page that folds its parts.
type Section struct {
	ID, Title string
	Open      bool      // it lies open
	Say       string    // "" or its answer, told while it is folded
	HTML      string    // what stands before the first heading within it, every text escaped; the heading itself is left to the page
	Parts     []Section // of the third level; none where there are no such headings
}

// Sections writes blocks as parts of a page that has a head, a style, a list of contents and a first heading of its own. before is what stands
// ahead of the first heading. Headings of the second and third level become sections with their ids; names that tables and maps have for
// screen readers stay different over all of them.
func Sections(blocks []Block) (before string, sections []Section, err error) {
	var b bytes.Buffer
	p := &page{w: bufio.NewWriterSize(&b, 1<<16), sizes: sizesFor(&Document{Blocks: blocks})}
	to := &before
	take := func() {
		p.w.Flush() // into memory: it does not fail
		*to = b.String()
		b.Reset()
	}
	for _, x := range blocks {
		h, ok := x.(Heading)
		if !ok || h.Level > 3 {
			if err := p.block(x); err != nil {
				return "", nil, err
			}
			continue
		}
		take()
		list := &sections
		// A heading of the third level without one of the second above it is a section like any.
		if h.Level == 3 && len(sections) > 0 {
			list = &sections[len(sections)-1].Parts
		}
		*list = append(*list, Section{ID: h.ID, Title: h.Text, Open: h.Open, Say: h.Say})
		to = &(*list)[len(*list)-1].HTML
	}
	take()
	return before, sections, nil
}
