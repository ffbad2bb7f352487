package kml

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"iter"
	"strconv"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
)

// Document is a file to write. Coordinates are longitude and latitude on WGS 84.
type Document struct {
	Name   string
	About  string // for people; may be empty
	Styles []Style
	Layers []Layer
}

// Style is how shapes are drawn.
type Style struct {
	ID    string // letters, digits, - and _, a letter first
	Fill  color.NRGBA
	Line  color.NRGBA
	Width float64 // of the line, in pixels; 0 means 1
}

// Layer is a folder of polygons, or of points where Points is given.
type Layer struct {
	Name    string
	Columns []feature.Column // every value that is not missing becomes a Data element
	Rows    feature.Rows
	Points  iter.Seq2[orb.Point, []any] // instead of Rows
	Label   func(values []any) string   // the name of a placemark, which must not be empty
	Style   func(values []any) string   // its style's ID; nil, or an empty one, means none
	About   func(values []any) string   // its description, plain text; nil means none
}

// isStyleID tells whether an id is safe in an attribute and behind a #.
func isStyleID(s string) bool {
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || r != '_' && r != '-' && (r < '0' || r > '9')) {
			return false
		}
	}
	return s != ""
}

// WriteZip writes a KMZ: a zip with the document in it, under a fixed time stamp.
func WriteZip(w io.Writer, d Document) error {
	z := zip.NewWriter(w)
	// The least date that a zip can hold: the same document must give the same bytes.
	f, err := z.CreateHeader(&zip.FileHeader{Name: "doc.kml", Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		return err
	}
	if err := Write(f, d); err != nil {
		return err
	}
	return z.Close()
}

// Write writes a KML 2.2 file. The error names layer, row and column that cannot be written; what was written until
// then is of no use.
func Write(w io.Writer, d Document) error {
	o := &out{w: bufio.NewWriterSize(w, 1<<16), styles: map[string]bool{}}
	o.raw(xml.Header + "<kml xmlns=\"http://www.opengis.net/kml/2.2\">\n<Document>\n")
	o.element("name", d.Name)
	o.element("description", d.About)
	// Styles first, so that a layer that names one that is not there is found out.
	for _, s := range d.Styles {
		if !isStyleID(s.ID) || o.styles[s.ID] {
			return fmt.Errorf("style %q: an id needs letters, digits, - and _, a letter first, and must be given once", s.ID)
		}
		o.styles[s.ID] = true
		o.style(s)
	}
	for _, l := range d.Layers {
		if err := o.layer(l); err != nil {
			return fmt.Errorf("layer %s: %w", l.Name, err)
		}
	}
	o.raw("</Document>\n</kml>\n")
	return o.w.Flush()
}

// out writes elements. Errors of writing come with Flush.
// values and num are used again for every row and number; styles are the ids written so far.
type out struct {
	w      *bufio.Writer
	styles map[string]bool
	values []any
	num    []byte
}

func (o *out) raw(s string) { o.w.WriteString(s) }

// text writes s escaped; letters XML cannot hold become U+FFFD.
func (o *out) text(s string) { _ = xml.EscapeText(o.w, []byte(s)) }

// element writes an element with a text, or nothing for an empty one.
func (o *out) element(name, text string) {
	if text == "" {
		return
	}
	o.raw("<" + name + ">")
	o.text(text)
	o.raw("</" + name + ">\n")
}

// style writes one; shapes name it by its id.
func (o *out) style(s Style) {
	width := s.Width
	if width == 0 {
		width = 1
	}
	o.raw(`<Style id="` + s.ID + `"><LineStyle><color>` + abgr(s.Line) + "</color><width>" + strconv.FormatFloat(width, 'f', -1, 64) +
		"</width></LineStyle><PolyStyle><color>" + abgr(s.Fill) + "</color></PolyStyle></Style>\n")
}

// abgr returns a colour as the format has it: alpha, blue, green, red.
// The format's colours are not multiplied by alpha, hence NRGBA.
func abgr(c color.NRGBA) string { return fmt.Sprintf("%02x%02x%02x%02x", c.A, c.B, c.G, c.R) }
