package geojson

import (
	"unicode/utf16"
	"unicode/utf8"
)

// escape takes what follows a backslash in a string.
func (x *lexer) escape() error {
	c, err := x.next()
	if err != nil {
		return err
	}
	// The raw text keeps the escape as it is; only text has the letter.
	x.put('\\', c)
	switch c {
	case '"', '\\', '/':
		x.text = append(x.text, c)
	case 'b':
		x.text = append(x.text, '\b')
	case 'f':
		x.text = append(x.text, '\f')
	case 'n':
		x.text = append(x.text, '\n')
	case 'r':
		x.text = append(x.text, '\r')
	case 't':
		x.text = append(x.text, '\t')
	case 'u':
		return x.unicode()
	default:
		return x.errorf("%s stands behind a backslash in a text", show(c))
	}
	return nil
}

// unicode takes the four digits of \uXXXX, and a second such escape when the first is half a letter.
func (x *lexer) unicode() error {
	r, err := x.hex4()
	if err != nil {
		return err
	}
	// Letters beyond U+FFFF are written as two escapes (RFC 8259, section 7); half of such a pair alone is no letter.
	if utf16.IsSurrogate(r) {
		// Looked at without taking: what follows may be no escape.
		if b, _ := x.ahead(2); len(b) >= 2 && b[0] == '\\' && b[1] == 'u' {
			x.at += 2
			x.put('\\', 'u')
			second, err := x.hex4()
			if err != nil {
				return err
			}
			if both := utf16.DecodeRune(r, second); both != utf8.RuneError {
				x.text = utf8.AppendRune(x.text, both)
				return nil
			}
			x.text = utf8.AppendRune(x.text, utf8.RuneError)
			// The second may be a letter of its own; only the first was half a one.
			r = second
		}
	}
	x.text = utf8.AppendRune(x.text, r) // half a letter becomes U+FFFD
	return nil
}

// hex4 takes four hexadecimal digits, large or small.
func (x *lexer) hex4() (rune, error) {
	var r rune
	for range 4 {
		c, err := x.next()
		if err != nil {
			return 0, err
		}
		x.put(c)
		switch {
		case c >= '0' && c <= '9':
			r = r<<4 | rune(c-'0')
		// Setting the bit 0x20 makes small letters of capitals.
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			r = r<<4 | rune(c|0x20-'a'+10)
		default:
			return 0, x.errorf("%s is no digit of a \\u escape", show(c))
		}
	}
	return r, nil
}
