package geopackage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/wkb"
)

// readBlob reads a geometry as databases store it: the standard's own form, that of SpatiaLite, or bare well-known
// binary.
func readBlob(b []byte) (wkb.Geometry, error) {
	switch {
	case len(b) >= 2 && b[0] == 'G' && b[1] == 'P':
		return readStandard(b)
	case isSpatiaLite(b):
		return readSpatiaLite(b)
	}
	// Bare well-known binary begins with 0 or 1 and cannot be taken for either of the others; a blob of neither kind is
	// refused there.
	return wkb.Read(b)
}

// Flags in byte 3 of the standard's blobs.
//
// Source: OGC 12-128r17, clause 2.1.3, table 6 (bit layout of GeoPackageBinary flags byte).
const (
	flagLittle   = 0x01
	flagEnvelope = 0x0e
	flagEmpty    = 0x10
	flagExtended = 0x20
)

// readStandard reads a blob that begins with "GP": version, flags, reference system, an envelope or none, well-known
// binary.
func readStandard(b []byte) (wkb.Geometry, error) {
	const head = 8
	if len(b) < head {
		return wkb.Geometry{}, errors.New("the geometry breaks off in its header")
	}
	flags := b[3]
	if flags&flagExtended != 0 {
		return wkb.Geometry{}, errors.New("it is of an extended geometry type, which only the program that made it reads; store it as a MultiPolygon")
	}
	if b[2] != 0 {
		return wkb.Geometry{}, fmt.Errorf("its geometry is of version %d, where 0 is known", b[2])
	}
	// Bytes of the envelope by its kind: none, x and y, with z, with m, with both; two doubles an axis.
	envelope := [...]int{0, 32, 48, 48, 64}
	kind := int(flags&flagEnvelope) >> 1
	if kind >= len(envelope) {
		return wkb.Geometry{}, fmt.Errorf("its geometry has an envelope of kind %d, where 0 to 4 are known", kind)
	}
	// The envelope is passed over: a wrong one must not move the ground.
	at := head + envelope[kind]
	if len(b) < at {
		return wkb.Geometry{}, errors.New("the geometry breaks off in its envelope")
	}
	if flags&flagEmpty != 0 {
		return wkb.Geometry{}, nil // an empty point is stored as NaN: nothing to see
	}
	return wkb.Read(b[at:])
}

// blobHead is the length of what appendBlobHead appends.
const blobHead = 8 + 4*8

// appendBlobHead appends the head of a blob in system srs: little-endian, with the envelope in the order min x, max x,
// min y, max y.
func appendBlobHead(b []byte, srs int32, box orb.Bound) []byte {
	const kindXY = 1 << 1
	b = append(b, 'G', 'P', 0, flagLittle|kindXY)
	b = binary.LittleEndian.AppendUint32(b, uint32(srs))
	for _, v := range [...]float64{box.Min[0], box.Max[0], box.Min[1], box.Max[1]} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}
