package wkb

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
)

// Append appends the shape as a little-endian MultiPolygon of x and y, rings as they are.
func Append(b []byte, shape orb.MultiPolygon) []byte {
	b = appendHead(b, multiPolygon, len(shape))
	for _, part := range shape {
		b = appendHead(b, polygon, len(part))
		for _, ring := range part {
			b = binary.LittleEndian.AppendUint32(b, uint32(len(ring)))
			for _, p := range ring {
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
				b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
			}
		}
	}
	return b
}

// Size returns how many bytes Append appends.
func Size(shape orb.MultiPolygon) int {
	n := 9
	for _, part := range shape {
		// Byte order, code and count.
		n += 9
		for _, ring := range part {
			n += 4 + 16*len(ring)
		}
	}
	return n
}

func appendHead(b []byte, k kind, n int) []byte {
	b = append(b, 1)
	b = binary.LittleEndian.AppendUint32(b, uint32(k))
	return binary.LittleEndian.AppendUint32(b, uint32(n))
}

// AppendPoint appends a little-endian Point.
func AppendPoint(b []byte, p orb.Point) []byte {
	b = append(b, 1)
	b = binary.LittleEndian.AppendUint32(b, uint32(point))
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
}
