package shapefile

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
)

// Text returns the value of column i as text: blanks and zero bytes at its end are dropped, numbers and dates are
// as stored. It is empty when the value is missing or i is not a column (as -1 from [Layer.Column]).
func (r *Record) Text(i int) string { return r.layer.text.decode(r.Bytes(i)) }

// Bytes is [Record.Text] before decoding, without an allocation: enough for keys in plain ASCII.
func (r *Record) Bytes(i int) []byte {
	if r.row == nil || i < 0 || i >= len(r.layer.Columns) || !r.layer.Columns[i].readable() {
		return nil
	}
	c := &r.layer.Columns[i]
	b := r.row[c.offset : c.offset+c.Width]
	// Programs that keep texts with a zero at their end write what memory held behind it.
	if z := bytes.IndexByte(b, 0); z >= 0 {
		b = b[:z]
	}
	// Blanks before a text may be meant (outlines, codes); those before a number are its padding.
	if c.Type == 'C' {
		return bytes.TrimRight(b, " ")
	}
	return bytes.TrimSpace(b)
}

// Number returns the number in column i; ok is false when the cell is blank, full of asterisks (a number that did
// not fit), or no finite number.
func (r *Record) Number(i int) (v float64, ok bool) {
	s, ok := plainNumber(string(r.Bytes(i)))
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// Layer returns the layer the record is of.
func (r *Record) Layer() *Layer { return r.layer }

// JSON returns the value of column i as JSON: a string for text, a number with the digits as stored, "YYYY-MM-DD"
// for a date, true or false, and null when the cell holds no such thing.
func (r *Record) JSON(i int) json.RawMessage {
	b := r.Bytes(i)
	if len(b) == 0 {
		return json.RawMessage("null")
	}
	switch r.layer.Columns[i].Type {
	// as text, so that 12345678901234567890 and 0.10 come out as they stand and not as a float would print them
	case 'N', 'F':
		if s, ok := plainNumber(string(b)); ok {
			return json.RawMessage(s)
		}
	// "?" and a blank mean that nobody has said.
	case 'L':
		switch b[0] {
		case 'T', 't', 'Y', 'y':
			return json.RawMessage("true")
		case 'F', 'f', 'N', 'n':
			return json.RawMessage("false")
		}
	case 'D':
		// Some writers fill a date that is missing with zeros.
		if s := string(b); len(s) == 8 && strings.Trim(s, "0123456789") == "" && s != "00000000" {
			return quote(s[:4] + "-" + s[4:6] + "-" + s[6:])
		}
	default:
		return quote(r.layer.text.decode(b))
	}
	return json.RawMessage("null")
}

// quote writes JSON text without turning <, > and & into escapes, which attributes are full of.
func quote(s string) json.RawMessage {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil { // cannot happen for a string
		return json.RawMessage("null")
	}
	return bytes.TrimRight(buf.Bytes(), "\n")
}

// plainNumber brings a stored number into the form JSON asks for, without changing its digits: no plus sign, no
// leading zeros, a digit on both sides of the point.
func plainNumber(s string) (string, bool) {
	sign := ""
	switch {
	case strings.HasPrefix(s, "-"):
		sign, s = "-", s[1:]
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	}
	// The mantissa is mended by hand and the exponent left alone: a parse and a print would change digits.
	mantissa, exponent := s, ""
	if e := strings.IndexAny(s, "eE"); e >= 0 {
		mantissa, exponent = s[:e], s[e:]
	}
	whole, part, _ := strings.Cut(mantissa, ".")
	if whole+part == "" || !digits(whole) || !digits(part) {
		return "", false
	}
	if exponent != "" && (!digits(strings.TrimLeft(exponent[1:], "+-")) || strings.TrimLeft(exponent[1:], "+-") == "") {
		return "", false
	}
	out := sign + strings.TrimLeft(whole, "0")
	if strings.TrimLeft(whole, "0") == "" {
		out += "0"
	}
	if part != "" {
		out += "." + part
	}
	if !json.Valid([]byte(out + exponent)) {
		return "", false
	}
	return out + exponent, true
}

func digits(s string) bool { return strings.Trim(s, "0123456789") == "" }
