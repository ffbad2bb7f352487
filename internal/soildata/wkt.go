package soildata

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// appendWKT writes polygons as well-known text, coordinates to at most 7 decimals (1 cm).
func appendWKT(b []byte, shape orb.MultiPolygon) []byte {
	b = append(b, "MULTIPOLYGON ("...)
	for i, part := range shape {
		b = comma(b, i)
		b = append(b, '(')
		for j, ring := range part {
			b = comma(b, j)
			b = append(b, '(')
			for k, p := range ring {
				b = comma(b, k)
				b = appendDegrees(b, p[0])
				b = append(b, ' ')
				b = appendDegrees(b, p[1])
			}
			b = append(b, ')')
		}
		b = append(b, ')')
	}
	return append(b, ')')
}

// comma parts the items of a list but for the first.
func comma(b []byte, i int) []byte {
	if i > 0 {
		b = append(b, ", "...)
	}
	return b
}

// appendDegrees writes no more digits than the grid of outlines has.
func appendDegrees(b []byte, v float64) []byte {
	const perDegree = 1e7
	return strconv.AppendFloat(b, math.Round(v*perDegree)/perDegree, 'f', -1, 64)
}

// parseWKT reads the polygons of a well-known text: POLYGON, MULTIPOLYGON, or a collection of them; EMPTY is none.
// Points and lines in a collection have no ground and are passed over. Coordinates are longitude and latitude.
func parseWKT(s string) (orb.MultiPolygon, error) {
	p := &wktReader{rest: s}
	shape, err := p.geometry(0)
	if err == nil && p.skip() != 0 {
		err = errors.New("text behind the shape")
	}
	if err != nil {
		return nil, fmt.Errorf("not a shape in well-known text: %w, at character %d", err, len(s)-len(p.rest)+1)
	}
	return shape, nil
}

// wktReader reads well-known text from the front.
type wktReader struct{ rest string }

// skip goes past white space and returns the next byte, 0 at the end.
func (p *wktReader) skip() byte {
	p.rest = strings.TrimLeft(p.rest, " \t\r\n")
	if p.rest == "" {
		return 0
	}
	return p.rest[0]
}

// word reads letters.
// Setting the bit 0x20 makes small letters of capitals.
func (p *wktReader) word() string {
	p.skip()
	n := 0
	for n < len(p.rest) && (p.rest[n]|0x20) >= 'a' && (p.rest[n]|0x20) <= 'z' {
		n++
	}
	w := strings.ToUpper(p.rest[:n])
	p.rest = p.rest[n:]
	return w
}

// maxNested is how deep collections may stand in each other; the service nests none.
const maxNested = 4

// geometry reads a shape with its kind; depth is how many collections it stands in.
func (p *wktReader) geometry(depth int) (shape orb.MultiPolygon, err error) {
	kind := p.word()
	// behind the kind stand parentheses or EMPTY
	if p.skip() == 'E' || p.skip() == 'e' {
		if p.word() != "EMPTY" {
			return nil, errors.New("EMPTY expected")
		}
		return nil, nil
	}
	switch kind {
	case "POLYGON":
		part, err := p.polygon()
		return orb.MultiPolygon{part}, err
	case "MULTIPOLYGON":
		err = p.list(func() error {
			part, err := p.polygon()
			shape = append(shape, part)
			return err
		})
	case "GEOMETRYCOLLECTION":
		if depth == maxNested {
			return nil, errors.New("collections nested too deep")
		}
		err = p.list(func() error {
			more, err := p.geometry(depth + 1)
			shape = append(shape, more...)
			return err
		})
	case "POINT", "LINESTRING", "MULTIPOINT", "MULTILINESTRING":
		// alone it is an answer that makes no sense, within a collection only a touch of two edges
		if depth == 0 {
			return nil, fmt.Errorf("a %s is no polygon", kind)
		}
		err = p.passOver()
	default:
		err = fmt.Errorf("%q is no shape known here", clip(kind))
	}
	return shape, err
}

// polygon reads rings, the shell first, as they come.
func (p *wktReader) polygon() (part orb.Polygon, err error) {
	err = p.list(func() error {
		ring, err := p.ring()
		part = append(part, ring)
		return err
	})
	return part, err
}

// ring reads a closed ring of at least three corners.
func (p *wktReader) ring() (ring orb.Ring, err error) {
	if err := p.list(func() error {
		x, err := p.number(180)
		if err != nil {
			return err
		}
		y, err := p.number(90)
		ring = append(ring, orb.Point{x, y})
		return err
	}); err != nil {
		return nil, err
	}
	// the first corner again at the end makes four of a triangle
	if len(ring) < 4 || ring[0] != ring[len(ring)-1] {
		return nil, errors.New("a ring that is not closed, or has fewer than three corners")
	}
	return ring, nil
}

// number reads a number between -most and most.
func (p *wktReader) number(most float64) (float64, error) {
	p.skip()
	n := 0
	for n < len(p.rest) && strings.IndexByte("0123456789+-.eE", p.rest[n]) >= 0 {
		n++
	}
	// the signs were picked above, so no "inf" or "0x" can come here
	// Negated comparison, so that NaN is refused too; a third number, a height, would be refused by list.
	v, err := strconv.ParseFloat(p.rest[:n], 64)
	if err != nil || !(v >= -most && v <= most) {
		return 0, fmt.Errorf("%q is not a number of degrees up to %g", clip(p.rest[:n]), most)
	}
	p.rest = p.rest[n:]
	return v, nil
}

// list reads items between parentheses, parted by commas.
func (p *wktReader) list(item func() error) error {
	if p.skip() != '(' {
		return errors.New("( expected")
	}
	for {
		p.rest = p.rest[1:]
		if err := item(); err != nil {
			return err
		}
		switch p.skip() {
		case ',':
		case ')':
			p.rest = p.rest[1:]
			return nil
		default:
			return errors.New(", or ) expected")
		}
	}
}

// passOver goes past a balanced pair of parentheses.
func (p *wktReader) passOver() error {
	if p.skip() != '(' {
		return errors.New("( expected")
	}
	// A count and no recursion, so that depth costs no stack.
	open := 0
	// by parentheses alone, whatever stands between them
	for i := range len(p.rest) {
		switch p.rest[i] {
		case '(':
			open++
		case ')':
			open--
		}
		if open == 0 {
			p.rest = p.rest[i+1:]
			return nil
		}
	}
	return errors.New(") expected")
}
