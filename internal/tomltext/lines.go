package tomltext

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// longestPath is how long the path of a key may be, in bytes; those of profiles and prices have up to fifty. It keeps a text
// of long or deep keys from costing memory out of proportion.
const longestPath = 300

// index walks the syntax for the lines, which decoding into a map does not keep, as far as there is no fault in it. ok
// is false when a key is long or nested beyond reason.
func (t *Text) index(text []byte) (ok bool) {
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
			at = t.enter(e.Key(), arrays, e.Kind == unstable.ArrayTable, line)
		case unstable.KeyValue:
			t.note(e, at, line)
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
func (t *Text) enter(key unstable.Iterator, arrays map[string]int, array bool, line func(*unstable.Node) int) string {
	at := ""
	for key.Next() {
		at = Join(at, string(key.Node().Data))
		if t.lines[at] == 0 {
			t.lines[at] = line(key.Node())
		}
		if array && key.IsLast() {
			arrays[at]++
		}
		if n := arrays[at]; n > 0 {
			at = Join(at, n-1)
			if t.lines[at] == 0 {
				t.lines[at] = line(key.Node())
			}
		}
	}
	return at
}

// note records the lines of a key and of all that its value holds.
func (t *Text) note(kv *unstable.Node, at string, line func(*unstable.Node) int) {
	key := kv.Key()
	n := 0
	for key.Next() {
		at = Join(at, string(key.Node().Data))
		n = line(key.Node())
		if t.lines[at] == 0 {
			t.lines[at] = n
		}
	}
	t.noteValue(kv.Value(), at, n, line)
}

func (t *Text) noteValue(v *unstable.Node, at string, known int, line func(*unstable.Node) int) {
	switch v.Kind {
	case unstable.Array:
		children := v.Children()
		for i := 0; children.Next(); i++ {
			element := Join(at, i)
			n := firstLine(children.Node(), known, line)
			t.lines[element] = n
			t.noteValue(children.Node(), element, n, line)
		}
	case unstable.InlineTable:
		children := v.Children()
		for children.Next() {
			t.note(children.Node(), at, line)
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
