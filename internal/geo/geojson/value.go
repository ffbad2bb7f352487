package geojson

import "strings"

// value takes any value. With keep set, its text goes to raw.
// Values that are not kept cost no memory, however long they are.
func (x *lexer) value(depth int) error {
	if depth > maxDepth {
		return x.errorf("values are nested more than %d deep", maxDepth)
	}
	c, err := x.peek()
	if err != nil {
		return err
	}
	switch {
	case c == '{':
		return x.object(depth)
	case c == '[':
		return x.array(depth)
	case c == '"':
		return x.string()
	case c == '-' || c >= '0' && c <= '9':
		_, err := x.number()
		return err
	}
	// What begins with another letter: true, false, null, or a word that stands for no number.
	return x.literal()
}

// object and array take a value with others in it; depth is how many it stands in.
func (x *lexer) object(depth int) error {
	if _, err := x.take(); err != nil {
		return err
	}
	for n := 0; ; n++ {
		more, err := x.more(n, '}')
		if err != nil || !more {
			return err
		}
		if _, err := x.key(); err != nil {
			return err
		}
		if err := x.member(depth); err != nil {
			return err
		}
	}
}

func (x *lexer) array(depth int) error {
	if _, err := x.take(); err != nil {
		return err
	}
	for n := 0; ; n++ {
		more, err := x.more(n, ']')
		if err != nil || !more {
			return err
		}
		if err := x.member(depth); err != nil {
			return err
		}
	}
}

// member takes one value inside another and bounds what is kept.
func (x *lexer) member(depth int) error {
	// raw grows only while keep is set: values that are passed over may be of any length.
	if len(x.raw) > maxToken {
		return x.errorf("a value is longer than %d bytes", maxToken)
	}
	return x.value(depth + 1)
}

// number takes a number and leaves its letters in text. A word such as NaN or -Infinity, which some programs write,
// is noted, kept as null, and reported by ok == false.
func (x *lexer) number() (ok bool, err error) {
	if err := x.word(); err != nil {
		return false, err
	}
	if isNumber(string(x.text)) {
		x.put(x.text...)
		return true, nil
	}
	return false, x.noNumber()
}

// literal takes true, false, null, or a word that stands for no number.
func (x *lexer) literal() error {
	if err := x.word(); err != nil {
		return err
	}
	switch string(x.text) {
	case "true", "false", "null":
		x.put(x.text...)
		return nil
	}
	return x.noNumber()
}

// noNumber takes the word in text for a number that is none, or tells that it is no JSON at all.
func (x *lexer) noNumber() error {
	switch strings.ToLower(strings.TrimLeft(string(x.text), "+-")) {
	case "nan", "inf", "infinity":
		// What is kept must be valid JSON.
		x.put('n', 'u', 'l', 'l')
		if len(x.nans) < 100 { // enough to tell of
			x.nans = append(x.nans, nan{x.line, string(x.text)})
		}
		return nil
	}
	return x.errorf("%q is no JSON value", shorten(string(x.text)))
}

// word takes the letters, digits, signs and points up to what ends a value, into text.
func (x *lexer) word() error {
	c, err := x.peek()
	if err != nil {
		return err
	}
	x.text = x.text[:0]
	for {
		from := x.at
		for x.at < len(x.buf) && wordLetter(x.buf[x.at]) {
			x.at++
		}
		if x.text = append(x.text, x.buf[from:x.at]...); len(x.text) > 1000 {
			return x.errorf("a number or word is longer than 1000 letters")
		}
		// A word may go on behind what was read ahead.
		if x.at < len(x.buf) {
			break
		}
		if err := x.refill(); err != nil {
			return err
		}
	}
	if len(x.text) == 0 {
		return x.errorf("%s stands where a value must stand", show(c))
	}
	return nil
}

// wordLetter is every byte of numbers and of the words that stand for them; what is none of these ends the word.
func wordLetter(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '.' || c == '-' || c == '+' || c == '_'
}

// isNumber tells whether s is a number as RFC 8259 section 6 has it.
// By hand: strconv takes hexadecimal, underscores and "1.", which are no JSON.
func isNumber(s string) bool {
	s = strings.TrimPrefix(s, "-")
	whole, s := leadingDigits(s)
	// No leading zeros, by the standard.
	if whole == "" || len(whole) > 1 && whole[0] == '0' {
		return false
	}
	if strings.HasPrefix(s, ".") {
		var part string
		if part, s = leadingDigits(s[1:]); part == "" {
			return false
		}
	}
	if s == "" {
		return true
	}
	if s[0] != 'e' && s[0] != 'E' {
		return false
	}
	s = s[1:]
	if s != "" && (s[0] == '+' || s[0] == '-') {
		s = s[1:]
	}
	exponent, rest := leadingDigits(s)
	return exponent != "" && rest == ""
}

func leadingDigits(s string) (digits, rest string) {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return s[:i], s[i:]
}

// shorten bounds a quoted value in a message.
func shorten(s string) string {
	const most = 40
	if len(s) > most {
		return s[:most] + "…"
	}
	return s
}
