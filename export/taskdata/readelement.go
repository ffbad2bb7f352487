package taskdata

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// identified are the elements whose A is an id of the whole file.
func identified(name string) bool {
	switch name {
	case "CTR", "FRM", "PFD", "PDT", "PGP", "TSK", "VPN", "WKR", "CTP", "DVC", "CLD", "CCT", "CPC", "OTQ":
		return true
	}
	return false
}

// element takes what one element says; all others of the standard are passed over.
func (r *reader) element(t xml.StartElement) {
	a, name := attributes(t.Attr), t.Name.Local
	if identified(name) {
		r.id(a.get("A"))
	}
	switch name {
	case "XFR":
		// A file that names itself must not be read for ever.
		if len(r.external) <= mostExternal && !r.known(a.get("A")) {
			r.external = append(r.external, a.get("A"))
		}
	case "PDT":
		r.file.Products = append(r.file.Products, Named{a.get("A"), a.get("B")})
	case "VPN":
		r.file.Displays = append(r.file.Displays, Named{a.get("A"), a.get("E")})
	case "PFD":
		area, _ := strconv.ParseFloat(a.get("D"), 64)
		// Not NaN either; the outline is measured anyway.
		if !(area >= 0) || math.IsInf(area, 0) {
			area = 0
		}
		r.file.Boundaries = append(r.file.Boundaries, Boundary{ID: a.get("A"), Name: a.get("C"), Area: unit.Area(area)})
	case "TSK":
		r.file.Tasks = append(r.file.Tasks, FileTask{ID: a.get("A"), Name: a.get("B"), Field: a.get("E"), Line: r.line(),
			Status: number(a.get("G"), 0), Default: number(a.get("H"), -1), Lost: number(a.get("I"), -1), Outside: number(a.get("J"), -1)})
	default:
		r.inner(name, a)
	}
}

// known says whether a file of that name is on the list to be read.
func (r *reader) known(external string) bool {
	for _, e := range r.external {
		if e == external {
			return true
		}
	}
	return false
}

// id tells of an id that is given twice: a terminal takes the first, the last, or refuses the file.
func (r *reader) id(id string) {
	if r.ids[id]++; id != "" && r.ids[id] == 2 {
		r.fault("id twice", "", fmt.Sprintf("the id %s is given more than once, so what refers to it is not sure", id), "export it again from a program that numbers each thing once")
	}
}

// within says whether the element being read stands directly in another.
func (r *reader) within(name string) bool {
	return len(r.path) > 1 && r.path[len(r.path)-2] == name
}

// inner takes elements that belong to a task or a boundary.
func (r *reader) inner(name string, a attributes) {
	switch name {
	case "PLN", "LSG", "PNT":
		r.shape.element(r, name, a)
		return
	}
	if len(r.file.Tasks) == 0 || !r.inside("TSK") {
		return
	}
	t := &r.file.Tasks[len(r.file.Tasks)-1]
	switch {
	case name == "TZN" && r.within("TSK"):
		code := number(a.get("A"), -1)
		// The code is one byte in a grid of codes.
		if code < 0 || code > 254 {
			r.fault("zone code", "TZN A", fmt.Sprintf("task %s has a zone with code %q; codes are 0 to 254", t.ID, visible(a.get("A"))), "the zone is left out")
			code = -1
		} else if _, twice := t.Zone(code); twice {
			r.fault("zone twice", "TZN A", fmt.Sprintf("task %s has zone code %d twice", t.ID, code), "the first is used")
		}
		// A zone that is left out keeps its place with code -1, so that the values that follow it do not fall to the zone before.
		t.Zones = append(t.Zones, TreatmentZone{Code: code, Name: a.get("B")})
	case name == "PDV" && r.within("TZN") && len(t.Zones) > 0:
		r.setting(t, a)
	// Kept for later: the zones that give its codes a meaning may stand behind it, or in another file.
	case name == "GRD" && r.within("TSK"):
		r.grids = append(r.grids, gridElement{task: len(r.file.Tasks) - 1, line: r.line(), file: r.named, a: append(attributes(nil), a...)})
	case name == "TLG" && r.within("TSK"):
		// A name with a path in it could lead out of the folder.
		if log := a.get("A"); !strings.ContainsAny(log, `/\\`) {
			t.Logs = append(t.Logs, log)
		}
	}
}

// inside says whether an element of a name is open.
func (r *reader) inside(name string) bool {
	for _, p := range r.path {
		if p == name {
			return true
		}
	}
	return false
}

// setting is one value of a zone: an identifier in hexadecimal digits, and a whole number in the identifier's own unit.
func (r *reader) setting(t *FileTask, a attributes) {
	z := &t.Zones[len(t.Zones)-1]
	ddi, err := strconv.ParseUint(a.get("A"), 16, 16)
	value, err2 := strconv.ParseInt(a.get("B"), 10, 32)
	if err != nil || err2 != nil {
		r.fault("value", "PDV", fmt.Sprintf("task %s, zone %d: %q with %q is no identifier with a whole number", t.ID, z.Code, visible(a.get("A")), visible(a.get("B"))), "it counts as zero")
		value = 0
	}
	z.Values = append(z.Values, Setting{DDI: DDI(ddi), Value: int32(value), Product: a.get("C"), Display: a.get("E")})
}

// ended closes what an end tag closes.
func (r *reader) ended(name string) {
	if name == "PLN" {
		r.shape.end(r)
	}
}

// number reads a whole number, or says what a missing or wrong one counts as.
func number(s string, otherwise int) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return otherwise
	}
	return n
}

// rings gathers the polygon being read. Polygons of other things (guidance lines) are passed over.
type rings struct {
	counts bool // the polygon belongs to a boundary or a zone
	ring   bool // the ring belongs to the polygon
	parts  orb.MultiPolygon
}

// element takes a polygon, a ring or a point of what is being read.
func (s *rings) element(r *reader, name string, a attributes) {
	switch {
	case name == "PLN":
		// Of a field kind 1 is its boundary; of a zone any polygon counts.
		kind := a.get("A")
		s.counts = r.within("PFD") && kind == "1" || r.within("TZN") && r.inside("TSK")
		s.parts = nil
	case !s.counts:
	case name == "LSG":
		s.ring = r.within("PLN")
		switch {
		case !s.ring:
		// A hole belongs to the outer ring before it; a hole before any outer ring is taken for one.
		case a.get("A") == "2" && len(s.parts) > 0:
			last := len(s.parts) - 1
			s.parts[last] = append(s.parts[last], orb.Ring{})
		default:
			s.parts = append(s.parts, orb.Polygon{{}})
		}
	case name == "PNT" && s.ring && r.within("LSG"):
		s.point(r, a)
	}
}

// point appends a point to the last ring of the last part. North stands before east in the file, east before north in ours.
func (s *rings) point(r *reader, a attributes) {
	y, err1 := strconv.ParseFloat(a.get("C"), 64)
	x, err2 := strconv.ParseFloat(a.get("D"), 64)
	if err1 != nil || err2 != nil || !(math.Abs(y) <= 90 && math.Abs(x) <= 180) {
		r.fault("point", "PNT", fmt.Sprintf("north %q, east %q is no place on Earth", visible(a.get("C")), visible(a.get("D"))), "the point is left out")
		return
	}
	polygon := s.parts[len(s.parts)-1]
	last := len(polygon) - 1
	polygon[last] = append(polygon[last], orb.Point{x, y})
}

// end puts a whole polygon where it belongs, rings closed, those of under three points left out.
func (s *rings) end(r *reader) {
	if !s.counts {
		return
	}
	var whole orb.MultiPolygon
	for _, polygon := range s.parts {
		var kept orb.Polygon
		for _, ring := range polygon {
			if len(ring) > 0 && ring[0] != ring[len(ring)-1] {
				ring = append(ring, ring[0])
			}
			if len(ring) >= 4 {
				kept = append(kept, ring)
			}
		}
		if len(kept) > 0 {
			whole = append(whole, kept)
		}
	}
	s.counts, s.parts = false, nil
	if r.inside("TSK") {
		if t := &r.file.Tasks[len(r.file.Tasks)-1]; len(t.Zones) > 0 {
			z := &t.Zones[len(t.Zones)-1]
			z.Shape = append(z.Shape, whole...)
		}
	} else if n := len(r.file.Boundaries); n > 0 {
		b := &r.file.Boundaries[n-1]
		b.Shape = append(b.Shape, whole...)
	}
}
