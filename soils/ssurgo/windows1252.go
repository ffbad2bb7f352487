package ssurgo

import "strings"

// high1252 holds the characters of bytes 0x80 to 0x9F; the rest of Windows-1252 equals the first 256 of Unicode.
// The five bytes without a character stand for the control of the same number.
// Source: WHATWG Encoding Standard, index windows-1252, from memory; checked against the codec cp1252 of Python 3.
var high1252 = [32]rune{
	'€', 0x81, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', 0x8d, 'Ž', 0x8f,
	0x90, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', 0x9d, 'ž', 'Ÿ',
}

// fromWindows1252 reads bytes as Windows-1252.
func fromWindows1252(s string) string {
	var b strings.Builder
	for _, c := range []byte(s) {
		// the only stretch where bytes and characters have different numbers
		if c >= 0x80 && c <= 0x9f {
			b.WriteRune(high1252[c-0x80])
		} else {
			b.WriteRune(rune(c))
		}
	}
	return b.String()
}
