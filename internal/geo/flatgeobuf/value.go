package flatgeobuf

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// properties reads the attributes: a value for each column, null where the feature has none.
func (l *Layer) properties(out *feature.Feature, cols []Column, t table, at int64) {
	// Every column has its place, so that all features of a layer have the same properties in the same order.
	out.Properties = make([]feature.Property, len(cols))
	for i, c := range cols {
		out.Properties[i] = feature.Property{Name: c.Name, Value: feature.JSON(nil)}
	}
	b, _ := t.vector(featureProperties, 1)
	for len(b) > 0 {
		if len(b) < 2 {
			l.tell(out, at, diag.Wrong, "attributes", "its attributes break off", "export the file again")
			return
		}
		// Each value stands behind the number of its column, and missing ones are left out. Without its type the length of a
		// value is not known, so nothing behind a bad one can be read.
		i := int(binary.LittleEndian.Uint16(b))
		if i >= len(cols) {
			l.tell(out, at, diag.Wrong, "attributes", fmt.Sprintf("it has a value for column %d of %d; its attributes from there on are lost", i+1, len(cols)), "export the file again")
			return
		}
		value, rest, ok := cols[i].kind.take(b[2:])
		if !ok {
			l.tell(out, at, diag.Wrong, "attributes", fmt.Sprintf("its value for %s cannot be read; its attributes from there on are lost", feature.Shorten(cols[i].Name)), "export the file again")
			return
		}
		if cols[i].kind == typeBinary {
			l.tell(out, at, diag.Notice, "binary value", fmt.Sprintf("its value for %s is binary and is left out", feature.Shorten(cols[i].Name)), "")
		}
		out.Properties[i].Value, b = value, rest
	}
}

// take reads one value as JSON.
func (t columnType) take(b []byte) (value json.RawMessage, rest []byte, ok bool) {
	size := t.size()
	if size == 0 {
		if len(b) < 4 {
			return nil, nil, false
		}
		size = int(binary.LittleEndian.Uint32(b))
		b = b[4:]
	}
	if size < 0 || size > len(b) {
		return nil, nil, false
	}
	// The value is as long as its type, which json relies on.
	return t.json(b[:size]), b[size:], true
}

// json returns a value of its type's size.
func (t columnType) json(b []byte) json.RawMessage {
	e := binary.LittleEndian
	switch t {
	case typeByte:
		return feature.JSON(int64(int8(b[0])))
	case typeUByte:
		return feature.JSON(int64(b[0]))
	case typeBool:
		return feature.JSON(b[0] != 0)
	case typeShort:
		return feature.JSON(int64(int16(e.Uint16(b))))
	case typeUShort:
		return feature.JSON(int64(e.Uint16(b)))
	case typeInt:
		return feature.JSON(int64(int32(e.Uint32(b))))
	case typeUInt:
		return feature.JSON(int64(e.Uint32(b)))
	case typeLong:
		return feature.JSON(int64(e.Uint64(b)))
	// Unsigned, as the largest do not fit an int64.
	case typeULong:
		return feature.JSON(e.Uint64(b))
	case typeFloat:
		return single(math.Float32frombits(e.Uint32(b)))
	case typeDouble:
		return feature.JSON(math.Float64frombits(e.Uint64(b)))
	case typeBinary:
		return feature.JSON(nil)
	// Checked and packed; what is no JSON in a column of JSON stays a text.
	case typeJSON:
		var out bytes.Buffer
		if json.Compact(&out, bytes.ToValidUTF8(b, []byte("\ufffd"))) == nil {
			return out.Bytes()
		}
	}
	return feature.JSON(string(b))
}

// single returns a number of single precision with its own digits: 0.1, not 0.10000000149.
func single(v float32) json.RawMessage {
	if f := float64(v); math.IsNaN(f) || math.IsInf(f, 0) {
		return feature.JSON(nil)
	}
	double, err := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'g', -1, 32), 64)
	if err != nil { // cannot happen for what was just written
		double = float64(v)
	}
	return feature.JSON(double)
}
