package shapefile

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// charset decodes the text of a .dbf.
type charset struct {
	origin string           // what was chosen and why, for reports
	table  *charmap.Charmap // of single bytes; nil when the text is UTF-8
}

// languages are the values of the language byte of a .dbf that name one code page each.
// Source: dBASE and FoxPro language identifiers, from memory, not checked; 0x57 is what the soil survey's files
// carry. Others count as unknown.
var languages = map[byte]*charmap.Charmap{
	0x01: charmap.CodePage437, 0x1B: charmap.CodePage437, 0x02: charmap.CodePage850, 0x1D: charmap.CodePage850,
	0x03: charmap.Windows1252, 0x57: charmap.Windows1252, 0x58: charmap.Windows1252, 0x59: charmap.Windows1252,
	0x64: charmap.CodePage852, 0x65: charmap.CodePage866, 0xC8: charmap.Windows1250, 0xC9: charmap.Windows1251,
	0xCA: charmap.Windows1254, 0xCB: charmap.Windows1253,
}

// pages are the names a .cpg may give, capitals and marks dropped.
var pages = map[string]*charmap.Charmap{
	"1252": charmap.Windows1252, "windows1252": charmap.Windows1252, "cp1252": charmap.Windows1252, "ansi1252": charmap.Windows1252,
	"88591": charmap.ISO8859_1, "iso88591": charmap.ISO8859_1, "latin1": charmap.ISO8859_1, "885915": charmap.ISO8859_15,
	"iso885915": charmap.ISO8859_15, "1250": charmap.Windows1250, "windows1250": charmap.Windows1250, "cp1250": charmap.Windows1250,
	"437": charmap.CodePage437, "oem437": charmap.CodePage437, "cp437": charmap.CodePage437, "850": charmap.CodePage850,
	"oem850": charmap.CodePage850, "cp850": charmap.CodePage850, "ansi": charmap.Windows1252,
}

// chooseCharset takes the .cpg if it says something known, else the language byte. With neither, text that is valid
// UTF-8 is read as such and the rest as Windows-1252.
func chooseCharset(cpg string, language byte) charset {
	name := strings.ToLower(strings.TrimSpace(strings.TrimPrefix(cpg, "\ufeff")))
	plain := strings.NewReplacer("-", "", "_", "", " ", "", ".", "").Replace(name)
	if plain == "utf8" || plain == "65001" {
		return charset{"UTF-8 (.cpg)", nil}
	}
	if t, ok := pages[plain]; ok {
		return charset{t.String() + " (.cpg)", t}
	}
	if t, ok := languages[language]; ok {
		return charset{fmt.Sprintf("%s (language byte 0x%02X)", t, language), t}
	}
	return charset{"UTF-8 or Windows 1252 (guessed)", nil}
}

// decode returns b as UTF-8. Bytes that are no UTF-8 where that was expected count as Windows-1252, except a letter
// cut in two at the end, which other writers leave behind in a full column: it is dropped.
func (c charset) decode(b []byte) string {
	if ascii(b) {
		return string(b)
	}
	if c.table == nil {
		if utf8.Valid(b) {
			return string(b)
		}
		if cut := wholeLetters(b); cut > 0 && utf8.Valid(b[:cut]) && !ascii(b[:cut]) {
			return string(b[:cut])
		}
		c.table = charmap.Windows1252
	}
	s, err := c.table.NewDecoder().Bytes(b)
	if err != nil {
		return strings.ToValidUTF8(string(b), "\ufffd")
	}
	return string(s)
}

func ascii(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// wholeLetters returns the length of b without an unfinished UTF-8 letter at its end.
func wholeLetters(b []byte) int {
	for back := 1; back < utf8.UTFMax && back <= len(b); back++ {
		at := len(b) - back
		if utf8.RuneStart(b[at]) {
			if !utf8.FullRune(b[at:]) {
				return at
			}
			return len(b)
		}
	}
	return len(b)
}
