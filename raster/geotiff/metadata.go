package geotiff

import (
	"encoding/xml"
	"html"
	"math"
	"strconv"
	"strings"
)

// Band is what a file says of one band.
type Band struct {
	Name          string // as described; may be empty
	Unit          string // as written, such as "m" or "ft"; empty when the file does not say
	Type          Sample
	Scale, Offset float64 // value = stored × Scale + Offset; 1 and 0 when the file does not say
	Nodata        string  // the stored value that means missing, as written; empty when there is none
}

// scaled tells whether stored numbers differ from values.
func (b Band) scaled() bool { return b.Scale != 1 || b.Offset != 0 }

// metadata is the XML of tag 42112.
type metadata struct {
	Items []struct {
		Name   string `xml:"name,attr"`
		Sample string `xml:"sample,attr"`
		Role   string `xml:"role,attr"`
		Text   string `xml:",chardata"`
	} `xml:"Item"`
}

// describe reads names, units, scales and offsets of the bands into them. Text that is no XML says nothing: wrong is then
// true.
func describe(bands []Band, text string) (wrong bool) {
	if strings.TrimSpace(text) == "" {
		return false
	}
	var m metadata
	if err := xml.Unmarshal([]byte(text), &m); err != nil {
		return true
	}
	for _, it := range m.Items {
		i, err := strconv.Atoi(it.Sample)
		// items about the file as a whole have no band
		if err != nil || i < 0 || i >= len(bands) {
			continue
		}
		b, v := &bands[i], strings.TrimSpace(html.UnescapeString(it.Text)) // GDAL escapes text twice
		number, err := strconv.ParseFloat(v, 64)
		// A finite number: the difference is NaN for infinities and NaN.
		good := err == nil && number-number == 0
		switch {
		case it.Role == "description" || it.Role == "" && it.Name == "DESCRIPTION":
			b.Name = v
		case it.Role == "unittype":
			b.Unit = v
		// a scale of 0 would make every cell the offset
		case it.Role == "scale" && good && number != 0:
			b.Scale = number
		case it.Role == "offset" && good:
			b.Offset = number
		// there, and no number: values read without it would be wrong by a factor
		case it.Role == "scale" || it.Role == "offset":
			wrong = true
		}
	}
	return wrong
}

// nodata is the stored value that means missing.
type nodata struct {
	float    float64
	isFloat  bool
	integer  int64 // the bits of it
	isWhole  bool
	nearness float64 // how far from float a value still means missing
}

// parseNodata reads the text of tag 42113 for values of a type. One that no value of the type can be never meets.
func parseNodata(text string, s Sample) (n nodata, ok bool) {
	text = strings.Trim(text, " \t\r\n\x00")
	if text == "" {
		return n, true
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !math.IsInf(v, 0) {
		return n, false
	}
	// A value of infinity or NaN may be named, and never matters: such cells are missing anyway.
	if s.Kind == Float {
		n.float, n.isFloat = v, true
		if s.Bits == 32 {
			// Cells come as four bytes widened to eight; the text has to make the same way to be equal.
			n.float = float64(float32(v))
		}
		// The lowest float32 is often written with six digits only; no measured value is near it.
		if math.Abs(v) > 1e30 && !math.IsInf(v, 0) {
			n.float, n.nearness = v, 1e-5*math.Abs(v)
		}
		return n, true
	}
	// as an integer first: keys of 64 bits lose digits in a float
	if i, err := strconv.ParseInt(text, 10, 64); err == nil {
		// isWhole stays false for a value such as -9999 in a band of bytes: no cell can have it.
		n.integer, n.isWhole = i, s.holds(i)
		return n, true
	}
	if u, err := strconv.ParseUint(text, 10, 64); err == nil {
		n.integer, n.isWhole = int64(u), s == Sample{Unsigned, 64}
		return n, true
	}
	if v == math.Trunc(v) && v >= -1<<63 && v < 1<<63 { // "0.0", "-9.999e3"
		n.integer, n.isWhole = int64(v), s.holds(int64(v))
	}
	return n, true
}

// holds tells whether an integer can be stored.
func (s Sample) holds(i int64) bool {
	if s.Kind == Unsigned {
		return i >= 0 && (s.Bits >= 63 || i < 1<<s.Bits)
	}
	return s.Bits == 64 || i >= -1<<(s.Bits-1) && i < 1<<(s.Bits-1)
}
