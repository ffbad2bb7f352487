package geopackage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
)

// Kinds of pages of the tree that holds a table.
//
// Source: https://www.sqlite.org/fileformat2.html, section 1.6.
const (
	pageInner = 0x05
	pageLeaf  = 0x0d
)

// walker walks the tree of the list of tables.
// Pages are numbered from 1, as in the file.
type walker struct {
	r     io.ReaderAt
	page  int64 // bytes of a page
	pages int64 // in the file
	seen  map[uint32]bool
}

// checkList makes sure that no page of the list of tables is reached twice. The database library reads the list in one
// go that nothing can stop, so a few pages that lead to each other again and again would keep it busy for years.
func checkList(r io.ReaderAt, size, page int64) error {
	w := &walker{r: r, page: page, pages: (size + page - 1) / page, seen: map[uint32]bool{}}
	return w.walk(1, 0)
}

var errList = errors.New("its list of tables is damaged; copy it again, or export it anew")

// walk looks at page n and all below it; depth is how many stand above.
func (w *walker) walk(n uint32, depth int) error {
	const deepest = 20 // as the database library has it
	// Pages count from 1.
	if n == 0 || int64(n) > w.pages || w.seen[n] || depth > deepest {
		return errList
	}
	w.seen[n] = true
	b := make([]byte, w.page)
	if got, err := w.r.ReadAt(b, int64(n-1)*w.page); got < len(b) && err != io.EOF {
		return fmt.Errorf("page %d: %w", n, err)
	}
	head := 0
	if n == 1 {
		head = 100 // of the file
	}
	switch b[head] {
	// Leaves hold the list itself, which names reads row by row up to maxTables.
	case pageLeaf:
		return nil
	case pageInner:
	default:
		return errList
	}
	// The header of an inner page has 12 bytes, then come the places of its cells; each cell begins with the number of a
	// page below.
	cells := int(binary.BigEndian.Uint16(b[head+3:]))
	for i := range cells {
		at := head + 12 + 2*i
		if at+2 > len(b) {
			return errList
		}
		cell := int(binary.BigEndian.Uint16(b[at:]))
		if cell+4 > len(b) {
			return errList
		}
		if err := w.walk(binary.BigEndian.Uint32(b[cell:]), depth+1); err != nil {
			return err
		}
	}
	// The rightmost page below stands in the header, not in a cell.
	return w.walk(binary.BigEndian.Uint32(b[head+8:]), depth+1)
}
