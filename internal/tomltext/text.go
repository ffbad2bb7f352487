package tomltext

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/internal/diag"
)

// Text is a file of settings that was read, and where to tell its faults.
type Text struct {
	Name string         // as the user named it
	Root map[string]any // as toml.Unmarshal leaves it: int64, float64, string, bool, dates, []any, map[string]any
	Told int            // faults reported by Fault

	faults *diag.List
	lines  map[string]int // by path, see Join
}

// Join makes the path of a key in a table, or of an element in an array: "depth.points[2].score". The path of the top is "".
func Join(path string, part any) string {
	if i, ok := part.(int); ok {
		return path + "[" + strconv.Itoa(i) + "]"
	}
	if path == "" {
		return part.(string)
	}
	return path + "." + part.(string)
}

// Parse reads a text, a byte order mark before it left out. Ok is false, and the fault is told, when it is not TOML at all or nested beyond
// reason; instead says what to give in its place.
func Parse(name string, text []byte, instead string, faults *diag.List) (t *Text, ok bool) {
	t = &Text{Name: name, faults: faults, lines: map[string]int{}}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if !t.index(text) { // before decoding, which would build what is too deep
		t.Fault("", "too deep", instead, "a key is too long or nested too deep")
		return t, false
	}
	if err := toml.Unmarshal(text, &t.Root); err != nil {
		t.Told++
		faults.Add(SyntaxFault(name, err))
		return t, false
	}
	return t, true
}

// SyntaxFault puts into a fault what the decoder says of a text that is no TOML.
func SyntaxFault(name string, err error) diag.Fault {
	f := diag.Fault{File: name, Kind: "not TOML", What: strings.TrimPrefix(err.Error(), "toml: "), Fix: "mend this line; what stands below it was not read"}
	var at *toml.DecodeError
	if errors.As(err, &at) {
		f.Line, _ = at.Position()
	}
	return f
}

// Line returns the line of a path, 1-based; 0 where the text does not have it.
func (t *Text) Line(path string) int { return t.lines[path] }

// Fault reports a fault at a path. A key that is absent has no line, so the fault stands at the nearest table or array around it that has one.
func (t *Text) Fault(path, kind, fix, format string, args ...any) {
	t.Told++
	line := 0
	for at := path; at != "" && line == 0; at = around(at) {
		line = t.lines[at]
	}
	t.faults.Add(diag.Fault{File: t.Name, Line: line, Field: path, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// around returns the path of the table or array around a path; "" at the top.
func around(path string) string {
	if i := strings.LastIndexAny(path, ".["); i > 0 {
		return path[:i]
	}
	return ""
}
