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

// pages are the code pages that a .cpg may name, by number. No standard lists the spellings: writers put a number alone, or
// one of the words of pageWords before it (from memory, not checked); marks between them differ.
var pages = map[string]*charmap.Charmap{
	"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852, "855": charmap.CodePage855, "858": charmap.CodePage858,
	"860": charmap.CodePage860, "862": charmap.CodePage862, "863": charmap.CodePage863, "865": charmap.CodePage865, "866": charmap.CodePage866,
	"1250": charmap.Windows1250, "1251": charmap.Windows1251, "1252": charmap.Windows1252, "1253": charmap.Windows1253, "1254": charmap.Windows1254,
	"1255": charmap.Windows1255, "1256": charmap.Windows1256, "1257": charmap.Windows1257, "1258": charmap.Windows1258,
	"88591": charmap.ISO8859_1, "88592": charmap.ISO8859_2, "88593": charmap.ISO8859_3, "88594": charmap.ISO8859_4, "88595": charmap.ISO8859_5,
	"88596": charmap.ISO8859_6, "88597": charmap.ISO8859_7, "88598": charmap.ISO8859_8, "88599": charmap.ISO8859_9, "885910": charmap.ISO8859_10,
	"885913": charmap.ISO8859_13, "885914": charmap.ISO8859_14, "885915": charmap.ISO8859_15, "885916": charmap.ISO8859_16,
	"latin1": charmap.ISO8859_1, "ansi": charmap.Windows1252, "macroman": charmap.Macintosh, "macintosh": charmap.Macintosh, "10000": charmap.Macintosh,
}

// pageWords may stand before the number of a code page.
var pageWords = []string{"windows", "cp", "ansi", "oem", "iso", "ibm", "ms"}

// chooseCharset takes the .cpg if it says something known, else the language byte. With neither, text that is valid
// UTF-8 is read as such and the rest as Windows-1252. unknown is what a .cpg says that names no code page we have; an
// empty .cpg says as little as none.
//
// The .cpg comes first because whoever writes one means it, while the language byte is often left as the writing
// program found it.
func chooseCharset(cpg string, language byte) (c charset, unknown string) {
	said := strings.TrimSpace(strings.TrimPrefix(cpg, "\ufeff"))
	c, known := namedCharset(said)
	if known {
		return c, ""
	}
	if t, ok := languages[language]; ok {
		return charset{fmt.Sprintf("%s (language byte 0x%02X)", t, language), t}, said
	}
	return charset{"UTF-8 or Windows 1252 (guessed)", nil}, said
}

// namedCharset looks up what a .cpg says.
func namedCharset(said string) (c charset, ok bool) {
	name := strings.ToLower(said)
	plain := strings.NewReplacer("-", "", "_", "", " ", "", ".", "").Replace(name)
	if plain == "utf8" || plain == "65001" {
		return charset{"UTF-8 (.cpg)", nil}, true
	}
	t, ok := pages[plain]
	// "ansi 1252" and "1252" are one; the first word that leads to a page counts.
	for _, word := range pageWords {
		if !ok {
			t, ok = pages[strings.TrimPrefix(plain, word)]
		}
	}
	if !ok {
		return c, false
	}
	return charset{t.String() + " (.cpg)", t}, true
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
		// Only where something beyond ASCII is left: a lone half letter is more likely a whole one of another code page.
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

// ascii says whether every encoding reads the text alike.
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
	// A letter has four bytes at most, so an unfinished one three.
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
