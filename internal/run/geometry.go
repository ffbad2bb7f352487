package run

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"github.com/paulmach/orb"
)

// geometry is a polygon or several; a null geometry is a nil pointer.
type geometry struct {
	Type string `json:"type"`
	// left as text: how deep it is nested is known only when the type is, which may stand behind it
	Coordinates json.RawMessage `json:"coordinates"`
}

// shape returns the geometry as a multipolygon; nil for a null geometry.
func (g *geometry) shape() (orb.MultiPolygon, error) {
	if g == nil {
		return nil, nil
	}
	// Coordinates are nine tenths of a file, and the general reader allocates for each number.
	s := &scanner{text: g.Coordinates}
	var out orb.MultiPolygon
	switch g.Type {
	case "Polygon":
		out = orb.MultiPolygon{s.polygon()}
	case "MultiPolygon":
		// The depth of the nesting follows from the type and not from the text, so each level is read by a function of its own.
		s.list(func() { out = append(out, s.polygon()) })
	default:
		return nil, fmt.Errorf("geometry type %q is neither Polygon nor MultiPolygon", g.Type)
	}
	// JSON was checked by the decoder; this is a geometry with more brackets than its type has.
	if s.err == nil && s.peek() != 0 {
		s.fail("more after the coordinates")
	}
	return out, s.err
}

// scanner reads nested arrays of coordinates from text that is valid JSON. It reads no deeper than a polygon needs,
// so that deep nesting costs nothing. After the first error it reads nothing.
type scanner struct {
	text []byte
	at   int
	err  error
}

// fail keeps the first error; everything after it follows from it.
func (s *scanner) fail(what string) {
	if s.err == nil {
		s.err = errors.New("coordinates: " + what)
	}
}

// peek returns the next byte that is no blank, 0 at the end or after an error.
func (s *scanner) peek() byte {
	for ; s.err == nil && s.at < len(s.text); s.at++ {
		if c := s.text[s.at]; c != ' ' && c != '\n' && c != '\t' && c != '\r' {
			return c
		}
	}
	return 0
}

// take steps over c and says whether it was there.
func (s *scanner) take(c byte) bool {
	if s.peek() != c {
		return false
	}
	s.at++
	return true
}

// list calls item for each item of an array.
func (s *scanner) list(item func()) {
	if !s.take('[') {
		s.fail("an array was expected")
		return
	}
	// An empty list is valid JSON; whether it is a valid shape, the caller says.
	if s.take(']') {
		return
	}
	// Every turn either takes an item and a comma or fails, so it ends with the text at the latest.
	for s.err == nil {
		item()
		if s.take(']') {
			return
		}
		if !s.take(',') {
			s.fail("an array does not end")
		}
	}
}

// polygon reads rings; one at least.
func (s *scanner) polygon() (p orb.Polygon) {
	s.list(func() { p = append(p, s.ring()) })
	if len(p) == 0 {
		s.fail("a polygon without a ring")
	}
	return p
}

// ring reads positions and wants them closed, as every writer closes them.
func (s *scanner) ring() (r orb.Ring) {
	s.list(func() { r = append(r, s.position()) })
	// RFC 7946, section 3.1.6: a linear ring has four positions or more, the last equal to the first.
	if s.err == nil && (len(r) < 4 || r[0] != r[len(r)-1]) {
		s.fail("a ring that is not closed or has fewer than four points")
	}
	return r
}

// position reads longitude and latitude; a height after them is passed over.
func (s *scanner) position() (p orb.Point) {
	n := 0
	s.list(func() {
		x := s.number()
		if n < len(p) {
			p[n] = x
		}
		n++
	})
	// What lies outside is no damage of ours to mend: the file was changed by hand or by a program that reprojected it.
	// NaN is no JSON and cannot come here.
	if n < 2 || p[0] < -180 || p[0] > 180 || p[1] < -90 || p[1] > 90 {
		s.fail("a position that is not longitude and latitude")
	}
	return p
}

// number reads up to the next comma or bracket.
func (s *scanner) number() float64 {
	// Blanks before the number; the byte itself is looked at below.
	s.peek()
	start := s.at
	for s.at < len(s.text) && s.text[s.at] != ',' && s.text[s.at] != ']' && s.text[s.at] > ' ' {
		s.at++
	}
	// What JSON allows as a number, this reads to the last bit; what it reads beyond (Inf, hexadecimal) JSON does not have,
	// and the decoder has checked the text.
	x, err := strconv.ParseFloat(string(s.text[start:s.at]), 64)
	if err != nil {
		s.fail(fmt.Sprintf("%.20q is not a number", s.text[start:s.at]))
	}
	return x
}
