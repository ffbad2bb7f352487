package wkb

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Geometry is what one value holds.
type Geometry struct {
	Shape     orb.MultiPolygon // its polygons, rings as stored; empty when it has none
	Others    []string         // kinds of members that are no polygons, each once, such as "LineString"
	Flattened bool             // it has heights or measures, which were left out
}

// maxNested bounds collections inside one another.
const maxNested = 16

// Read reads one value. The error says what is wrong at which byte, or which kind of geometry is not read (those with
// arcs). Bytes behind the value are an error too.
func Read(b []byte) (Geometry, error) {
	r := &reader{b: b}
	if err := r.geometry(0, 0); err != nil {
		return Geometry{}, err
	}
	// A value that is longer than its geometry was cut or put together wrongly, and its geometry may be as well.
	if r.at != len(b) {
		return Geometry{}, fmt.Errorf("%d bytes are left over behind the geometry", len(b)-r.at)
	}
	return r.out, nil
}

// reader walks one value from its beginning; at is the next byte.
type reader struct {
	b   []byte
	at  int
	out Geometry
}

// head is what stands before the content of a geometry.
type head struct {
	order binary.ByteOrder
	kind  kind
	width int // bytes of a point
}

var errShort = errors.New("the geometry breaks off")

// header reads byte order and code.
func (r *reader) header() (head, error) {
	if len(r.b)-r.at < 5 {
		return head{}, errShort
	}
	// Every geometry within another has its own header and may have its own byte order.
	h := head{order: binary.LittleEndian, width: 16}
	switch r.b[r.at] {
	case 0:
		h.order = binary.BigEndian
	case 1:
	default:
		return head{}, fmt.Errorf("byte %d of the geometry is %d, where 0 or 1 gives the byte order", r.at, r.b[r.at])
	}
	code := h.order.Uint32(r.b[r.at+1:])
	r.at += 5
	return h, r.code(&h, code)
}

// code takes kind and dimensions apart.
func (r *reader) code(h *head, code uint32) error {
	const flagZ, flagM, flagSystem = 1 << 31, 1 << 30, 1 << 29
	plain := code &^ (flagZ | flagM | flagSystem)
	h.kind = kind(plain % 1000)
	// ISO counts dimensions in thousands: 1 z, 2 m, 3 both.
	z := code&flagZ != 0 || plain/1000 == 1 || plain/1000 == 3
	m := code&flagM != 0 || plain/1000 == 2 || plain/1000 == 3
	if plain/1000 > 3 || !h.kind.readable() {
		return fmt.Errorf("it is a %s, which is not read; store it as a MultiPolygon with straight edges", kind(plain))
	}
	for _, more := range []bool{z, m} {
		if more {
			h.width += 8
			r.out.Flattened = true
		}
	}
	// The number of the system is passed over: who stores the blob says it elsewhere.
	if code&flagSystem != 0 {
		if len(r.b)-r.at < 4 {
			return errShort
		}
		r.at += 4
	}
	return nil
}

// count reads how many things follow, each of at least the given bytes.
func (r *reader) count(h head, least int) (int, error) {
	if len(r.b)-r.at < 4 {
		return 0, errShort
	}
	n := int(h.order.Uint32(r.b[r.at:]))
	r.at += 4
	// Divided and not multiplied: the product may not fit, and a blob may promise four thousand million rings.
	if n > (len(r.b)-r.at)/least {
		return 0, fmt.Errorf("byte %d of the geometry promises %d parts, for which there are no bytes", r.at-4, n)
	}
	return n, nil
}

// geometry reads one geometry; want is the kind it must be, 0 for any.
func (r *reader) geometry(want kind, depth int) error {
	h, err := r.header()
	if err != nil {
		return err
	}
	if want != 0 && h.kind != want {
		return fmt.Errorf("it holds a %s where a %s must be", h.kind, want)
	}
	switch h.kind {
	case polygon:
		return r.polygon(h)
	case multiPolygon, collection:
		return r.members(h, depth)
	}
	if want == 0 { // else the kind it is a member of is named
		r.other(h.kind)
	}
	return r.pass(h, depth)
}

// other notes a kind that is no polygon, each once.
func (r *reader) other(k kind) {
	for _, o := range r.out.Others {
		if o == k.String() {
			return
		}
	}
	r.out.Others = append(r.out.Others, k.String())
}

// members reads the geometries of a kind that holds several.
func (r *reader) members(h head, depth int) error {
	if depth >= maxNested {
		return fmt.Errorf("its collections are nested more than %d deep", maxNested)
	}
	const least = 9 // byte order, code, a count
	n, err := r.count(h, least)
	for i := 0; i < n && err == nil; i++ {
		err = r.geometry(h.kind.member(), depth+1)
	}
	return err
}

// pass goes past a geometry that is no polygon.
func (r *reader) pass(h head, depth int) error {
	switch h.kind {
	case point:
		if len(r.b)-r.at < h.width {
			return errShort
		}
		r.at += h.width
		return nil
	case lineString:
		n, err := r.count(h, h.width)
		r.at += n * h.width
		return err
	}
	return r.members(h, depth)
}

// polygon reads the rings of one polygon. One without rings is empty.
func (r *reader) polygon(h head) error {
	n, err := r.count(h, 4)
	// A polygon without rings is how an empty one is stored.
	if err != nil || n == 0 {
		return err
	}
	// count has checked that there are bytes for n rings.
	part := make(orb.Polygon, 0, n)
	for range n {
		ring, err := r.ring(h)
		if err != nil {
			return err
		}
		part = append(part, ring)
	}
	r.out.Shape = append(r.out.Shape, part)
	return nil
}

// ring reads one ring; heights and measures behind x and y are stepped over.
func (r *reader) ring(h head) (orb.Ring, error) {
	n, err := r.count(h, h.width)
	if err != nil {
		return nil, err
	}
	ring := make(orb.Ring, n)
	for i := range ring {
		b := r.b[r.at:]
		ring[i] = orb.Point{math.Float64frombits(h.order.Uint64(b)), math.Float64frombits(h.order.Uint64(b[8:]))}
		r.at += h.width
	}
	return ring, nil
}
