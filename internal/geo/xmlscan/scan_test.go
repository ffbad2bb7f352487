package xmlscan

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// outline prints what the scanner sees: elements with their line and the text of those named t.
func outline(r io.Reader) (string, error) {
	s := New(r)
	var b strings.Builder
	var walk func(xml.StartElement) error
	walk = func(e xml.StartElement) error {
		fmt.Fprintf(&b, "%s%s:%d", strings.Repeat(" ", s.depth-1), e.Name.Local, s.Line())
		if e.Name.Local == "t" {
			text, err := s.Text()
			fmt.Fprintf(&b, " %q\n", text)
			return err
		}
		b.WriteString("\n")
		if e.Name.Local == "skip" {
			return nil
		}
		return s.Children(walk)
	}
	root, err := s.Root()
	if err == nil {
		err = walk(root)
	}
	return b.String(), err
}

func TestWalk(t *testing.T) {
	text := "\ufeff<?xml version='1.0'?>\n<!-- c --><a x='1'>\n<skip><b><c/></b></skip><t>1<b>no</b> &amp; <![CDATA[<2>]]></t>\n<g:t xmlns:g='u'/></a>"
	got, err := outline(strings.NewReader(text))
	if want := "a:2\n skip:3\n t:3 \"1 & <2>\"\n t:4 \"\"\n"; err != nil || got != want {
		t.Errorf("%v\n%s\nwant\n%s", err, got, want)
	}
}

func TestEncodings(t *testing.T) {
	latin, err := charmap.Windows1252.NewEncoder().String(`<?xml version="1.0" encoding="windows-1252"?><t>Été €</t>`)
	if err != nil {
		t.Fatal(err)
	}
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(`<?xml version="1.0" encoding="UTF-16"?><t>Été €</t>`)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{latin, wide, `<?xml version="1.0" encoding="utf-8"?><t>Été €</t>`} {
		if got, err := outline(strings.NewReader(text)); err != nil || got != "t:1 \"Été €\"\n" {
			t.Errorf("%q: %q %v", text, got, err)
		}
	}
}

func TestDamage(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "EOF"},
		{"hello", "EOF"},
		{"<a>\n<b>", "2 the file breaks off"},
		{"<a>\n<t>x", "2 the file breaks off"},
		{"<a></b>", "1 it is no XML: element <a> closed by </b>"},
		{`<!DOCTYPE a [<!ENTITY x "y">]><t>&x;</t>`, "1 it is no XML: invalid character entity &x;"},
		{`<?xml version="1.0" encoding="klingon"?><t/>`, `1 opening charset "klingon": its encoding "klingon" is not known; save it as UTF-8`},
		{strings.Repeat("<a>", 300), "1 elements are nested more than 200 deep"},
		{"<t>\xff</t>", "1 it is no XML: invalid UTF-8"},
	} {
		_, err := outline(strings.NewReader(tc.text))
		got := fmt.Sprint(err)
		if e := (*Error)(nil); errors.As(err, &e) {
			got = fmt.Sprint(e.Line, " ", e)
		}
		if got != tc.want {
			t.Errorf("%.40q: %q, want %q", tc.text, got, tc.want)
		}
	}
}

// endless gives the same letter for ever.
type endless struct{ n int64 }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	e.n += int64(len(p))
	return len(p), nil
}

func TestOneTokenIsBounded(t *testing.T) {
	e := &endless{}
	s := New(io.MultiReader(strings.NewReader("<t>"), e))
	s.in.most = 1 << 20
	_, err := s.Root()
	if err == nil {
		_, err = s.Text()
	}
	if err == nil || !strings.Contains(err.Error(), "longer than 1 MB") || e.n > 2<<20 {
		t.Errorf("%v after %d", err, e.n)
	}
}

func TestReadErrorsAreReturned(t *testing.T) {
	broken := errors.New("input/output error")
	if _, err := outline(io.MultiReader(strings.NewReader("<a>"), failing{broken})); err != broken {
		t.Errorf("got %v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }
