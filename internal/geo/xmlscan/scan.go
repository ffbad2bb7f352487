package xmlscan

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// Bounds. The outline of a whole state has some ten million letters.
const (
	maxDepth = 200
	maxText  = 128 << 20
)

// Error is damage in the XML, with its line. Errors of reading are not of this type.
type Error struct {
	Line int // from 1
	What string
}

// Error returns what is wrong, without the line.
func (e *Error) Error() string { return e.What }

// Scanner walks through one file.
type Scanner struct {
	d     *xml.Decoder
	in    *meter
	depth int // elements open
	line  int // of the last start of an element
}

// meter counts what the parser takes for one token, which it holds in memory as a whole.
type meter struct {
	r     io.Reader
	most  int64 // for one token
	taken int64
	err   error // of reading, not its end
}

// Read reads on until one token has taken more than it may.
func (m *meter) Read(p []byte) (int, error) {
	if m.taken > m.most {
		return 0, tooLong(m.most)
	}
	n, err := m.r.Read(p)
	m.taken += int64(n)
	if err != nil && err != io.EOF {
		m.err = err
	}
	return n, err
}

func tooLong(most int64) error {
	return fmt.Errorf("one piece of text is longer than %d MB", most>>20)
}

// New returns a scanner of r.
func New(r io.Reader) *Scanner {
	in := bufio.NewReaderSize(r, 1<<16)
	m := &meter{r: in, most: maxText}
	if head, _ := in.Peek(2); bytes.Equal(head, []byte{0xfe, 0xff}) || bytes.Equal(head, []byte{0xff, 0xfe}) {
		m.r = unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM).NewDecoder().Reader(in)
	} else if head, _ := in.Peek(3); string(head) == "\ufeff" {
		_, _ = in.Discard(3) // it was seen
	}
	d := xml.NewDecoder(m)
	d.CharsetReader = func(label string, r io.Reader) (io.Reader, error) {
		if strings.HasPrefix(strings.ToLower(label), "utf-16") {
			return r, nil // decoded already
		}
		e, err := htmlindex.Get(label)
		if err != nil {
			return nil, fmt.Errorf("its encoding %q is not known; save it as UTF-8", label)
		}
		return e.NewDecoder().Reader(r), nil
	}
	return &Scanner{d: d, in: m}
}

// Line returns the line on which the last element began.
func (s *Scanner) Line() int { return s.line }

// Root goes to the outermost element. At the end of a file without one the error is io.EOF.
func (s *Scanner) Root() (xml.StartElement, error) {
	for {
		t, err := s.token()
		if err != nil {
			return xml.StartElement{}, err
		}
		if e, ok := t.(xml.StartElement); ok {
			return e, nil
		}
	}
}

// Children calls f for every element inside the one whose start was given last, up to its end. What f leaves of an
// element is passed over.
func (s *Scanner) Children(f func(xml.StartElement) error) error { return s.content(f, nil) }

// Text returns the text of the element whose start was given last, that of elements inside it left out, up to its end.
func (s *Scanner) Text() (string, error) {
	return s.Content(func(xml.StartElement) error { return nil })
}

// Content is [Scanner.Children] and [Scanner.Text] in one.
func (s *Scanner) Content(f func(xml.StartElement) error) (string, error) {
	var b strings.Builder
	err := s.content(f, &b)
	return b.String(), err
}

// content walks through one element; text may be nil.
func (s *Scanner) content(f func(xml.StartElement) error, text *strings.Builder) error {
	inside := s.depth
	for {
		t, err := s.token()
		if err != nil {
			return s.cut(err)
		}
		switch t := t.(type) {
		case xml.EndElement:
			if s.depth < inside {
				return nil
			}
		case xml.StartElement:
			if err := f(t); err != nil {
				return err
			}
			if err := s.leave(inside); err != nil {
				return err
			}
		case xml.CharData:
			if text == nil {
				continue
			}
			if int64(text.Len()+len(t)) > s.in.most {
				return s.errorf("%v", tooLong(s.in.most))
			}
			text.Write(t)
		}
	}
}

// leave passes over everything until no more than depth elements are open.
func (s *Scanner) leave(depth int) error {
	for s.depth > depth {
		if _, err := s.token(); err != nil {
			return s.cut(err)
		}
	}
	return nil
}

// token takes the next token and keeps count of depth.
func (s *Scanner) token() (xml.Token, error) {
	s.in.taken = 0
	t, err := s.d.Token()
	switch {
	case err == nil:
	case s.in.err != nil:
		return nil, s.in.err
	case errors.Is(err, io.EOF):
		return nil, io.EOF
	default:
		return nil, s.damage(err)
	}
	switch t.(type) {
	case xml.StartElement:
		s.line, _ = s.d.InputPos()
		if s.depth++; s.depth > maxDepth {
			return nil, s.errorf("elements are nested more than %d deep", maxDepth)
		}
	case xml.EndElement:
		s.depth--
	}
	return t, nil
}

// cut makes the end of the file an error inside an element.
func (s *Scanner) cut(err error) error {
	if errors.Is(err, io.EOF) {
		return s.errorf("the file breaks off")
	}
	return err
}

// damage puts an error of the parser into our words.
func (s *Scanner) damage(err error) error {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		if syntax.Msg == "unexpected EOF" {
			return &Error{syntax.Line, "the file breaks off"}
		}
		return &Error{syntax.Line, "it is no XML: " + syntax.Msg}
	}
	return s.errorf("%s", strings.TrimPrefix(err.Error(), "xml: "))
}

func (s *Scanner) errorf(format string, args ...any) error {
	line, _ := s.d.InputPos()
	return &Error{line, fmt.Sprintf(format, args...)}
}

// Attr returns an attribute by its local name, or nothing.
func Attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
