package gml

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// CRS is what a file says about its reference system.
type CRS struct {
	Text string // as written first; empty when it says nothing
	EPSG int    // its code; 0 when Text names none. CRS84 is 4326
}

// reader reads one file.
type reader struct {
	name    string
	s       *xmlscan.Scanner
	faults  *diag.List
	each    func(feature.Feature) error
	eachErr error
	n       int // features handed on
	crs     CRS
	turned  bool // longitude stands first in this file, against the standard, and that is told
	swapped int  // features read with latitude first before that was seen
	other   bool // told of a second system
}

// Scan reads the file, hands on every feature in file order, longitude before latitude, and stops at the first error of
// each, which it returns as it is. Name is what the user called the file. The error says why nothing could be read, in
// the service's own words if it answered with an error; else what is wrong stands in faults, and what stands before a
// break is kept.
func Scan(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) (CRS, error) {
	g := &reader{name: name, s: xmlscan.New(r), faults: faults, each: each}
	err := g.file()
	if g.eachErr != nil {
		return g.crs, g.eachErr
	}
	end := xmlscan.Ending{Name: name, Format: "GML", Thing: "feature", Kept: g.n, Fix: "ask the service again"}
	return g.crs, end.Tell(err, faults)
}

// file takes the outermost element: features, or the service's error.
func (g *reader) file() error {
	root, err := g.s.Root()
	if err != nil {
		return err
	}
	switch root.Name.Local {
	case "FeatureCollection":
		return g.s.Children(g.part)
	// WFS and WMS wrap their errors differently; either way what counts is the text.
	case "ExceptionReport", "ServiceExceptionReport":
		// The service's own words help more than "is no FeatureCollection".
		said, err := g.exception()
		if err != nil {
			return err
		}
		return &xmlscan.Error{Line: g.s.Line(), What: "the service answered with an error: " + feature.Shorten(said)}
	}
	return &xmlscan.Error{Line: g.s.Line(), What: fmt.Sprintf("its outermost element is %s, not FeatureCollection", feature.Shorten(root.Name.Local))}
}

// exception returns the text of an error, however deep it stands.
func (g *reader) exception() (string, error) {
	var parts []string
	var walk func(xml.StartElement) error
	// A text for every element that has some, inner ones first.
	walk = func(xml.StartElement) error {
		text, err := g.s.Content(walk)
		if text = strings.Join(strings.Fields(text), " "); text != "" && len(parts) < 10 {
			parts = append(parts, text)
		}
		return err
	}
	err := walk(xml.StartElement{})
	return strings.Join(parts, "; "), err
}

// part takes an element of the collection.
func (g *reader) part(e xml.StartElement) error {
	switch e.Name.Local {
	// Under the names of GML 2 and 3, GML 3 for many at once, and WFS 2.
	case "featureMember", "featureMembers", "member":
		return g.s.Children(g.feature)
	}
	return nil
}

// feature takes one feature.
// Elements of a feature are not told by their names, which are the service's own: one that holds elements leads to a
// geometry, one that holds text is a property.
func (g *reader) feature(e xml.StartElement) error {
	if e.Name.Local == "FeatureCollection" { // one inside another
		return g.s.Children(g.part)
	}
	// gml:id, whatever its prefix.
	f := feature.Feature{Index: g.n, Line: g.s.Line(), ID: xmlscan.Attr(e, "id")}
	if f.ID == "" {
		f.ID = xmlscan.Attr(e, "fid") // GML 2
	}
	sh := shaper{s: g.s}
	of := map[string]bool{}
	var twice []string
	err := g.s.Children(func(e xml.StartElement) error {
		// The box around the feature, which would count as a second geometry.
		if e.Name.Local == "boundedBy" {
			return nil
		}
		// An element with elements in it is a geometry or leads to one, and has no value of its own.
		inside := false
		text, err := g.s.Content(func(in xml.StartElement) error {
			inside = true
			return sh.geometry(in, system{width: 2})
		})
		name := e.Name.Local
		switch {
		case inside:
		case of[name]:
			twice = append(twice, name)
		default:
			of[name] = true
			f.Properties = append(f.Properties, feature.Property{Name: name, Value: value(text)})
		}
		return err
	})
	if err != nil {
		return err
	}
	g.place(&sh)
	return g.emit(f, &sh, twice)
}

// value returns a text without the blanks around it, or null.
func value(text string) []byte {
	if text = strings.TrimSpace(text); text == "" {
		return feature.JSON(nil)
	}
	return feature.JSON(text)
}

// emit tells what there is to tell about the feature and hands it on.
func (g *reader) emit(f feature.Feature, sh *shaper, twice []string) error {
	f.Geometry, f.Reason = sh.result()
	at := diag.Fault{File: g.name, Line: f.Line, Feature: f.Label()}
	if f.Reason != "" {
		at.Kind, at.What, at.Fix = "no polygon", f.Reason, "ask the service for polygons"
		g.faults.Add(at)
		// at goes on to serve the notices, which have nothing to fix.
		at.Fix = ""
	} else if sh.other != "" {
		at.Kind, at.What = "other geometry", fmt.Sprintf("beside polygons it holds a %s, which is left out", sh.other)
		g.faults.Notice(at)
	}
	if sh.heights && f.Reason == "" {
		at.Kind, at.What = "heights", "it has heights, which are left out"
		g.faults.Notice(at)
	}
	for _, name := range twice {
		at.Field, at.Kind, at.What = feature.Shorten(name), "name twice", "the property stands more than once; the first one counts"
		g.faults.Notice(at)
	}
	g.n++
	g.eachErr = g.each(f)
	return g.eachErr
}

// parseCRS returns the EPSG code in a name such as EPSG:4326, urn:ogc:def:crs:EPSG::4326,
// http://www.opengis.net/gml/srs/epsg.xml#4326; 0 when it names none.
func parseCRS(name string) int {
	s := strings.ToUpper(strings.TrimSpace(name))
	if strings.HasSuffix(s, "CRS84") || strings.HasSuffix(s, "CRS:84") {
		return 4326
	}
	if !strings.Contains(s, "EPSG") {
		return 0
	}
	// -1 where none stands, and the whole text is then looked at.
	at := strings.LastIndexAny(s, ":#/")
	code, err := strconv.Atoi(s[at+1:])
	if err != nil || code <= 0 {
		return 0
	}
	return code
}
