package taskdata

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// nameLimit is how long a name may be in version 3; terminals cut longer ones where it may hurt.
// Source: the limit of the version 3 schema, from memory, not checked.
const nameLimit = 32

// CleanName makes a name fit for a terminal: control and invisible characters out, white space made single blanks, bytes
// that are no UTF-8 dropped, at most 32 characters as a terminal counts them (an emoji is two). It may return "".
func CleanName(s string) string { return cut(visible(s), nameLimit) }

// visible keeps what can be shown on one line.
func visible(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		// U+FFFE and U+FFFF are no characters, and XML does not allow them.
		case r == utf8.RuneError, !unicode.IsPrint(r), r >= 0xFFFE && r <= 0xFFFF:
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

// cut shortens to a number of UTF-16 units without splitting a character.
func cut(s string, limit int) string {
	n := 0
	for i, r := range s {
		if n += utf16.RuneLen(r); n > limit {
			return strings.TrimRight(s[:i], " ")
		}
	}
	return s
}

// namer hands out clean names that differ: terminals list tasks by name alone.
type namer struct{ taken map[string]bool }

// unique returns the clean name of the first text that has one, with a number behind it if it was handed out before.
func (n *namer) unique(texts ...string) string {
	name := firstName(texts...)
	if n.taken == nil {
		n.taken = map[string]bool{}
	}
	out := name
	// Capitals alone do not tell two names apart for a driver.
	for i := 2; n.taken[strings.ToLower(out)]; i++ {
		// The number must survive the cut, or two names would be one again on the terminal.
		suffix := " " + strconv.Itoa(i)
		out = cut(name, nameLimit-len(suffix)) + suffix
	}
	n.taken[strings.ToLower(out)] = true
	return out
}

// firstName returns the first text of which something is left once it is clean; "-" when nothing is.
func firstName(texts ...string) string {
	for _, t := range texts {
		if c := CleanName(t); c != "" {
			return c
		}
	}
	return "-"
}
