package lab

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// decodeText brings a text to UTF-8 and names what it was. What is not valid UTF-8 is Windows-1252, the usual of
// spreadsheets that save text; every byte means something there, so nothing is lost.
func decodeText(b []byte) (text []byte, name string) {
	if rest, ok := bytes.CutPrefix(b, []byte("\xef\xbb\xbf")); ok && utf8.Valid(rest) {
		return rest, "UTF-8"
	}
	// before UTF-8, as which text of plain letters in UTF-16 is valid too, with a zero after each
	if big, ok := isUTF16(b); ok {
		order := unicode.LittleEndian
		if big {
			order = unicode.BigEndian
		}
		if out, err := unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(b); err == nil {
			return out, "UTF-16"
		}
	}
	if utf8.Valid(b) {
		return b, "UTF-8"
	}
	out, err := charmap.Windows1252.NewDecoder().Bytes(b)
	if err != nil { // the decoder of a single-byte set does not fail
		return bytes.ToValidUTF8(b, []byte("\uFFFD")), "UTF-8 with errors"
	}
	return out, "Windows-1252"
}

// isUTF16 knows UTF-16 by its byte order mark or, failing that, by every second of its first bytes being zero.
func isUTF16(b []byte) (big, ok bool) {
	switch {
	case bytes.HasPrefix(b, []byte{0xff, 0xfe}):
		return false, true
	case bytes.HasPrefix(b, []byte{0xfe, 0xff}):
		return true, true
	// a few bytes prove nothing, and are plain text in either
	case len(b) < 8:
		return false, false
	// letters of plain ASCII in UTF-16 have a zero beside each; no text in one byte a letter does
	case b[0] == 0 && b[2] == 0 && b[4] == 0 && b[1] != 0 && b[3] != 0:
		return true, true
	case b[1] == 0 && b[3] == 0 && b[5] == 0 && b[0] != 0 && b[2] != 0:
		return false, true
	}
	return false, false
}
