package geopackage

import (
	"encoding/binary"
	"errors"

	"rootworthy/internal/geo/wkb"
)

// The blobs of SpatiaLite: a zero byte, the byte order, the reference system, a box of four numbers, 0x7C, then a
// geometry as in well-known binary but for two things: its parts begin with 0x69 instead of a byte order, and at the
// end stands 0xFE.
//
// Source: from memory, checked against files written by GDAL with SpatiaLite.
const (
	liteHead  = 39
	liteMark  = 0x7c
	litePart  = 0x69
	liteEnd   = 0xfe
	liteOrder = 1
)

// isSpatiaLite looks at the marks alone; what stands between them is checked in reading.
func isSpatiaLite(b []byte) bool {
	// A zero byte also begins big-endian well-known binary; the marks at both ends tell them apart.
	return len(b) > liteHead+4 && b[0] == 0 && b[liteOrder] <= 1 && b[liteHead-1] == liteMark && b[len(b)-1] == liteEnd
}

// readSpatiaLite turns a blob into well-known binary, which has the same length but for the head, and reads that.
func readSpatiaLite(b []byte) (wkb.Geometry, error) {
	order := b[liteOrder]
	// One byte less at the end and one more at the beginning. The blob is the library's and is left as it is.
	body := make([]byte, 0, len(b)-liteHead)
	body = append(body, order)
	body = append(body, b[liteHead:len(b)-1]...)
	if err := orderParts(body, order); err != nil {
		return wkb.Geometry{}, err
	}
	return wkb.Read(body)
}

// orderParts gives the parts of a collection their byte order back. Only those of polygons are walked through; a part
// of another kind ends the walk with an error.
func orderParts(b []byte, order byte) error {
	var e binary.ByteOrder = binary.BigEndian
	if order == 1 {
		e = binary.LittleEndian
	}
	const several = 4 // codes from here on hold parts
	// Thousands say which dimensions there are.
	if code := e.Uint32(b[1:]) % 1000; code < several {
		return nil
	}
	at := 9
	if len(b) < at {
		return errors.New("the geometry breaks off")
	}
	for n := e.Uint32(b[5:]); n > 0; n-- {
		if len(b)-at < 9 || b[at] != litePart {
			return errors.New("the geometry breaks off, or is of a kind that is not read")
		}
		b[at] = order
		size, err := polygonSize(b[at:], e)
		if err != nil {
			return err
		}
		at += size
	}
	return nil
}

// polygonSize returns how many bytes a polygon takes, its byte order and code included.
func polygonSize(b []byte, e binary.ByteOrder) (int, error) {
	code := e.Uint32(b[1:])
	if code%1000 != 3 || code > 3003 {
		return 0, errors.New("it holds parts that are no polygons")
	}
	// Bytes of a point: x and y, and 8 more for each of z and m.
	width := 16 + 8*map[uint32]int{0: 0, 1: 1, 2: 1, 3: 2}[code/1000]
	at := 9
	for n := e.Uint32(b[5:]); n > 0; n-- {
		if len(b)-at < 4 {
			return 0, errors.New("the geometry breaks off")
		}
		points := int(e.Uint32(b[at:]))
		if at += 4; points > (len(b)-at)/width {
			return 0, errors.New("the geometry breaks off")
		}
		at += points * width
	}
	return at, nil
}
