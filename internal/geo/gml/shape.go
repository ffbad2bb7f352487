package gml

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// system is what an element inherits from those around it.
type system struct {
	width int // numbers of one position
}

// shaper gathers the shape of one feature, coordinates in the order of the file.
// Coordinates stay as they stand in the file, for only the system, which may be named further in, tells which comes
// first.
type shaper struct {
	s       *xmlscan.Scanner
	shape   orb.MultiPolygon
	system  string // first srsName
	old     bool   // coordinates are written as GML 2 has them
	other   string // first kind that is no polygon
	problem string
	heights bool
}

// result returns the shape, or why there is none; one bad polygon spoils the feature.
func (sh *shaper) result() (orb.MultiPolygon, string) {
	switch {
	case sh.problem != "":
		return nil, sh.problem
	case len(sh.shape) == 0 && sh.other != "":
		return nil, fmt.Sprintf("it is a %s, not a polygon", sh.other)
	case len(sh.shape) == 0:
		return nil, "it has no geometry"
	}
	return sh.shape, ""
}

// complain keeps the first problem.
func (sh *shaper) complain(format string, args ...any) {
	if sh.problem == "" {
		sh.problem = fmt.Sprintf(format, args...)
	}
}

// inherit takes the attributes that hold for everything inside an element.
func (sh *shaper) inherit(e xml.StartElement, in system) system {
	// Mostly on the outermost geometry alone; inner ones repeat it.
	if name := xmlscan.Attr(e, "srsName"); name != "" && sh.system == "" {
		sh.system = name
	}
	// 2 to 4: x and y, heights, measures. Anything else is a slip, and what was inherited holds.
	if width, err := strconv.Atoi(xmlscan.Attr(e, "srsDimension")); err == nil && width >= 2 && width <= 4 {
		in.width = width
	}
	return in
}

// geometry takes an element that is a geometry or leads to some.
func (sh *shaper) geometry(e xml.StartElement, in system) error {
	in = sh.inherit(e, in)
	switch kind := e.Name.Local; kind {
	case "Polygon", "PolygonPatch":
		return sh.polygon(in)
	case "MultiPolygon", "polygonMember", "MultiSurface", "surfaceMember", "surfaceMembers", "Surface", "patches", "polygonPatches",
		"MultiGeometry", "geometryMember", "geometryMembers", "CompositeSurface":
		return sh.s.Children(func(e xml.StartElement) error { return sh.geometry(e, in) })
	default:
		// Elements of the service's own around a value are no geometries.
		if sh.other == "" && strings.Contains(e.Name.Space, "gml") {
			sh.other = feature.Shorten(kind)
		}
	}
	return nil
}

// polygon takes a boundary and holes, under the names of GML 3 and GML 2.
func (sh *shaper) polygon(in system) error {
	var outer, holes []orb.Ring
	err := sh.s.Children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "exterior", "outerBoundaryIs":
			return sh.rings(in, &outer)
		case "interior", "innerBoundaryIs":
			return sh.rings(in, &holes)
		}
		return nil
	})
	switch {
	case err != nil:
		return err
	case len(outer) > 1:
		sh.complain("one of its polygons has two outer boundaries")
	case len(outer) == 0 && len(holes) > 0:
		sh.complain("it has holes, but no outer boundary")
	case len(outer) == 1 && len(outer[0]) > 0:
		sh.shape = append(sh.shape, append(orb.Polygon{outer[0]}, holes...))
	}
	return nil
}

// rings takes the rings of one boundary, of which there should be one alone; a second outer one is a problem.
func (sh *shaper) rings(in system, into *[]orb.Ring) error {
	return sh.s.Children(func(e xml.StartElement) error {
		in := sh.inherit(e, in)
		var ring orb.Ring
		switch e.Name.Local {
		case "LinearRing", "Ring":
			err := sh.s.Children(func(e xml.StartElement) error { return sh.line(e, in, &ring) })
			*into = append(*into, ring)
			return err
		}
		// A boundary that is not understood spoils the feature: with one ring less its ground would be another.
		sh.complain("a boundary is a %s, which is not read", feature.Shorten(e.Name.Local))
		return nil
	})
}

// line takes coordinates, in all the forms there are, and goes into the elements that lead to them.
func (sh *shaper) line(e xml.StartElement, in system, ring *orb.Ring) error {
	in = sh.inherit(e, in)
	switch kind := e.Name.Local; kind {
	case "curveMember", "LineString", "Curve", "segments", "LineStringSegment", "pointProperty", "pointRep", "Point":
		return sh.s.Children(func(e xml.StartElement) error { return sh.line(e, in, ring) })
	// A pos has one position and a posList many; both are lists of numbers.
	case "posList", "pos":
		text, err := sh.s.Text()
		sh.positions(text, in.width, ring)
		return err
	case "coordinates":
		return sh.tuples(e, ring)
	case "coord":
		return sh.coord(ring)
	default:
		sh.complain("a boundary holds a %s, which is not read; only straight edges are", feature.Shorten(kind))
	}
	return nil
}

// positions takes numbers, width of them for each position.
func (sh *shaper) positions(text string, width int, ring *orb.Ring) {
	n := 0
	var first string
	for word := range strings.FieldsSeq(text) { // one by one: a list of them would take far more than the text
		switch n % width {
		// Only the first two numbers of a position are kept; which of them is latitude is for place to say.
		case 0:
			first = word
		case 1:
			sh.add(first, word, ring)
		default:
			sh.heights = true
		}
		n++
	}
	// Told after the numbers were taken: the shape is thrown away as a whole.
	if n%width != 0 {
		sh.complain("its list of %d numbers does not divide into positions of %d", n, width)
	}
}

// add appends a position.
func (sh *shaper) add(x, y string, ring *orb.Ring) {
	var p orb.Point
	for i, word := range [...]string{x, y} {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			sh.complain("its coordinates hold %q, which is no number", feature.Shorten(word))
			return
		}
		p[i] = v
	}
	*ring = append(*ring, p)
}

// tuples takes the text form of GML 2: tuples with a sign between them and one between their numbers, which attributes
// may change.
func (sh *shaper) tuples(e xml.StartElement, ring *orb.Ring) error {
	sh.old = true
	text, err := sh.s.Text()
	if err != nil {
		return err
	}
	sign := func(name, standard string) string {
		if s := xmlscan.Attr(e, name); s != "" {
			return s
		}
		return standard
	}
	// A service may write 4,5;6,7 where comma is the decimal sign.
	point, comma, blank := sign("decimal", "."), sign("cs", ","), sign("ts", " ")
	tuples := strings.FieldsSeq(text)
	if blank != " " {
		tuples = strings.SplitSeq(strings.TrimSpace(text), blank)
	}
	for t := range tuples {
		// A fourth part holds whatever is left, which is not looked at.
		numbers := strings.SplitN(strings.TrimSpace(t), comma, 4)
		if len(numbers) < 2 {
			sh.complain("a corner of it is %q, where two numbers must stand", feature.Shorten(t))
			return nil
		}
		sh.heights = sh.heights || len(numbers) > 2
		sh.add(strings.Replace(numbers[0], point, ".", 1), strings.Replace(numbers[1], point, ".", 1), ring)
	}
	return nil
}

// coord takes one position as elements X and Y.
func (sh *shaper) coord(ring *orb.Ring) error {
	sh.old = true
	var x, y string
	err := sh.s.Children(func(e xml.StartElement) (err error) {
		switch e.Name.Local {
		case "X":
			x, err = sh.s.Text()
		case "Y":
			y, err = sh.s.Text()
		}
		return err
	})
	sh.add(strings.TrimSpace(x), strings.TrimSpace(y), ring)
	return err
}
