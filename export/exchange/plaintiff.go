package exchange

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strings"

	"rootworthy/raster"
)

// plainNumber is what cells of plain GeoTIFFs are stored as.
type plainNumber interface{ uint8 | float32 }

// Tags and kinds of values.
// Source: TIFF Revision 6.0 (1992); OGC GeoTIFF 1.1 (19-008r4); tags 42112 and 42113 as GDAL has them.
const (
	kindText   = 2
	kindShort  = 3
	kindLong   = 4
	kindDouble = 12
)

// tag is one entry of the directory.
type tag struct {
	id, kind uint16
	count    int
	values   []byte
}

// shorts, longs and doubles are tags by the kind of their values, least byte first as the whole file is.
func shorts(id uint16, v ...uint16) tag {
	t := tag{id: id, kind: kindShort, count: len(v)}
	for _, x := range v {
		t.values = binary.LittleEndian.AppendUint16(t.values, x)
	}
	return t
}

func longs(id uint16, v ...uint32) tag {
	t := tag{id: id, kind: kindLong, count: len(v)}
	for _, x := range v {
		t.values = binary.LittleEndian.AppendUint32(t.values, x)
	}
	return t
}

func doubles(id uint16, v ...float64) tag {
	t := tag{id: id, kind: kindDouble, count: len(v)}
	for _, x := range v {
		t.values = binary.LittleEndian.AppendUint64(t.values, math.Float64bits(x))
	}
	return t
}

// letters is a text, which the format holds in ASCII.
// It ends with a zero byte, which counts. A letter beyond ASCII becomes a question mark.
func letters(id uint16, s string) tag {
	b := []byte(strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' || r > '~' {
			return '?'
		}
		return r
	}, s))
	b = append(b, 0)
	return tag{id, kindText, len(b), b}
}

// strips says how the rows of a raster lie in the file.
// sizes and places are bytes, for each strip from the north; the last strip may be shorter than the others.
type strips struct {
	line, rows int // bytes of a row; rows of a strip
	sizes      []uint32
	places     []uint32
}

// stripBytes is about how long a strip is: what readers take in one go.
const stripBytes = 1 << 16

// stripsOf cuts a raster into strips; their places in the file are filled in when it is known where the directory ends.
func stripsOf(f raster.Frame, line int) strips {
	// A row longer than a strip is a strip by itself.
	s := strips{line: line, rows: max(1, stripBytes/line)}
	n := (f.Rows + s.rows - 1) / s.rows
	s.sizes, s.places = make([]uint32, n), make([]uint32, n)
	for i := range s.sizes {
		s.sizes[i] = uint32(line * min(s.rows, f.Rows-i*s.rows))
	}
	return s
}

// plainTags are the tags in rising order.
func plainTags[T plainNumber](p picture[T], s strips, width int, about string) []tag {
	f, n := p.bands[0].Frame(), len(p.bands)
	format := uint16(1) // whole number without sign
	if width == 4 {
		format = 3 // floating point
	}
	// By number: 256 columns, 257 rows, 258 bits of a sample, 259 compression (1: none), 262 zero is black, 270 description, 273 places of
	// the strips, 277 samples of a pixel, 278 rows of a strip, 279 sizes of the strips, 284 samples of a pixel together. Readers may count
	// on rising numbers.
	tags := []tag{longs(256, uint32(f.Cols)), longs(257, uint32(f.Rows)), shorts(258, repeated(uint16(8*width), n)...), shorts(259, 1), shorts(262, 1),
		letters(270, about), longs(273, s.places...), shorts(277, uint16(n)), longs(278, uint32(s.rows)), longs(279, s.sizes...), shorts(284, 1)}
	if n > 1 {
		tags = append(tags, shorts(338, repeated(0, n-1)...)) // further bands of no special meaning
	}
	// 339 kind of number, 33550 size of a pixel, 33922 the north-west corner of the raster in degrees, 34735 the keys of the reference
	// system, 42112 names and units, 42113 the value that means missing.
	return append(tags, shorts(339, repeated(format, n)...), doubles(33550, f.DX, f.DY, 0), doubles(33922, 0, 0, 0, f.West, f.North, 0),
		// longitude and latitude, a pixel is an area, WGS 84, degrees
		shorts(34735, 1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326, 2054, 0, 1, 9102),
		letters(42112, metadataText(p)), letters(42113, fmt.Sprint(p.options.Nodata)))
}

// writePlain writes a raster in strips of whole rows, not compressed, bands side by side, row by row as it goes.
func writePlain[T plainNumber](ctx context.Context, w io.Writer, p picture[T], about string) error {
	var one T
	f, width := p.bands[0].Frame(), binary.Size(one)
	s := stripsOf(f, f.Cols*len(p.bands)*width)
	// Places in the file are 32 bits wide. Half of what they could name is more than anybody wants uncompressed.
	if int64(s.line)*int64(f.Rows) > math.MaxInt32 {
		return fmt.Errorf("the raster is larger than a plain GeoTIFF should be; use cog, or a larger cell")
	}
	at := uint32(len(directory(plainTags(p, s, width, about)))) // as long as with the right places
	for i, size := range s.sizes {
		s.places[i] = at
		at += size
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.Write(directory(plainTags(p, s, width, about))) // errors of a bufio.Writer stay, and come out at Flush
	b := make([]byte, 0, s.line)
	for row := range f.Rows {
		if row%64 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		b = b[:0]
		for col := range f.Cols {
			for _, g := range p.bands {
				v, ok := g.At(col, row)
				if !ok {
					v = p.options.Nodata
				}
				b = appendNumber(b, v)
			}
		}
		if _, err := out.Write(b); err != nil {
			return err
		}
	}
	return out.Flush()
}

// repeated is a value once for each band.
func repeated(v uint16, n int) []uint16 {
	out := make([]uint16, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// appendNumber appends a cell, least byte first.
func appendNumber[T plainNumber](b []byte, v T) []byte {
	switch v := any(v).(type) {
	case uint8:
		return append(b, v)
	case float32:
		return binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
	}
	return b
}

// directory puts header and tags together, long values behind them; the cells begin where it ends.
// Its length does not depend on the places within it, which is why it can be made once only to be measured. The first directory stands at
// byte 8, behind the header; the four zero bytes at its end say that no other follows.
func directory(tags []tag) []byte {
	le := binary.LittleEndian
	// "II" is least byte first, 42 the number of the format, and 8 the place of the first directory.
	b := append([]byte(nil), 'I', 'I', 42, 0, 8, 0, 0, 0)
	b = le.AppendUint16(b, uint16(len(tags)))
	// Each entry takes twelve bytes.
	behind := len(b) + 12*len(tags) + 4
	var long []byte
	for _, t := range tags {
		b = le.AppendUint32(le.AppendUint16(le.AppendUint16(b, t.id), t.kind), uint32(t.count))
		// Values of up to four bytes stand in the entry itself; longer ones behind the directory, each at an even place.
		if len(t.values) <= 4 {
			b = append(append(b, t.values...), make([]byte, 4-len(t.values))...)
			continue
		}
		b = le.AppendUint32(b, uint32(behind+len(long)))
		long = append(append(long, t.values...), make([]byte, len(t.values)%2)...)
	}
	return append(append(b, 0, 0, 0, 0), long...)
}

// metadataText names bands, units and classes as XML.
func metadataText[T raster.Number](p picture[T]) string {
	var b strings.Builder
	item := func(name string, sample int, role, text string) {
		var once bytes.Buffer // escaped twice, as GDAL has it
		_ = xml.EscapeText(&once, []byte(text))
		fmt.Fprintf(&b, `<Item name="%s" sample="%d"%s>`, name, sample, role)
		_ = xml.EscapeText(&b, once.Bytes())
		b.WriteString("</Item>\n")
	}
	for i := range p.bands {
		if i < len(p.options.Names) {
			item("DESCRIPTION", i, ` role="description"`, p.options.Names[i])
		}
		if i < len(p.options.Units) {
			item("UNITTYPE", i, ` role="unittype"`, p.options.Units[i])
		}
	}
	for _, l := range p.options.Legend {
		item(fmt.Sprintf("VALUE_%v", l.Value), 0, "", l.Text)
	}
	return "<GDALMetadata>\n" + b.String() + "</GDALMetadata>\n"
}
