package export

import (
	"math"
	"strconv"
	"unicode/utf8"
)

const hexDigits = "0123456789abcdef"

// appendString appends s as a JSON string. Unlike encoding/json it leaves < > & readable; bytes that are no UTF-8
// become U+FFFD, and the two line separators that break JavaScript are escaped as that package does.
func appendString(b []byte, s string) []byte {
	b = append(b, '"')
	for _, r := range s { // ranging turns bad bytes into utf8.RuneError
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r == '\n':
			b = append(b, '\\', 'n')
		case r == '\r':
			b = append(b, '\\', 'r')
		case r == '\t':
			b = append(b, '\\', 't')
		// Below 0x20 RFC 8259 asks for it; DEL is legal and hurts terminals.
		case r < 0x20 || r == 0x7f:
			b = append(b, '\\', 'u', '0', '0', hexDigits[r>>4], hexDigits[r&15])
		case r == '\u2028' || r == '\u2029':
			b = append(b, '\\', 'u', '2', '0', '2', hexDigits[r&15])
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return append(b, '"')
}

// appendObject appends names and values as a JSON object.
func appendObject(b []byte, columns []Column, values []Value) []byte {
	b = append(b, '{')
	for i, c := range columns {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(appendString(b, c.Name), ':')
		b = values[i].json(b)
	}
	return append(b, '}')
}

// appendPosition appends a coordinate pair.
func appendPosition(b []byte, p [2]float64) []byte {
	b = appendCoordinate(append(b, '['), p[0])
	b = appendCoordinate(append(b, ','), p[1])
	return append(b, ']')
}

// appendCoordinate appends degrees with up to seven decimals, no exponent and no trailing zeros. For a coordinate that
// is rounded already this is what strconv prints as its shortest form, at a third of the time.
func appendCoordinate(b []byte, degrees float64) []byte {
	// Whole steps of 1e-7 degree: 1.8e9 at most, far within an int64 and exact in a float64.
	n := int64(math.Round(degrees * coordScale))
	// The sign first, since division of negative whole numbers cuts towards zero.
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, n/coordScale, 10)
	rest := n % coordScale
	if rest == 0 {
		return b
	}
	b = append(b, '.')
	for scale := int64(coordScale / 10); rest > 0; scale /= 10 {
		b = append(b, byte('0'+rest/scale))
		rest %= scale
	}
	return b
}
