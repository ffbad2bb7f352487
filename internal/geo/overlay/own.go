package overlay

import (
	"unsafe"

	"github.com/paulmach/orb"
)

// A shape that is given away makes room for itself: 16 bytes a point come in, and 10 to 11 are needed. So a polygon is
// snapped in place, over its own outer ring, and no memory is asked for at all:
//
//	before   x₀ y₀ x₁ y₁ x₂ y₂ …                                                of float64
//	after    points | boxes of chunks | super boxes | rings | edges of chunks   (room for each follows from the counts)
//
// Points are read before they are written over, as point i of 8 bytes takes the place of half of point i of 16; boxes
// wait elsewhere until the ring has been read. Holes are read from their own memory and put behind the outer ring.
//
// This file is the only one that looks at memory under another type. It may: what came in has no pointers, is not
// looked at again as what it was, and is aligned for more than what is made of it.

// ownSlab returns an empty slab with room for that many points and rings in the memory that begins with first.
func ownSlab(first *offset, points, rings int) slab {
	at := unsafe.Pointer(first)
	chunks := points / chunk
	supers := (chunks + superChunk - 1) / superChunk
	boxes := unsafe.Add(at, points*int(unsafe.Sizeof(offset{})))
	over := unsafe.Add(boxes, chunks*int(unsafe.Sizeof(offbox{})))
	spans := unsafe.Add(over, supers*int(unsafe.Sizeof(offbox{})))
	edges := unsafe.Add(spans, rings*int(unsafe.Sizeof(span{})))
	return slab{
		pts:    unsafe.Slice(first, points)[:0],
		boxes:  unsafe.Slice((*offbox)(boxes), chunks)[:0],
		supers: unsafe.Slice((*offbox)(over), supers)[:0],
		rings:  unsafe.Slice((*span)(spans), rings)[:0],
		edges:  unsafe.Slice((*uint8)(edges), chunks)[:0],
	}
}

// ownSize is how many bytes ownSlab needs.
func ownSize(points, rings int) int {
	chunks := points / chunk
	supers := (chunks + superChunk - 1) / superChunk
	return points*int(unsafe.Sizeof(offset{})) + (chunks+supers)*int(unsafe.Sizeof(offbox{})) + rings*int(unsafe.Sizeof(span{})) + chunks
}

// memoryOf returns the memory of ring, as the place of the first of the points it is to hold, and its size in bytes.
func memoryOf(ring orb.Ring) (first *offset, size int) {
	return (*offset)(unsafe.Pointer(unsafe.SliceData(ring))), len(ring) * int(unsafe.Sizeof(orb.Point{}))
}
