package main

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
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
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	r := &reader{r: bufio.NewReaderSize(f, 1<<20)}
	if head := r.take(8); string(head) != "RWPOLYS1" {
		return nil, fmt.Errorf("%s: not a file of polygons", path)
	}
	n := r.u32()
	r.u32()
	var shapes []orb.MultiPolygon
	for ; n > 0 && r.err == nil; n-- {
		r.take(8) // id and size: records come in order, and WKB knows its own end
		shapes = append(shapes, r.geometry())
	}
	if r.err != nil {
		return nil, fmt.Errorf("%s: %w", path, r.err)
	}
	return shapes, nil
}

// reader walks through the file; after its first error it gives zeros.
type reader struct {
	r   io.Reader
	buf [16]byte
	err error
}

// take returns the next n bytes, at most 16, until the next call.
func (r *reader) take(n int) []byte {
	b := r.buf[:n]
	if r.err == nil {
		_, r.err = io.ReadFull(r.r, b)
	}
	if r.err != nil {
		clear(b)
	}
	return b
}

func (r *reader) u32() uint32 { return binary.LittleEndian.Uint32(r.take(4)) }

func (r *reader) geometry() orb.MultiPolygon {
	r.take(1)
	if r.u32() == 3 {
		return orb.MultiPolygon{r.polygon()}
	}
	var m orb.MultiPolygon
	for n := r.u32(); n > 0 && r.err == nil; n-- {
		r.take(5) // byte order and type of each part: always little-endian and Polygon
		m = append(m, r.polygon())
	}
	return m
}

func (r *reader) polygon() orb.Polygon {
	var p orb.Polygon
	for n := r.u32(); n > 0 && r.err == nil; n-- {
		left := r.u32()
		ring := make(orb.Ring, 0, min(left, 1<<20)) // no more than that is taken on the file's word
		for ; left > 0 && r.err == nil; left-- {
			b := r.take(16)
			ring = append(ring, orb.Point{float(b), float(b[8:])})
		}
		p = append(p, ring)
	}
	return p
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
