package geotiff

import (
	"encoding/binary"
	"math"
	"strconv"
)

// Sample is how one value is stored.
type Sample struct {
	Kind SampleKind
	Bits int // 1…64
}

// SampleKind is what the bits of a value mean. The numbers are those of tag 339.
type SampleKind uint8

// The kinds; the zero value is no kind.
const (
	Unsigned SampleKind = 1
	Signed   SampleKind = 2
	Float    SampleKind = 3
)

// String returns a name such as "uint8" or "float32".
func (s Sample) String() string {
	return [...]string{"no kind ", "uint", "int", "float"}[min(s.Kind, 3)] + strconv.Itoa(s.Bits)
}

// known tells whether values can be decoded.
func (s Sample) known() bool {
	switch s.Kind {
	case Unsigned:
		// odd widths are packed bits, as land-cover classes of 4 and masks of 1 come
		return s.Bits >= 1 && s.Bits < 32 || s.Bits == 32 || s.Bits == 64
	case Signed:
		return s.Bits == 8 || s.Bits == 16 || s.Bits == 32 || s.Bits == 64
	case Float:
		return s.Bits == 16 || s.Bits == 32 || s.Bits == 64
	}
	return false
}

// integers decodes values of a row, the first at index from and then every step-th, into dst; uint64 keeps its bits.
// The row is in little-endian order.
func (s Sample) integers(dst []int64, row []byte, from, step int) {
	le := binary.LittleEndian
	size := s.Bits / 8
	at, by := from*size, step*size
	switch s {
	case Sample{Unsigned, 8}:
		for i := range dst {
			dst[i] = int64(row[at+i*by])
		}
	case Sample{Signed, 8}:
		for i := range dst {
			dst[i] = int64(int8(row[at+i*by]))
		}
	case Sample{Unsigned, 16}:
		for i := range dst {
			dst[i] = int64(le.Uint16(row[at+i*by:]))
		}
	case Sample{Signed, 16}:
		for i := range dst {
			dst[i] = int64(int16(le.Uint16(row[at+i*by:])))
		}
	case Sample{Unsigned, 32}:
		for i := range dst {
			dst[i] = int64(le.Uint32(row[at+i*by:]))
		}
	case Sample{Signed, 32}:
		for i := range dst {
			dst[i] = int64(int32(le.Uint32(row[at+i*by:])))
		}
	// the same bits; what they mean is settled where the cell is taken
	case Sample{Unsigned, 64}, Sample{Signed, 64}:
		for i := range dst {
			dst[i] = int64(le.Uint64(row[at+i*by:]))
		}
	default:
		for i := range dst {
			dst[i] = packed(row, (from+i*step)*s.Bits, s.Bits)
		}
	}
}

// packed takes a value out of bits that run on from byte to byte, the highest first.
func packed(row []byte, at, bits int) int64 {
	// bit by bit: packed rasters are masks and classes, small enough not to matter
	v := int64(0)
	for i := at; i < at+bits; i++ {
		v = v<<1 | int64(row[i/8]>>(7-i%8)&1)
	}
	return v
}

// floats decodes values of a row as integers does.
func (s Sample) floats(dst []float64, row []byte, from, step int) {
	le := binary.LittleEndian
	size := s.Bits / 8
	at, by := from*size, step*size
	switch s.Bits {
	case 16:
		for i := range dst {
			dst[i] = half(le.Uint16(row[at+i*by:]))
		}
	case 32:
		for i := range dst {
			dst[i] = float64(math.Float32frombits(le.Uint32(row[at+i*by:])))
		}
	default:
		for i := range dst {
			dst[i] = math.Float64frombits(le.Uint64(row[at+i*by:]))
		}
	}
}

// half widens an IEEE 754 binary16: 1 bit sign, 5 bits exponent, 10 bits fraction.
func half(h uint16) float64 {
	sign, exp, frac := 1.0, int(h>>10&31), float64(h&1023)
	if h>>15 == 1 {
		sign = -1
	}
	switch {
	case exp == 31 && frac == 0:
		return math.Inf(int(sign))
	case exp == 31:
		return math.NaN()
	// subnormal, or zero
	case exp == 0:
		return sign * math.Ldexp(frac, -24)
	}
	// 1 + frac/1024 at the exponent exp-15, brought to whole numbers.
	return sign * math.Ldexp(1024+frac, exp-25)
}

// toLittle turns a row of whole-byte values that came in big-endian order.
func (s Sample) toLittle(row []byte) {
	switch s.Bits {
	case 16:
		for i := 0; i+2 <= len(row); i += 2 {
			row[i], row[i+1] = row[i+1], row[i]
		}
	case 32:
		for i := 0; i+4 <= len(row); i += 4 {
			binary.LittleEndian.PutUint32(row[i:], binary.BigEndian.Uint32(row[i:]))
		}
	case 64:
		for i := 0; i+8 <= len(row); i += 8 {
			binary.LittleEndian.PutUint64(row[i:], binary.BigEndian.Uint64(row[i:]))
		}
	// three bytes, which no standard call turns
	case 24:
		for i := 0; i+3 <= len(row); i += 3 {
			row[i], row[i+2] = row[i+2], row[i]
		}
	}
}
