package diag

import (
	"fmt"
	"strings"
	"unicode"
)

// Severity tells whether something asked for has no answer (Wrong) or the user is only told (Notice).
type Severity uint8

// The two severities; the zero value is the graver one, so that a forgotten field errs on the safe side.
const (
	Wrong  Severity = iota // content is wrong or missing: the run ends with exit code 3
	Notice                 // repaired or remarkable: told, exit code 0
)

// String returns "fault" or "notice".
func (s Severity) String() string {
	if s == Notice {
		return "notice"
	}
	return "fault"
}

// Fault is one thing wrong with one place of the input.
type Fault struct {
	Severity Severity
	File     string // as the user named it
	Line     int    // 1-based; 0 when the format has no lines
	Offset   int64  // byte offset in a binary file; 0 when it says nothing
	Feature  string // feature or record id; empty when the file has none
	Field    string // column, property or tag
	Kind     string // short stable word that groups like faults, e.g. "unclosed ring"
	What     string // what is wrong, offending value quoted
	Fix      string // what to do about it

	// Ground is the id of the field of land that the fault is about; empty when it is about none, or about all. Feature
	// cannot tell: a record of a survey and a bag of a laboratory may well be called as a field is.
	Ground string
	// More counts the faults like this one that were not kept, by their Ground; nil for none. The last that was kept of
	// a kind carries it.
	More map[string]int
}

// String prints the fault on one line: place, what, how many more there are like it, remedy. Names and values come out of somebody's file, so
// that what would steer a terminal is shown as a question mark, and what is endless is cut.
func (f Fault) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	if f.Offset > 0 {
		fmt.Fprintf(&b, " at byte %d", f.Offset)
	}
	switch {
	case f.Feature != "" && b.Len() > 0:
		fmt.Fprintf(&b, " (%s)", cut(f.Feature, mostName))
	case f.Feature != "":
		b.WriteString(cut(f.Feature, mostName))
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if f.Field != "" {
		b.WriteString(cut(f.Field, mostName) + ": ")
	}
	b.WriteString(cut(f.What, mostWhat))
	if n := sum(f.More); n > 0 {
		fmt.Fprintf(&b, " (and %s more like it)", thousands(n))
	}
	if f.Fix != "" {
		b.WriteString("; " + f.Fix)
	}
	return harmless(b.String())
}

// How many letters are printed of a name, and of what is wrong with it.
const (
	mostName = 200
	mostWhat = 2000
)

// cut shortens what is longer than so many letters.
func cut(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}

// harmless replaces control characters, and those that turn the direction of writing round, by a mark.
func harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return '?'
		}
		return r
	}, s)
}
