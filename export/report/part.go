package report

import (
	"bufio"
	"io"
)

// WriteHTML writes blocks as a part of a page that has a head, a style and a first heading of its own. Headings keep their levels and ids.
func WriteHTML(w io.Writer, blocks []Block) error {
	// No contents are listed: those belong to the page around it.
	p := &page{w: bufio.NewWriterSize(w, 1<<16), sizes: sizesFor(&Document{Blocks: blocks})}
	for _, b := range blocks {
		if err := p.block(b); err != nil {
			return err
		}
	}
	return p.w.Flush()
}
