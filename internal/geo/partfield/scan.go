package partfield

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// Codes of ISO 11783-10: what a polygon and a ring are for.
const (
	boundaryPolygon = "1" // PLN A: partfield boundary; some writers use it for holes' rings too
	exteriorRing    = "1" // LSG A
	interiorRing    = "2"
)

// reader reads one file.
type reader struct {
	name      string
	s         *xmlscan.Scanner
	faults    *diag.List
	each      func(feature.Feature) error
	eachErr   error
	n         int
	customers map[string]string // CTR id → name; they stand before or after the partfields, so names are given as found
	farms     map[string]string
}

// Scan hands on every partfield in file order and stops at the first error of each, which it returns as it is. Its
// properties are name, code, customer and farm where the file has them before the partfield. The error says why nothing
// could be read; else what is wrong stands in faults, and what stands before a break is kept.
func Scan(name string, r io.Reader, faults *diag.List, each func(feature.Feature) error) error {
	p := &reader{name: name, s: xmlscan.New(r), faults: faults, each: each, customers: map[string]string{}, farms: map[string]string{}}
	err := p.file()
	if p.eachErr != nil {
		return p.eachErr
	}
	end := xmlscan.Ending{Name: name, Format: "task data", Thing: "partfield", Kept: p.n, Fix: "export it again"}
	return end.Tell(err, faults)
}

// file takes the outermost element and, of what stands in it, customers, farms and partfields.
func (p *reader) file() error {
	root, err := p.s.Root()
	if err != nil {
		return err
	}
	// XFC is the root of a file that a TASKDATA.XML refers to for a part of its content.
	if root.Name.Local != "ISO11783_TaskData" && root.Name.Local != "XFC" {
		return &xmlscan.Error{Line: p.s.Line(), What: fmt.Sprintf("the file begins with %q, not with ISO11783_TaskData", root.Name.Local)}
	}
	return p.s.Children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "CTR":
			// Attributes are letters in this standard: A is the id, B the name or, of a partfield, its code.
			p.customers[xmlscan.Attr(e, "A")] = xmlscan.Attr(e, "B")
		case "FRM":
			p.farms[xmlscan.Attr(e, "A")] = xmlscan.Attr(e, "B")
		case "PFD":
			return p.partfield(e)
		}
		return nil
	})
}

// partfield reads a PFD and hands it on.
func (p *reader) partfield(e xml.StartElement) error {
	f := feature.Feature{Index: p.n, Line: p.s.Line(), ID: xmlscan.Attr(e, "A")}
	for _, a := range []struct{ name, value string }{{"name", xmlscan.Attr(e, "C")}, {"code", xmlscan.Attr(e, "B")},
		{"customer", p.customers[xmlscan.Attr(e, "E")]}, {"farm", p.farms[xmlscan.Attr(e, "F")]}} {
		if a.value != "" {
			f.Properties = append(f.Properties, feature.Property{Name: a.name, Value: feature.JSON(a.value)})
		}
	}
	err := p.s.Children(func(c xml.StartElement) error {
		// Other polygons are treatment zones, water, buildings: no boundaries.
		if c.Name.Local != "PLN" || xmlscan.Attr(c, "A") != boundaryPolygon {
			return nil
		}
		return p.polygon(&f)
	})
	if err != nil {
		return err
	}
	// Counted before each is called: a partfield without a shape is one as well.
	p.n++
	if len(f.Geometry) == 0 && f.Reason == "" {
		f.Reason = "it has no boundary in the task data"
		// Handed on with its reason, as every reader of fields does: a field must not vanish.
		p.faults.Add(diag.Fault{File: p.name, Line: f.Line, Feature: f.Label(), Kind: "no polygon", What: f.Reason, Fix: "draw it, or take it out"})
	}
	if p.eachErr = p.each(f); p.eachErr != nil {
		return p.eachErr
	}
	return nil
}

// polygon reads a PLN. Version 3 puts all parts and holes of a field into one; a hole belongs to the ring before it, and
// what does not fit is put right when the boundary is repaired.
func (p *reader) polygon(f *feature.Feature) error {
	return p.s.Children(func(e xml.StartElement) error {
		if e.Name.Local != "LSG" {
			return nil
		}
		ring, err := p.ring(f)
		// Less than three corners are no ground; where points were left out that was told.
		if err != nil || len(ring) < 3 {
			return err
		}
		if ring[0] != ring[len(ring)-1] { // closing is implied
			ring = append(ring, ring[0])
		}
		switch last := len(f.Geometry) - 1; {
		case xmlscan.Attr(e, "A") == interiorRing && last >= 0:
			f.Geometry[last] = append(f.Geometry[last], ring)
		// Rings for other purposes (guidance, drainage) are passed over, and a hole before any outer ring as well.
		case xmlscan.Attr(e, "A") == exteriorRing:
			f.Geometry = append(f.Geometry, orb.Polygon{ring})
		}
		return nil
	})
}

// ring reads the points of an LSG; one that is no place is left out and told.
func (p *reader) ring(f *feature.Feature) (ring orb.Ring, err error) {
	err = p.s.Children(func(e xml.StartElement) error {
		// C is latitude (north), D longitude (east); A says what the point is for and does not matter here.
		if e.Name.Local != "PNT" {
			return nil
		}
		lat, errLat := strconv.ParseFloat(xmlscan.Attr(e, "C"), 64)
		lon, errLon := strconv.ParseFloat(xmlscan.Attr(e, "D"), 64)
		if errLat != nil || errLon != nil || !(lat >= -90 && lat <= 90 && lon >= -180 && lon <= 180) {
			p.faults.Add(diag.Fault{File: p.name, Line: p.s.Line(), Feature: f.Label(), Field: "PNT", Kind: "no place",
				What: fmt.Sprintf("%q, %q is no latitude and longitude", feature.Shorten(xmlscan.Attr(e, "C")), feature.Shorten(xmlscan.Attr(e, "D"))), Fix: "export the field again; the point was left out"})
			return nil
		}
		ring = append(ring, orb.Point{lon, lat})
		return nil
	})
	return ring, err
}
