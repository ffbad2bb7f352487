package kml

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// reader reads one file.
type reader struct {
	name    string
	s       *xmlscan.Scanner
	faults  *diag.List
	each    func(feature.Feature) error
	eachErr error
	n       int                          // features handed on
	folders []string                     // names of those around
	schemas map[string]map[string]string // types of fields, by schema and name
	fields  int                          // in all schemas
	follow  func(href string) bool       // takes a link; nil takes none
}

// Scan reads the file, hands on every Placemark in file order, and stops at the first error of each, which it returns as
// it is. Name is what the user called the file. The error says why nothing could be read; else what is wrong stands in
// faults, and what stands before a break is kept.
func Scan(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) error {
	return ScanLinks(name, r, faults, nil, each)
}

// ScanLinks is [Scan] for a file that may link to others beside it, as the main file of a KMZ does that holds a file for
// each layer. Follow is given the target of each link as written and returns whether the caller reads it; a link that
// nobody follows is told.
func ScanLinks(name string, r io.Reader, faults *diag.List, follow func(href string) bool, each func(feature.Feature) error) error {
	k := &reader{name: name, s: xmlscan.New(r), faults: faults, each: each, follow: follow, schemas: map[string]map[string]string{}}
	err := k.file()
	if k.eachErr != nil {
		return k.eachErr
	}
	end := xmlscan.Ending{Name: name, Format: "KML", Thing: "feature", Kept: k.n, Fix: "export the file again"}
	return end.Tell(err, faults)
}

// file takes the outermost element.
func (k *reader) file() error {
	root, err := k.s.Root()
	if err != nil {
		return err
	}
	switch root.Name.Local {
	case "kml":
		return k.s.Children(k.part)
	case "Document", "Folder", "Placemark": // old files have no kml around them
		return k.part(root)
	}
	return &xmlscan.Error{Line: k.s.Line(), What: fmt.Sprintf("its outermost element is %s, not kml", feature.Shorten(root.Name.Local))}
}

// part takes one element of the file, a Document or a Folder.
func (k *reader) part(e xml.StartElement) error {
	switch e.Name.Local {
	case "Document":
		return k.s.Children(k.part)
	case "Folder":
		return k.folder()
	case "Placemark":
		return k.placemark(e)
	case "Schema":
		return k.schema(e)
	// Links may stand beside placemarks, in folders too.
	case "NetworkLink":
		return k.link()
	}
	return nil
}

// link takes a NetworkLink: its target stands in the element Link, in old files in Url.
func (k *reader) link() error {
	line, href := k.s.Line(), ""
	err := k.s.Children(func(e xml.StartElement) error {
		// Elements are told by their local names: files of KML 2.0 and 2.1 have other namespaces.
		if e.Name.Local != "Link" && e.Name.Local != "Url" {
			return nil
		}
		return k.s.Children(func(e xml.StartElement) error {
			if e.Name.Local != "href" {
				return nil
			}
			text, err := k.s.Text()
			href = strings.TrimSpace(text)
			return err
		})
	})
	if err == nil && (k.follow == nil || !k.follow(href)) {
		k.faults.Notice(diag.Fault{File: k.name, Line: line, Kind: "link", What: "what it links to elsewhere is not fetched", Fix: "save the linked file and name it instead"})
	}
	return err
}

// folder takes a Folder and all in it; its name becomes part of the path of its placemarks.
func (k *reader) folder() error {
	// Its name is not known yet and comes as an element of it.
	k.folders = append(k.folders, "")
	last := len(k.folders) - 1
	err := k.s.Children(func(e xml.StartElement) error {
		// The name may stand behind the first placemarks; those then lack it in their path.
		if e.Name.Local != "name" {
			return k.part(e)
		}
		text, err := k.s.Text()
		k.folders[last] = strings.TrimSpace(text)
		return err
	})
	// Also on an error, though nothing is read after one.
	k.folders = k.folders[:last]
	return err
}

// placemark takes one feature.
func (k *reader) placemark(e xml.StartElement) error {
	f := feature.Feature{Index: k.n, Line: k.s.Line(), ID: xmlscan.Attr(e, "id")}
	var g shaper
	p := properties{k: k, of: map[string]int{}}
	err := k.s.Children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "name", "description":
			text, err := k.s.Text()
			p.add(e.Name.Local, feature.JSON(strings.TrimSpace(text)))
			return err
		case "ExtendedData":
			return p.extended()
		}
		// Anything else than a geometry (styles, times, regions) is left alone there.
		return g.element(k.s, e)
	})
	if err != nil {
		return err
	}
	var path []string
	// Folders without a name are left out of the path.
	for _, name := range k.folders {
		if name != "" {
			path = append(path, name)
		}
	}
	// A property of the file's own of that name is worth more than ours.
	if _, there := p.of["folder"]; len(path) > 0 && !there {
		p.add("folder", feature.JSON(strings.Join(path, "/")))
	}
	f.Properties = p.list
	f.Geometry, f.Reason = g.result()
	return k.emit(f, &g, &p)
}

// emit tells what there is to tell about the feature and hands it on.
func (k *reader) emit(f feature.Feature, g *shaper, p *properties) error {
	at := diag.Fault{File: k.name, Line: f.Line, Feature: f.Label()}
	tell := func(kind, what string) {
		at.Kind, at.What = kind, what
		k.faults.Notice(at)
	}
	switch {
	case f.Reason != "":
		// A copy, because at goes on to serve the notices.
		wrong := at
		wrong.Kind, wrong.What, wrong.Fix = "no polygon", f.Reason, "draw it as a polygon, or take it out"
		k.faults.Add(wrong)
	case g.other != "":
		tell("other geometry", fmt.Sprintf("beside polygons it holds a %s, which is left out", g.other))
	}
	if g.heights {
		tell("heights", "it has heights, which are left out")
	}
	for _, name := range p.twice {
		at.Field = feature.Shorten(name)
		tell("name twice", "the property stands twice with different values; the first one counts")
	}
	k.n++
	k.eachErr = k.each(f)
	return k.eachErr
}

// shaper gathers the shape of one Placemark.
// One polygon that cannot be used makes problem; kinds that are no polygons only make other.
type shaper struct {
	shape   orb.MultiPolygon
	other   string // first kind that is no polygon
	problem string
	heights bool // other than zero
}

// result returns the shape, or why there is none. A placemark with one bad polygon has none: half of it would pass for
// the whole.
func (g *shaper) result() (orb.MultiPolygon, string) {
	switch {
	case g.problem != "":
		return nil, g.problem
	case len(g.shape) == 0 && g.other != "":
		return nil, fmt.Sprintf("it is a %s, not a polygon", g.other)
	case len(g.shape) == 0:
		return nil, "it has no geometry"
	}
	return g.shape, ""
}
