package geojson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// Property is one member of a feature's properties.
type Property struct {
	Name  string
	Value json.RawMessage // valid JSON without white space between its parts; numbers with the digits they have in the file
}

// Feature is one feature with its polygons as read: rings may turn either way, be open, or cross themselves.
type Feature struct {
	Index      int              // place in the file, from 0
	Line       int              // where it begins, from 1
	ID         string           // its "id": the text, or the number as it stands; empty when it has none
	Geometry   orb.MultiPolygon // empty when Reason is not
	Reason     string           // why it has no polygon that can be used
	Properties []Property       // in file order; a name that stands twice has its last value
}

// Label names the feature in messages: by place, and by id if it has one.
func (f *Feature) Label() string {
	if f.ID == "" {
		return fmt.Sprintf("feature %d", f.Index+1)
	}
	return fmt.Sprintf("feature %d, id %s", f.Index+1, strconv.Quote(shorten(f.ID)))
}

// feature is a feature while it is read, or the whole file's object, which may be one.
type feature struct {
	Feature
	// Members come in any order, so all that may turn out to be the shape is kept apart until the object ends; conclude
	// chooses.
	kind     string   // its "type"
	geometry geometry // of the member of that name
	own      geometry // made of coordinates or geometries that stand in the object itself
	inner    geometry
	bare     bool // it has some
}

// featureMember takes a member of a feature or bare geometry; ok is false when key is none of them.
func (r *reader) featureMember(f *feature, key string) (ok bool, err error) {
	switch key {
	case "type":
		return true, r.textValue(&f.kind)
	case "id":
		return true, r.id(f)
	case "geometry":
		f.geometry, err = r.geometryValue(0)
		return true, err
	case "properties":
		return true, r.properties(f)
	case "coordinates":
		f.bare = true
		return true, r.coordinates(&f.own)
	case "geometries":
		f.bare = true
		return true, r.geometries(&f.inner, 0)
	}
	return false, nil
}

// featureValue takes one item of "features".
func (r *reader) featureValue() error {
	c, err := r.x.peek()
	if err != nil {
		return err
	}
	f := &feature{Feature: Feature{Index: r.n, Line: r.x.line}}
	if c != '{' {
		f.Reason = "it is no object"
		if err := r.x.value(0); err != nil {
			return err
		}
		return r.emit(f)
	}
	err = r.members(func(key string) error {
		known, err := r.featureMember(f, key)
		if known || err != nil {
			return err
		}
		return r.x.value(0)
	})
	if err != nil {
		return err
	}
	r.conclude(f)
	return r.emit(f)
}

// conclude turns what was read into shape or reason.
func (r *reader) conclude(f *feature) {
	g := f.geometry
	switch {
	// Its own coordinates, if it has any beside a geometry, do not count.
	case f.kind == "Feature":
	case f.bare:
		g = f.own
		// A bare geometry in the place of a feature: against the standard, but what is meant is plain.
		g.kind = f.kind
		r.settle(&g, f.inner)
	case f.kind == "FeatureCollection":
		g = geometry{problem: "it is a collection inside a collection"}
	default:
		r.remark(remark{kind: "type", notice: true, what: fmt.Sprintf("its type is %q, not %q; it is read all the same", shorten(f.kind), "Feature")})
	}
	f.Geometry, f.Reason = g.shape, g.problem
	switch {
	case f.Reason != "":
	// The first kind is enough to know what was drawn.
	case len(f.Geometry) == 0 && len(g.others) > 0:
		f.Reason = fmt.Sprintf("it is a %s, not a polygon", shorten(g.others[0]))
	case len(f.Geometry) == 0:
		f.Reason = "it has no geometry"
	case len(g.others) > 0:
		r.remark(remark{kind: "other geometry", notice: true, what: fmt.Sprintf("beside polygons it holds a %s, which is left out", shorten(g.others[0]))})
	}
}

// emit tells what there is to tell about the feature and hands it on.
func (r *reader) emit(f *feature) error {
	if f.Reason != "" {
		r.remark(remark{line: f.Line, kind: "no polygon", what: f.Reason, fix: "draw it as a Polygon or MultiPolygon, or take it out"})
	}
	r.notes()
	r.flush(f.Label())
	// Counted before each is called, so that n is right when each ends the reading.
	r.n++
	r.eachErr = r.each(f.Feature)
	return r.eachErr
}

// flush tells the remarks gathered, as those of the feature named.
func (r *reader) flush(label string) {
	for _, m := range r.remarks {
		fault := diag.Fault{File: r.name, Line: m.line, Feature: label, Field: m.field, Kind: m.kind, What: m.what, Fix: m.fix}
		if m.notice {
			fault.Severity = diag.Notice
		}
		r.faults.Add(fault)
	}
	r.remarks = r.remarks[:0]
}

// id takes a feature's id: a text or a number.
func (r *reader) id(f *feature) error {
	c, err := r.x.peek()
	if err != nil {
		return err
	}
	switch {
	case c == '"':
		return r.textValue(&f.ID)
	case c == '-' || c >= '0' && c <= '9':
		ok, err := r.x.number()
		if ok {
			f.ID = string(r.x.text)
		}
		return err
	// null is no id and not worth a word.
	case c != 'n':
		r.remark(remark{field: "id", kind: "id", notice: true, what: "its id is neither a text nor a number and counts as none"})
	}
	return r.x.value(0)
}

// properties takes the member of that name.
func (r *reader) properties(f *feature) error {
	f.Properties = nil
	c, err := r.x.peek()
	if err != nil {
		return err
	}
	if c != '{' {
		if c != 'n' {
			r.remark(remark{field: "properties", kind: "properties", what: "its properties are no object and are left out", fix: "write them as {\"name\": value, …}"})
		}
		return r.x.value(0)
	}
	// By name, since a name that stands twice takes the place of its first value.
	places := map[string]int{}
	return r.object(func(key string) error {
		raw, err := r.rawValue()
		if err != nil {
			return err
		}
		if i, twice := places[key]; twice {
			r.remark(remark{field: shorten(key), kind: "name twice", notice: true, what: "the property stands twice; the last one counts"})
			f.Properties[i].Value = raw
			return nil
		}
		places[key] = len(f.Properties)
		f.Properties = append(f.Properties, Property{key, raw})
		return nil
	})
}

// rawValue takes a value and returns its text as valid JSON.
func (r *reader) rawValue() (json.RawMessage, error) {
	r.x.raw, r.x.keep = r.x.raw[:0], true
	err := r.x.value(0)
	r.x.keep = false
	// The buffer is used again for the next value.
	raw := bytes.Clone(r.x.raw)
	if r.x.dirty {
		// Bytes that are no letters stand in raw as they came; what is handed on must be valid JSON.
		raw = bytes.ToValidUTF8(raw, []byte("\ufffd"))
	}
	r.notes()
	return raw, err
}

// notes turns what the lexer stepped over into remarks.
func (r *reader) notes() {
	if r.x.dirty {
		r.remark(remark{kind: "UTF-8", what: "it holds text that is no UTF-8; the letters that cannot be read became \ufffd", fix: "save the file as UTF-8"})
	}
	for _, n := range r.x.nans {
		r.remark(remark{line: n.line, kind: "no number", what: fmt.Sprintf("%s is no number and counts as missing", n.word), notice: true})
	}
	r.x.dirty, r.x.nans = false, r.x.nans[:0]
}
