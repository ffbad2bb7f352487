package geojson

import (
	"errors"
	"fmt"
	"io"
	"unicode/utf8"
)

// Bounds on one file: nesting of values, and bytes of one text or one property's value. Real boundary files nest 8
// deep; both are far above what any field needs and far below what harms.
const (
	maxDepth = 500
	maxToken = 4 << 20
)

// syntaxError is damage that ends the reading of a file.
type syntaxError struct {
	line int
	what string
}

func (e *syntaxError) Error() string { return e.what }

// lexer reads JSON byte by byte and knows its line.
// It is lenient where a slip leaves no doubt of what was meant (NaN, text that is no UTF-8), and notes that; everything
// else that is no JSON ends the reading with its line.
type lexer struct {
	in    io.Reader
	buf   []byte // read ahead
	at    int    // place in buf
	line  int    // of the byte read last, from 1
	text  []byte // of the last string (decoded) or number (as it stands)
	raw   []byte // while keep: the values read, without white space
	keep  bool
	nans  []nan // numbers that are none, since the caller last looked
	dirty bool  // a text was no UTF-8, since the caller last looked
}

// nan is a word like NaN where a number should stand.
type nan struct {
	line int
	word string
}

// readAhead is how much is read at a time, in bytes.
const readAhead = 1 << 16

func newLexer(r io.Reader) *lexer { return &lexer{in: r, buf: make([]byte, 0, readAhead), line: 1} }

// ahead returns at least n bytes to come without taking them, or all that are left: then with the error that ended
// the file.
func (x *lexer) ahead(n int) ([]byte, error) {
	if len(x.buf)-x.at < n {
		// What is left moves to the front, so that the buffer never grows.
		x.buf = x.buf[:copy(x.buf, x.buf[x.at:])]
		x.at = 0
	}
	// A reader may return nothing and no error; a hundred times in a row is one that never will.
	for idle := 0; len(x.buf)-x.at < n; idle++ {
		got, err := x.in.Read(x.buf[len(x.buf):cap(x.buf)])
		x.buf = x.buf[:len(x.buf)+got]
		// An error that comes with enough bytes is left for the next call, when it comes again.
		if err != nil && len(x.buf)-x.at < n {
			return x.buf[x.at:], err
		}
		if got > 0 {
			idle = 0
		} else if idle > 100 {
			return x.buf[x.at:], io.ErrNoProgress
		}
	}
	return x.buf[x.at:], nil
}

// errorf makes damage on the line reached.
func (x *lexer) errorf(format string, args ...any) error {
	return &syntaxError{x.line, fmt.Sprintf(format, args...)}
}

// next reads a byte. The end of the file inside a value is damage.
func (x *lexer) next() (byte, error) {
	if x.at == len(x.buf) {
		if err := x.refill(); err != nil {
			return 0, err
		}
	}
	c := x.buf[x.at]
	x.at++
	if c == '\n' {
		x.line++
	}
	return c, nil
}

// refill reads on; the end of the file is damage.
func (x *lexer) refill() error {
	_, err := x.ahead(1)
	if errors.Is(err, io.EOF) {
		return x.errorf("the file ends in the middle")
	}
	return err
}

// peek returns the next byte that is not white space, without taking it.
func (x *lexer) peek() (byte, error) {
	for {
		for x.at < len(x.buf) {
			switch c := x.buf[x.at]; c {
			case '\n':
				x.line++
			case ' ', '\r', '\t':
			default:
				return c, nil
			}
			x.at++
		}
		if err := x.refill(); err != nil {
			return 0, err
		}
	}
}

// take reads the next byte that is not white space and keeps it.
func (x *lexer) take() (byte, error) {
	c, err := x.peek()
	if err != nil {
		return 0, err
	}
	x.at++
	x.put(c)
	return c, nil
}

// put keeps bytes of a value that is wanted as it stands.
func (x *lexer) put(b ...byte) {
	if x.keep {
		x.raw = append(x.raw, b...)
	}
}

// expect takes the byte want.
func (x *lexer) expect(want byte) error {
	c, err := x.take()
	if err == nil && c != want {
		return x.errorf("%s stands where %q must stand", show(c), string(rune(want)))
	}
	return err
}

// show prints a byte for people.
// A byte beyond ASCII is part of a letter whose rest was not read, so its number is shown.
func show(c byte) string {
	if c < ' ' || c >= 0x7f {
		return fmt.Sprintf("byte 0x%02X", c)
	}
	return fmt.Sprintf("%q", string(rune(c)))
}

// more tells whether the list or object that end closes has another item; n counts those so far. It takes commas and
// the end.
func (x *lexer) more(n int, end byte) (bool, error) {
	c, err := x.peek()
	if err != nil {
		return false, err
	}
	switch {
	case c == end:
		_, err = x.take()
		return false, err
	// The first item has no comma before it.
	case n == 0:
		return true, nil
	case c != ',':
		return false, x.errorf("%s stands where a comma or %q must stand", show(c), string(rune(end)))
	}
	if _, err = x.take(); err != nil {
		return false, err
	}
	if c, err = x.peek(); err == nil && c == end {
		return false, x.errorf("a comma stands before %q", string(rune(end)))
	}
	return true, err
}

// key takes a member's name and the colon.
func (x *lexer) key() (string, error) {
	if c, err := x.peek(); err != nil || c != '"' {
		if err == nil {
			err = x.errorf("%s stands where a name in quotes must stand", show(c))
		}
		return "", err
	}
	if err := x.string(); err != nil {
		return "", err
	}
	name := string(x.text)
	return name, x.expect(':')
}

// string takes a string and leaves it decoded in text.
func (x *lexer) string() error {
	if err := x.expect('"'); err != nil {
		return err
	}
	x.text = x.text[:0]
	for {
		c, err := x.next()
		if err != nil {
			return err
		}
		switch {
		case c == '"':
			x.put(c)
			return x.clean()
		case c == '\\':
			if err := x.escape(); err != nil {
				return err
			}
		// Mostly a quote that was forgotten: told at the line where the text began, and not read on to the next quote, which may
		// be a thousand lines away.
		case c < ' ':
			if c == '\n' {
				// The line was counted on with the byte; the text began on the one before.
				x.line--
			}
			return x.errorf("%s stands inside a text without its closing quote", show(c))
		default:
			x.put(c)
			x.text = append(x.text, c)
		}
		if len(x.text) > maxToken {
			return x.errorf("a text is longer than %d bytes", maxToken)
		}
	}
}

// clean replaces what is no UTF-8 in text.
func (x *lexer) clean() error {
	if !utf8.Valid(x.text) {
		// By way of runes, which turns every byte that is no letter into U+FFFD.
		x.text = []byte(string([]rune(string(x.text))))
		x.dirty = true
	}
	return nil
}
