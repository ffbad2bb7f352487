package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"

	"github.com/paulmach/orb"
)

// readPolygons reads a file of polygons:
//
//	magic "RWPOLYS1", count uint32, flags uint32, then per record: id uint32, size uint32, WKB of that size
//
// all little-endian; WKB is Polygon or MultiPolygon with X and Y.
func readPolygons(path string) ([]orb.MultiPolygon, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if len(b) < 16 || string(b[:8]) != "RWPOLYS1" {
		return nil, fmt.Errorf("%s: not a file of polygons", path)
	}
	r := &reader{b: b[16:]}
	shapes := make([]orb.MultiPolygon, 0, binary.LittleEndian.Uint32(b[8:]))
	for range cap(shapes) {
		r.u32()
		r.u32()
		shapes = append(shapes, r.geometry())
	}
	if r.short {
		return nil, fmt.Errorf("%s: %w", path, errors.New("shorter than it says"))
	}
	return shapes, nil
}

// reader walks through bytes; reading past the end sets short and gives zeros.
type reader struct {
	b     []byte
	short bool
}

func (r *reader) take(n int) []byte {
	if n > len(r.b) {
		r.short = true
		return make([]byte, min(n, 16))
	}
	t := r.b[:n]
	r.b = r.b[n:]
	return t
}

func (r *reader) u32() uint32 { return binary.LittleEndian.Uint32(r.take(4)) }

func (r *reader) geometry() orb.MultiPolygon {
	r.take(1)
	if r.u32() == 3 {
		return orb.MultiPolygon{r.polygon()}
	}
	var m orb.MultiPolygon
	for n := r.u32(); n > 0 && !r.short; n-- {
		r.take(5)
		m = append(m, r.polygon())
	}
	return m
}

func (r *reader) polygon() orb.Polygon {
	var p orb.Polygon
	for n := r.u32(); n > 0 && !r.short; n-- {
		raw := r.take(16 * int(r.u32()))
		ring := make(orb.Ring, len(raw)/16)
		for i := range ring {
			ring[i] = orb.Point{float(raw[16*i:]), float(raw[16*i+8:])}
		}
		p = append(p, ring)
	}
	return p
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
