package taskdata

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"rootworthy/internal/diag"
)

// Bounds on what is read of a file that may be hostile: real task data nest seven deep, and a farm of ten thousand
// fields takes some 50 MB.
const (
	deepestElement = 32
	longestXML     = 512 << 20
	mostExternal   = 1000
)

// Read reads task data from a folder or a zip: TASKDATA.XML, in whatever capitals, at the top or in a folder within,
// the files that it is split over, and the grids beside it. Name is what the user called it.
//
// The error means that there are no task data, or that their XML cannot be read. Everything else that is wrong stands
// in faults, and what it concerns is left out: a grid whose file has the wrong size makes a task without a grid.
// Grids are not taken into memory; [Grid.Each] reads them row by row, so fsys must stay open.
func Read(name string, fsys fs.FS, faults *diag.List) (*File, error) {
	top, err := find(fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	r := &reader{file: &File{Name: name, fsys: fsys, top: top}, fsys: fsys, top: top, faults: faults, ids: map[string]int{}, external: []string{""}}
	// The list grows while it is read: files may name files.
	for i := 0; i < len(r.external); i++ {
		if err := r.open(i); err != nil {
			return nil, err
		}
	}
	r.settle()
	return r.file, nil
}

// reader is a file being read.
type reader struct {
	file     *File
	fsys     fs.FS
	top      string
	faults   *diag.List
	ids      map[string]int // how often an id was given
	external []string       // files named by XFR; the first is TASKDATA.XML itself
	named    string         // the one being read, for messages
	decoder  *xml.Decoder
	path     []string // names of the open elements
	grids    []gridElement
	shape    rings
}

// open reads TASKDATA.XML or one of the files that it is split over.
func (r *reader) open(i int) error {
	at := r.top
	if i > 0 {
		// The reference leaves the ending out.
		found, ok := beside(r.fsys, r.top, r.external[i]+".XML")
		if !ok {
			r.named = r.file.Name
			r.fault("external file", "", "names the file "+r.external[i]+".XML, which is not there", "copy the whole folder TASKDATA")
			return nil
		}
		at = found
	}
	r.named = r.file.Name
	if at != "." { // the user may have named the file itself
		r.named = strings.TrimSuffix(r.file.Name, "/") + "/" + at
		if strings.HasSuffix(strings.ToUpper(r.file.Name), "/"+strings.ToUpper(at)) || strings.EqualFold(r.file.Name, at) {
			r.named = r.file.Name
		}
	}
	if i == 0 {
		r.file.XML = r.named
	}
	f, err := r.fsys.Open(at)
	if err != nil {
		return fmt.Errorf("%s: %w", r.named, err)
	}
	defer f.Close()
	if err := r.parse(f); err != nil {
		return fmt.Errorf("%s: %w", r.named, err)
	}
	return nil
}

// parse reads one XML file. Entities of a document type are not expanded, so none can grow; nesting is bounded.
func (r *reader) parse(in io.Reader) error {
	limited := &io.LimitedReader{R: in, N: longestXML}
	b := bufio.NewReaderSize(limited, 1<<16)
	head, _ := b.Peek(4)
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		b.Discard(3)
		r.notice("byte order mark", "begins with a byte order mark, which some terminals refuse", "")
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return errors.New("is written in UTF-16, which terminals do not read; save it as UTF-8")
	case len(head) == 0:
		return errors.New("is empty; export it again")
	}
	r.decoder, r.path = xml.NewDecoder(b), r.path[:0]
	// A file is not refused for the encoding of its names.
	r.decoder.CharsetReader = charset
	seen := false
	for {
		token, err := r.decoder.Token()
		if err == io.EOF && seen {
			return nil
		}
		if err != nil {
			return r.broken(err, limited.N <= 0)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if !seen {
				if err := r.root(t); err != nil {
					return err
				}
				seen = true
			}
			r.path = append(r.path, t.Name.Local)
			if len(r.path) > deepestElement {
				return fmt.Errorf("line %d: elements are nested more than %d deep; this is no task data", r.line(), deepestElement)
			}
			r.element(t)
		case xml.EndElement:
			r.ended(t.Name.Local)
			r.path = r.path[:len(r.path)-1]
		}
	}
}

// broken says where XML ends to be XML.
func (r *reader) broken(err error, tooLong bool) error {
	if tooLong {
		return fmt.Errorf("is longer than %d MB", longestXML>>20)
	}
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return fmt.Errorf("line %d: not well-formed XML (%s); export it again", syntax.Line, syntax.Msg)
	}
	if err == io.EOF || errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("holds no element, or breaks off; export it again")
	}
	return fmt.Errorf("line %d: %w", r.line(), err)
}

// charset reads the encodings that old farm software still writes.
func charset(label string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(label) {
	case "utf-8", "utf8", "us-ascii", "ascii":
		return in, nil
	case "iso-8859-1", "latin1", "iso-8859-15", "windows-1252":
		return &latin1{in: bufio.NewReader(in)}, nil
	}
	return nil, fmt.Errorf("the encoding %q is not read; save it as UTF-8", label)
}

// latin1 turns bytes of ISO 8859-1 into UTF-8.
type latin1 struct {
	in   *bufio.Reader
	rest byte // second byte of a letter that did not fit; 0 for none
}

// Read gives each letter beyond ASCII as two bytes, the second of which may have to wait for the next call.
func (l *latin1) Read(p []byte) (n int, err error) {
	for n < len(p) {
		if l.rest != 0 {
			p[n], l.rest = l.rest, 0
			n++
			continue
		}
		c, err := l.in.ReadByte()
		if err != nil {
			// What was read is handed on first; the error comes again.
			if n > 0 {
				return n, nil
			}
			return 0, err
		}
		if c < 0x80 {
			p[n] = c
		} else {
			p[n], l.rest = 0xC0|c>>6, 0x80|c&0x3F
		}
		n++
	}
	return n, nil
}

// root checks that the first element is that of task data and reads what it says.
func (r *reader) root(t xml.StartElement) error {
	a := attributes(t.Attr)
	switch t.Name.Local {
	case "XFC":
		if r.decoder != nil && r.file.Version != "" {
			return nil
		}
	case "ISO11783_TaskData":
		r.file.Version = a.get("VersionMajor") + "." + a.get("VersionMinor")
		r.file.Software = strings.TrimSpace(a.get("ManagementSoftwareManufacturer") + " " + a.get("ManagementSoftwareVersion"))
		r.file.FromFarm = a.get("DataTransferOrigin") == "1"
		// A later version is still read, since what is known of the format may hold there too.
		if v := a.get("VersionMajor"); v < "1" || v > "4" || len(v) != 1 {
			r.fault("version", "VersionMajor", fmt.Sprintf("is of version %q; versions to 4 are known", v), "what follows may be misread")
		}
		return nil
	}
	return fmt.Errorf("line %d: begins with %q and not with ISO11783_TaskData; this is no task data", r.line(), visible(t.Name.Local))
}

// line is where the decoder stands.
func (r *reader) line() int {
	line, _ := r.decoder.InputPos()
	return line
}

// attributes are those of one element.
type attributes []xml.Attr

// get returns an attribute, "" where there is none: for task data both mean not said.
func (a attributes) get(name string) string {
	for _, x := range a {
		if x.Name.Local == name && x.Name.Space == "" {
			return x.Value
		}
	}
	return ""
}

// fault tells of something wrong at the line being read; before and after the XML there is none.
func (r *reader) fault(kind, field, what, fix string) {
	f := diag.Fault{File: r.named, Kind: kind, Field: field, What: what, Fix: fix}
	if r.decoder != nil {
		f.Line = r.line()
	}
	r.faults.Add(f)
}

func (r *reader) notice(kind, what, fix string) {
	r.faults.Notice(diag.Fault{File: r.named, Kind: kind, What: what, Fix: fix})
}
