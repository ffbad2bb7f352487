package kml

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// element takes an element of a Placemark or MultiGeometry if it is a geometry.
func (g *shaper) element(s *xmlscan.Scanner, e xml.StartElement) error {
	switch kind := e.Name.Local; kind {
	case "Polygon":
		return g.polygon(s)
	// Of any depth; the scanner bounds how deep elements may be nested.
	case "MultiGeometry":
		return s.Children(func(e xml.StartElement) error { return g.element(s, e) })
	case "Point", "LineString", "LinearRing", "Model", "Track", "MultiTrack":
		if g.other == "" {
			g.other = kind
		}
	}
	return nil
}

// polygon takes the rings of a Polygon: the outer one, whichever comes first, then the holes.
func (g *shaper) polygon(s *xmlscan.Scanner) error {
	var outer, holes []orb.Ring
	err := s.Children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "outerBoundaryIs":
			return g.rings(s, &outer)
		case "innerBoundaryIs": // several rings in one are against the standard, but found
			return g.rings(s, &holes)
		}
		return nil
	})
	switch {
	case err != nil:
		return err
	case len(outer) == 0 && len(holes) > 0:
		g.complain("it has holes, but no outer boundary")
	case len(outer) > 1:
		g.complain("one of its polygons has two outer boundaries")
	// Holes without corners are left in; the repair of rings drops them.
	case len(outer) == 1 && len(outer[0]) > 0:
		g.shape = append(g.shape, append(orb.Polygon{outer[0]}, holes...))
	}
	return nil
}

// complain keeps the first problem.
func (g *shaper) complain(what string) {
	if g.problem == "" {
		g.problem = what
	}
}

// rings takes the LinearRings of one boundary.
func (g *shaper) rings(s *xmlscan.Scanner, into *[]orb.Ring) error {
	return s.Children(func(e xml.StartElement) error {
		if e.Name.Local != "LinearRing" {
			return nil
		}
		return s.Children(func(e xml.StartElement) error {
			if e.Name.Local != "coordinates" {
				return nil
			}
			text, err := s.Text()
			if err == nil {
				*into = append(*into, g.coordinates(text))
			}
			return err
		})
	})
}

// coordinates reads tuples longitude,latitude[,height] with blanks between them. Blanks beside a comma, which the
// standard forbids and some programs write, do not part a tuple.
func (g *shaper) coordinates(text string) orb.Ring {
	var ring orb.Ring
	var tuple [3]float64
	n := 0 // numbers of the tuple so far
	// A tuple ends where the next one begins or the text does.
	end := func() {
		if n == 1 {
			g.complain(fmt.Sprintf("a corner of it has only one number, %v", tuple[0]))
		} else if n > 1 {
			ring = append(ring, orb.Point{tuple[0], tuple[1]})
			// Programs write a height of 0 into every corner, which says nothing.
			g.heights = g.heights || n > 2 && tuple[2] != 0
		}
		n, tuple = 0, [3]float64{}
	}
	comma := true // a number may follow
	for at := 0; at < len(text); {
		switch c := text[at]; {
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			at++
			continue
		case c == ',':
			comma = true
			at++
			continue
		}
		size := strings.IndexAny(text[at:], " \t\n\r,")
		if size < 0 {
			size = len(text) - at
		}
		word := text[at : at+size]
		at += size
		// Two numbers with a blank between them and no comma: the second begins a new corner.
		if !comma {
			end()
		}
		comma = false
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			g.complain(fmt.Sprintf("its coordinates hold %q, which is no number", feature.Shorten(word)))
			return nil
		}
		// A fourth number and more are passed over.
		if n < len(tuple) {
			tuple[n] = v
			n++
		}
	}
	end()
	return ring
}
