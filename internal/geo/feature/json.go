package feature

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
)

// JSON returns a value as JSON: nil, string, bool, int64, uint64 and float64. A number that JSON cannot hold (NaN, an
// infinity) and a value of any other type are null. Text that is no UTF-8 has its bad bytes replaced by U+FFFD.
func JSON(v any) json.RawMessage {
	switch v := v.(type) {
	case string:
		return quote(v)
	case bool:
		return json.RawMessage(strconv.FormatBool(v))
	case int64:
		return json.RawMessage(strconv.FormatInt(v, 10))
	case uint64:
		return json.RawMessage(strconv.FormatUint(v, 10))
	case float64:
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			return number(v)
		}
	}
	return json.RawMessage("null")
}

// number writes the shortest digits that read back the same, in exponent form only where plain digits would be long.
func number(v float64) json.RawMessage {
	// 21 digits is where JavaScript changes to exponents too.
	format := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-9 || a >= 1e21) {
		format = 'e'
	}
	return strconv.AppendFloat(nil, v, format, -1, 64)
}

func quote(s string) json.RawMessage {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	// Texts go into files and tables, where \u003c for < would stay as it is.
	enc.SetEscapeHTML(false)
	if err := enc.Encode(strings.ToValidUTF8(s, "\ufffd")); err != nil { // cannot happen for a string
		return json.RawMessage("null")
	}
	return bytes.TrimRight(buf.Bytes(), "\n")
}
