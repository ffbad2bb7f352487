package geojson

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"rootworthy/internal/diag"
	geofeature "rootworthy/internal/geo/feature"
)

// Collection is a file of features.
type Collection struct {
	Features []Feature
	CRS      CRS
}

// Read reads a whole file. Name is what the user called it. The error means that nothing could be read; else what is
// wrong stands in faults, and a feature without a polygon that can be used is kept with its Reason.
func Read(name string, r io.Reader, faults *diag.List) (Collection, error) {
	var c Collection
	crs, err := Scan(name, r, faults, func(f Feature) error {
		c.Features = append(c.Features, f)
		return nil
	})
	c.CRS = crs
	return c, err
}

// reader reads one file.
type reader struct {
	name   string
	x      *lexer
	faults *diag.List
	// the caller's; its error ends the reading
	each    func(Feature) error
	eachErr error
	n       int // features handed on
	// the text at hand is not the first of its file
	sequence bool
	crs      CRS
	coords   coords
	height   int // of the coordinates read last
	// about the feature at hand, told by flush
	remarks []remark
}

// Scan is [Read] that hands on feature by feature, in file order, and stops at the first error of each, which it
// returns as it is. The CRS is known for certain only at the end: most files have it at the top, but none must.
func Scan(name string, r io.Reader, faults *diag.List, each func(Feature) error) (CRS, error) {
	s := &reader{name: name, x: newLexer(r), faults: faults, each: each}
	err := s.file()
	var damage *syntaxError
	switch {
	// each's own error first: it ended the reading, and the caller wants it back as it was.
	case err == nil || s.eachErr != nil:
		return s.crs, s.eachErr
	case !errors.As(err, &damage):
		return s.crs, fmt.Errorf("%s: %w", name, err)
	// Nothing was read, so it is an error; with some features kept it is a fault.
	case s.n == 0:
		return s.crs, fmt.Errorf("%s:%d: %s; it cannot be read as GeoJSON", name, damage.line, damage.what)
	}
	faults.Add(diag.Fault{File: name, Line: damage.line, Kind: "damaged", What: damage.what + "; " + geofeature.Kept(s.n, "feature"),
		Fix: "export the file again"})
	return s.crs, nil
}

// file takes the whole file: a collection, one feature or geometry, or a sequence of these.
func (r *reader) file() error {
	if err := r.start(); err != nil {
		return err
	}
	for {
		list, err := r.text()
		if err != nil {
			return err
		}
		if more, err := r.another(list); err != nil || !more {
			return err
		}
	}
}

// text takes one GeoJSON text and says whether it was a list of features.
func (r *reader) text() (list bool, err error) {
	// The text may be one feature or one geometry: its members are gathered in case it is.
	f := &feature{Feature: Feature{Line: r.x.line}}
	before := r.crs
	// Whether it is a collection is known by "features" and not by "type", which may stand behind them: features are handed
	// on while they are read.
	err = r.members(func(key string) error {
		switch key {
		case "features":
			if r.sequence {
				return &syntaxError{r.x.line, "a FeatureCollection stands behind single features"}
			}
			list = true
			r.flush("")
			// What was remarked of the collection so far is told before its features.
			return r.items(r.featureValue)
		case "crs":
			return r.crsMember()
		}
		known, err := r.featureMember(f, key)
		if known || err != nil {
			return err
		}
		return r.x.value(0)
	})
	switch {
	case err != nil:
		return list, err
	// Features were handed on already, and whoever has them placed them by the system before.
	case r.sequence && r.crs.Text != before.Text:
		r.crs = before
		return false, &syntaxError{f.Line, "this feature names another coordinate system than those before it"}
	}
	if err = r.finish(f, list); err != nil && r.sequence && r.eachErr == nil {
		err = &syntaxError{f.Line, "what stands here " + err.Error()}
	}
	return list, err
}

// recordSeparator begins each text of a sequence as RFC 8142 has it; most programs leave it out and write a line for each feature.
const recordSeparator = 0x1E

// another says whether a text follows as the next of a sequence, and tells of anything else behind the end. Behind a collection nothing
// is read: two of them are two files that were joined, and who knows whether that was meant.
func (r *reader) another(list bool) (bool, error) {
	if list {
		return false, r.trailer()
	}
	c, err := r.x.peek()
	if err == nil && c == recordSeparator {
		r.x.at++
		c, err = r.x.peek()
	}
	if err != nil || c != '{' {
		return false, r.trailer()
	}
	r.sequence = true
	return true, nil
}

// start looks at the first bytes: a byte order mark is passed over, other kinds of file are named.
func (r *reader) start() error {
	b, err := r.x.ahead(3)
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	switch {
	case len(b) == 0:
		return errors.New("is empty")
	case strings.HasPrefix(string(b[:min(3, len(b))]), "\ufeff"):
		r.x.at += 3
	// Byte order marks of UTF-16. RFC 8259, section 8.1, allows UTF-8 alone.
	case b[0] == 0xFF || b[0] == 0xFE:
		return errors.New("is no UTF-8 text (UTF-16?); save it as UTF-8")
	}
	c, err := r.x.peek()
	if err == nil && c == recordSeparator {
		r.x.at++
		c, err = r.x.peek()
	}
	var ends *syntaxError
	switch {
	case errors.As(err, &ends):
		return errors.New("holds nothing but white space")
	// Web pages come where a link was saved in place of the file.
	case err == nil && c == '<':
		return errors.New("is no GeoJSON but XML or a web page")
	case err == nil && c != '{':
		return fmt.Errorf("is no GeoJSON: it begins with %s, not {", show(c))
	}
	return err
}

// finish hands on the object itself when it is a feature or geometry.
func (r *reader) finish(f *feature, list bool) error {
	switch {
	case list && f.kind == "FeatureCollection":
		r.flush("")
		return nil
	case list:
		r.remark(remark{kind: "type", notice: true, what: fmt.Sprintf("the type is %q, not %q; its features are read all the same", shorten(f.kind), "FeatureCollection")})
		r.flush("")
		return nil
	case f.kind == "FeatureCollection":
		return errors.New(`is a FeatureCollection without "features"`)
	case f.kind == "Feature" || f.bare:
		r.conclude(f)
		return r.emit(f)
	// No type and no coordinates: some other JSON, perhaps the settings of a program.
	case f.kind == "":
		return errors.New(`is JSON, but no GeoJSON: it has no "type"`)
	}
	return fmt.Errorf("is JSON of type %q, not GeoJSON", shorten(f.kind))
}

// trailer tells of text behind the end.
func (r *reader) trailer() error {
	c, err := r.x.peek()
	var ends *syntaxError
	// The end of the file is what should come here; the lexer calls it damage everywhere else.
	if errors.As(err, &ends) {
		return nil
	}
	if err == nil {
		r.faults.Add(diag.Fault{File: r.name, Line: r.x.line, Kind: "behind the end", What: fmt.Sprintf("%s stands behind the end of the GeoJSON and is not read", show(c)),
			Fix: "put all features into one FeatureCollection"})
	}
	return err
}

// remark notes something to tell once the feature at hand is known.
func (r *reader) remark(m remark) {
	// The line reached is near enough: the remark is made as soon as its cause was read.
	if m.line == 0 {
		m.line = r.x.line
	}
	if len(r.remarks) < 1000 { // one feature cannot fill the memory with complaints
		r.remarks = append(r.remarks, m)
	}
}

// members takes an object and hands on each name; f takes the value. A name that stands twice is told.
func (r *reader) members(f func(key string) error) error {
	seen := map[string]bool{}
	return r.object(func(key string) error {
		if seen[key] {
			r.remark(remark{field: shorten(key), kind: "name twice", notice: true, what: "the member stands twice; the last one counts"})
		}
		// Names are remembered up to a hundred, so that an object with a million of them does not fill the memory; later ones
		// may then stand twice unnoticed.
		if len(seen) < 100 {
			seen[key] = true
		}
		return f(key)
	})
}

// object takes an object and hands on each name; f takes the value.
func (r *reader) object(f func(key string) error) error {
	if err := r.x.expect('{'); err != nil {
		return err
	}
	for n := 0; ; n++ {
		more, err := r.x.more(n, '}')
		if err != nil || !more {
			return err
		}
		key, err := r.x.key()
		if err != nil {
			return err
		}
		if err := f(key); err != nil {
			return err
		}
	}
}

// items takes a list; f takes each item. Anything else than a list is passed over.
func (r *reader) items(f func() error) error {
	c, err := r.x.peek()
	if err != nil {
		return err
	}
	if c != '[' {
		return r.x.value(0)
	}
	if err := r.x.expect('['); err != nil {
		return err
	}
	for n := 0; ; n++ {
		more, err := r.x.more(n, ']')
		if err != nil || !more {
			return err
		}
		if err := f(); err != nil {
			return err
		}
	}
}

// textValue takes a value into s if it is a text.
func (r *reader) textValue(s *string) error {
	c, err := r.x.peek()
	if err != nil {
		return err
	}
	if c != '"' {
		return r.x.value(0)
	}
	if err := r.x.string(); err != nil {
		return err
	}
	*s = string(r.x.text)
	return nil
}

// memberOf returns a text or number inside nested objects of raw JSON.
func memberOf(raw json.RawMessage, path ...string) (string, bool) {
	for _, name := range path {
		var m map[string]json.RawMessage
		if json.Unmarshal(raw, &m) != nil {
			return "", false
		}
		// A member that is not there is nil, which the next turn cannot read as an object.
		raw = m[name]
	}
	var s string
	// A member that is not there leaves raw nil.
	if json.Unmarshal(raw, &s) == nil && raw != nil {
		return s, s != ""
	}
	var n json.Number
	if json.Unmarshal(raw, &n) == nil && raw != nil {
		return n.String(), true
	}
	return "", false
}
