package shapefile

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// nullSize is the content of a record without a shape: its type alone.
const nullSize = 4

// measureShape returns the length of a record's content in bytes, and the box of its points.
func measureShape(shape orb.MultiPolygon) (size int64, box orb.Bound, err error) {
	parts, points := 0, 0
	box = noBox()
	for _, ring := range ringsOf(shape) {
		parts++
		points += len(ring)
		// what asStored adds
		if !closed(ring) {
			points++
		}
		for _, p := range ring {
			// a corner that is no number would spoil the box of the whole layer
			if !finite(p[0]) || !finite(p[1]) {
				return 0, box, fmt.Errorf("the shape has a corner at %v, %v", p[0], p[1])
			}
			// along with the check, so that each corner is looked at once
			box = join(box, orb.Bound{Min: p, Max: p})
		}
	}
	// A polygon of the format has one ring or more (page 8), so a shape without any is a null shape.
	if parts == 0 {
		return nullSize, box, nil
	}
	return polygonHead + 4*int64(parts) + 16*int64(points), box, nil
}

// noBox is the box of no points: joined with another it yields that other.
func noBox() orb.Bound {
	return orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
}

func join(a, b orb.Bound) orb.Bound {
	return orb.Bound{Min: orb.Point{min(a.Min[0], b.Min[0]), min(a.Min[1], b.Min[1])},
		Max: orb.Point{max(a.Max[0], b.Max[0]), max(a.Max[1], b.Max[1])}}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// closed says whether the ring repeats its first point, as the format wants.
func closed(r orb.Ring) bool { return len(r) > 0 && r[0] == r[len(r)-1] }

// ringsOf yields the rings that have points, telling outer rings from holes.
func ringsOf(shape orb.MultiPolygon) func(yield func(outer bool, r orb.Ring) bool) {
	return func(yield func(bool, orb.Ring) bool) {
		for _, p := range shape {
			for i, ring := range p {
				if len(ring) > 0 && !yield(i == 0, ring) {
					return
				}
			}
		}
	}
}

// errChanged says that the rows were not the same on a second walk.
var errChanged = errors.New("the rows to write changed between two walks through them")

// WriteSHP writes the shapes: outer rings clockwise, holes counter-clockwise, rings closed.
func (e *Encoder) WriteSHP(w io.Writer) error {
	b := e.header(e.words)
	n, written := 0, int64(headerSize/2)
	for shape := range e.rows {
		n++
		size, box, err := measureShape(shape)
		if err != nil {
			return err
		}
		written += (recordHead + size) / 2
		// records are numbered from 1
		b = binary.BigEndian.AppendUint32(b, uint32(n))
		b = binary.BigEndian.AppendUint32(b, uint32(size/2))
		b = appendShape(b, shape, size, box)
		if _, err := w.Write(b); err != nil {
			return err
		}
		b = b[:0]
	}
	// The header went out first with lengths from the first walk: a second one that differs would make them a lie.
	if n != e.n || written != e.words {
		return errChanged
	}
	_, err := w.Write(b) // the header, when there was no row to carry it
	return err
}

// WriteSHX writes the index.
func (e *Encoder) WriteSHX(w io.Writer) error {
	b := e.header(headerSize/2 + 4*int64(e.n))
	// in 16-bit words, as everything in the index
	at := uint32(headerSize / 2)
	for shape := range e.rows {
		size, _, err := measureShape(shape)
		if err != nil {
			return err
		}
		b = binary.BigEndian.AppendUint32(b, at)
		b = binary.BigEndian.AppendUint32(b, uint32(size/2))
		at += uint32((recordHead + size) / 2)
	}
	_, err := w.Write(b)
	return err
}

// header returns the 100 bytes both files begin with; words is the file's length.
func (e *Encoder) header(words int64) []byte {
	b := make([]byte, 0, headerSize)
	b = binary.BigEndian.AppendUint32(b, fileCode)
	b = append(b, make([]byte, 20)...)
	b = binary.BigEndian.AppendUint32(b, uint32(words))
	b = binary.LittleEndian.AppendUint32(b, fileVersion)
	b = binary.LittleEndian.AppendUint32(b, shapePolygon)
	box := e.bounds
	// An infinite box is no box that a reader could show.
	if box == noBox() {
		box = orb.Bound{}
	}
	b = appendBox(b, box)
	return append(b, make([]byte, headerSize-len(b))...) // no heights, no measures
}

func appendBox(b []byte, box orb.Bound) []byte {
	for _, v := range [4]float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]} {
		b = appendFloat(b, v)
	}
	return b
}

func appendFloat(b []byte, v float64) []byte {
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
}

// appendShape writes the content of one record.
func appendShape(b []byte, shape orb.MultiPolygon, size int64, box orb.Bound) []byte {
	// No polygon record is as short as that.
	if size == nullSize {
		return binary.LittleEndian.AppendUint32(b, shapeNull)
	}
	var starts []byte
	var xy []byte
	parts, points := 0, 0
	for outer, ring := range ringsOf(shape) {
		starts = binary.LittleEndian.AppendUint32(starts, uint32(points))
		parts++
		for _, p := range asStored(outer, ring) {
			xy = appendFloat(appendFloat(xy, p[0]), p[1])
			points++
		}
	}
	b = appendBox(binary.LittleEndian.AppendUint32(b, shapePolygon), box)
	b = binary.LittleEndian.AppendUint32(b, uint32(parts))
	b = binary.LittleEndian.AppendUint32(b, uint32(points))
	return append(append(b, starts...), xy...)
}

// asStored returns the ring closed, clockwise if outer and counter-clockwise if not. A ring without area stays.
func asStored(outer bool, ring orb.Ring) orb.Ring {
	// the caller's ring stays as it was: it may be turned the other way
	r := slices.Clone(ring)
	if !closed(r) {
		r = append(r, r[0])
	}
	if a := ringArea2(r); a != 0 && (a < 0) != outer {
		slices.Reverse(r)
	}
	return r
}

// ringArea2 returns twice the signed area of a closed ring, positive when counter-clockwise.
func ringArea2(r orb.Ring) float64 {
	sum := 0.0
	for i := 0; i+1 < len(r); i++ {
		sum += (r[i][0]-r[0][0])*(r[i+1][1]-r[0][1]) - (r[i+1][0]-r[0][0])*(r[i][1]-r[0][1])
	}
	return sum
}
