package workbook

import (
	"archive/zip"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"
)

// parts are the files in the zip, by name without a leading slash.
type parts struct {
	files map[string]*zip.File
	left  int64 // bytes that may still be unpacked
}

// openParts lists the parts by name in small letters. Names differ in case and slashes from program to program; of two that are alike the
// first counts.
func openParts(r io.ReaderAt, size int64) (*parts, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, err
	}
	p := &parts{files: map[string]*zip.File{}, left: mostAll}
	for _, f := range z.File {
		name := strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(f.Name, `\`, "/"), "/"))
		if _, twice := p.files[name]; !twice {
			p.files[name] = f
		}
	}
	return p, nil
}

// has says whether the workbook holds a part, in whatever case its name is written.
func (p *parts) has(name string) bool { return p.files[strings.ToLower(name)] != nil }

// walk reads a part and calls visit for each start element, text and end element. The bound is checked on what the
// directory declares and, because that may lie, on what is unpacked.
func (p *parts) walk(name string, visit func(*xml.Decoder, xml.Token) error) error {
	f := p.files[strings.ToLower(name)]
	if f == nil {
		return fmt.Errorf("the part %q is missing", name)
	}
	most := min(p.left, mostPart)
	if f.UncompressedSize64 > uint64(most) {
		return fmt.Errorf("the part %q unpacks to %d bytes, more than is read", name, f.UncompressedSize64)
	}
	rc, err := f.Open()
	if err != nil {
		return fmt.Errorf("the part %q: %w", name, err)
	}
	defer rc.Close()
	bounded := &countedReader{r: rc, left: most}
	// what this part took is taken off the whole
	defer func() { p.left -= most - bounded.left }()
	// the decoder knows the five entities of XML alone, so none can unfold without end
	d := xml.NewDecoder(bounded)
	depth := 0
	for {
		t, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("the part %q: %w", name, err)
		}
		switch t.(type) {
		case xml.StartElement:
			if depth++; depth > deepest {
				return fmt.Errorf("the part %q nests over %d elements", name, deepest)
			}
		case xml.EndElement:
			depth--
		}
		if err := visit(d, t); err != nil {
			return fmt.Errorf("the part %q: %w", name, err)
		}
	}
}

var errTooMuch = errors.New("it unpacks to more than it declares")

// countedReader fails after its bytes are used up.
type countedReader struct {
	r    io.Reader
	left int64
}

// Read tells a part that ends just at the bound from one that goes on.
func (c *countedReader) Read(b []byte) (int, error) {
	if c.left <= 0 {
		// at the very end of the bytes the part may just be over: only one byte more is too much
		var one [1]byte
		if n, err := c.r.Read(one[:]); n == 0 && err != nil {
			return 0, err
		}
		return 0, errTooMuch
	}
	n, err := c.r.Read(b[:min(int64(len(b)), c.left)])
	c.left -= int64(n)
	return n, err
}

// relation is a line of a .rels part.
type relation struct{ id, kind, target string }

// relations reads the relations of a part; none when it has no .rels.
func (p *parts) relations(of string) ([]relation, error) {
	name := path.Join(path.Dir(of), "_rels", path.Base(of)+".rels")
	if !p.has(name) {
		return nil, nil
	}
	var out []relation
	err := p.walk(name, func(_ *xml.Decoder, t xml.Token) error {
		e, ok := t.(xml.StartElement)
		if !ok || e.Name.Local != "Relationship" {
			return nil
		}
		target := attr(e, "Target")
		// a link to elsewhere is no part, and nothing is ever fetched
		if attr(e, "TargetMode") == "External" {
			return nil
		}
		// relative to the part that the relations are of, or to the package
		if rest, absolute := strings.CutPrefix(target, "/"); absolute {
			target = rest
		} else {
			target = path.Join(path.Dir(of), target)
		}
		kind := attr(e, "Type")
		// the last word of the type only: what stands before it differs between the two forms of the standard, transitional and strict
		out = append(out, relation{attr(e, "Id"), kind[strings.LastIndexByte(kind, '/')+1:], target})
		return nil
	})
	return out, err
}

// attr returns an attribute by its local name; empty when absent.
func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
