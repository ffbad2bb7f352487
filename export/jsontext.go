package export

import (
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

// appendPosition appends a coordinate pair, rounded already, without exponent.
func appendPosition(b []byte, p [2]float64) []byte {
	b = append(b, '[')
	b = strconv.AppendFloat(b, p[0], 'f', -1, 64)
	b = append(b, ',')
	b = strconv.AppendFloat(b, p[1], 'f', -1, 64)
	return append(b, ']')
}
