package suitability

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rootworthy/internal/diag"
)

// document is a TOML text with the line of every key, so that faults of content can say where they are.
type document struct {
	name   string
	faults *diag.List
	root   map[string]any
	lines  map[string]int // by path, see join
	bad    bool           // a fault was reported
}

// join makes the path of a key in a table, or of an element in an array: "depth.points[2].score".
func join(path string, part any) string {
	if i, ok := part.(int); ok {
		return path + "[" + strconv.Itoa(i) + "]"
	}
	if path == "" {
		return part.(string)
	}
	return path + "." + part.(string)
}

// parseDocument reads the text; ok is false, and the fault is reported, when it is not TOML at all.
func parseDocument(name string, text []byte, faults *diag.List) (d *document, ok bool) {
	d = &document{name: name, faults: faults, lines: map[string]int{}}
	if !d.index(text) {
		faults.Add(diag.Fault{File: name, Kind: "too deep", What: "a key is too long or nested too deep", Fix: "give a crop profile, not another file"})
		return d, false
	}
	if err := toml.Unmarshal(text, &d.root); err != nil {
		f := diag.Fault{File: name, Kind: "not TOML", What: strings.TrimPrefix(err.Error(), "toml: "),
			Fix: "mend this line; what stands below it was not read"}
		var at *toml.DecodeError
		if errors.As(err, &at) {
			f.Line, _ = at.Position()
		}
		faults.Add(f)
		return d, false
	}
	return d, true
}

// longestPath is how long the path of a key may be, in bytes; those of a profile have up to thirty. It keeps a text of
// long or deep keys from costing memory out of proportion.
const longestPath = 300

// index walks the syntax for the lines, which decoding into a map does not keep, as far as there is no fault in it. ok
// is false when a key is long or nested beyond reason.
func (d *document) index(text []byte) (ok bool) {
	var p unstable.Parser
	p.Reset(text)
	line := lineCounter(text)
	arrays := map[string]int{} // elements so far of each array of tables
	at := ""
	for p.NextExpression() {
		e := p.Expression()
		if pathLength(e) > longestPath {
			return false
		}
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			at = d.enter(e.Key(), arrays, e.Kind == unstable.ArrayTable, line)
		case unstable.KeyValue:
			d.note(e, at, line)
		}
	}
	return true
}

// pathLength returns the length of the longest path below an expression, in bytes.
func pathLength(n *unstable.Node) int {
	own, below := 0, 0
	switch n.Kind {
	case unstable.Table, unstable.ArrayTable, unstable.KeyValue:
		for key := n.Key(); key.Next(); {
			own += 1 + len(key.Node().Data)
		}
	}
	switch n.Kind {
	case unstable.KeyValue:
		below = pathLength(n.Value())
	case unstable.Array, unstable.InlineTable:
		for children := n.Children(); children.Next(); {
			below = max(below, 8+pathLength(children.Node()))
		}
	}
	return own + below
}

// enter returns the path of the table that a header opens.
func (d *document) enter(key unstable.Iterator, arrays map[string]int, array bool, line func(*unstable.Node) int) string {
	at := ""
	for key.Next() {
		at = join(at, string(key.Node().Data))
		if d.lines[at] == 0 {
			d.lines[at] = line(key.Node())
		}
		if array && key.IsLast() {
			arrays[at]++
		}
		if n := arrays[at]; n > 0 {
			at = join(at, n-1)
			if d.lines[at] == 0 {
				d.lines[at] = line(key.Node())
			}
		}
	}
	return at
}

// note records the lines of a key and of all that its value holds.
func (d *document) note(kv *unstable.Node, at string, line func(*unstable.Node) int) {
	key := kv.Key()
	n := 0
	for key.Next() {
		at = join(at, string(key.Node().Data))
		n = line(key.Node())
		if d.lines[at] == 0 {
			d.lines[at] = n
		}
	}
	d.noteValue(kv.Value(), at, n, line)
}

func (d *document) noteValue(v *unstable.Node, at string, known int, line func(*unstable.Node) int) {
	switch v.Kind {
	case unstable.Array:
		children := v.Children()
		for i := 0; children.Next(); i++ {
			element := join(at, i)
			n := firstLine(children.Node(), known, line)
			d.lines[element] = n
			d.noteValue(children.Node(), element, n, line)
		}
	case unstable.InlineTable:
		children := v.Children()
		for children.Next() {
			d.note(children.Node(), at, line)
		}
	}
}

// firstLine is the line on which a value begins, as near as the parser says: brackets have no place of their own.
func firstLine(v *unstable.Node, known int, line func(*unstable.Node) int) int {
	for v.Kind == unstable.Array || v.Kind == unstable.InlineTable || v.Kind == unstable.KeyValue {
		children := v.Children()
		if v.Kind == unstable.KeyValue {
			children = v.Key()
		}
		if !children.Next() {
			return known
		}
		v = children.Node()
	}
	return max(known, line(v))
}

// lineCounter returns a function that finds the line of a node; nodes come in the order of the text, so each call
// counts on from the one before.
func lineCounter(text []byte) func(*unstable.Node) int {
	offset, n := 0, 1
	return func(v *unstable.Node) int {
		to := int(v.Raw.Offset)
		if to == 0 && offset > 0 || to > len(text) { // a node without a place
			return n
		}
		if to < offset {
			offset, n = 0, 1
		}
		n += strings.Count(string(text[offset:to]), "\n")
		offset = to
		return n
	}
}

// fault reports a fault at the key of a path; where the key is absent, at the nearest table around it.
func (d *document) fault(path, kind, fix, format string, args ...any) {
	d.bad = true
	line := 0
	for at := path; at != "" && line == 0; at = parent(at) {
		line = d.lines[at]
	}
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: path, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// parent returns the path of the table or array around path; "" at the top.
func parent(path string) string {
	if i := strings.LastIndexAny(path, ".["); i > 0 {
		return path[:i]
	}
	return ""
}
