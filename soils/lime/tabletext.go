package lime

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/pelletier/go-toml/v2/unstable"

	"rootworthy/internal/diag"
)

// tableText is the text of a table with the line of every key, so that faults of content can say where they are.
type tableText struct {
	name   string
	faults *diag.List
	lines  map[string]int // by path: "targets", "row[2].lime"
	ends   []int          // offset of each line's end
	bad    bool
}

// join makes the path of an element.
func join(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// index finds the lines of the keys of the top and of the [[row]] tables, and of each element of an array. Text that is
// no TOML has been refused before.
func (d *tableText) index(text []byte) {
	d.lines = map[string]int{}
	for i, c := range text {
		if c == '\n' {
			d.ends = append(d.ends, i)
		}
	}
	var p unstable.Parser
	p.Reset(text)
	at, row := "", 0
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.ArrayTable, unstable.Table:
			at = lastKey(e)
			if e.Kind == unstable.ArrayTable {
				at = join(at, row)
				row++
			}
			d.lines[at] = d.lineOf(e.Child())
			at += "."
		case unstable.KeyValue:
			key := e.Key()
			key.Next()
			line := d.lineOf(key.Node())
			path := at + lastKey(e)
			d.lines[path] = line
			d.elements(e.Value(), path)
		}
	}
}

func (d *tableText) elements(v *unstable.Node, path string) {
	if v.Kind != unstable.Array {
		return
	}
	children := v.Children()
	for i := 0; children.Next(); i++ {
		if n := children.Node(); n.Raw.Length > 0 {
			d.lines[join(path, i)] = d.lineOf(n)
		}
	}
}

// lastKey returns the last part of a key.
func lastKey(e *unstable.Node) string {
	key, name := e.Key(), ""
	for key.Next() {
		name = string(key.Node().Data)
	}
	return name
}

// lineOf returns the line of a node.
func (d *tableText) lineOf(n *unstable.Node) int {
	if n == nil {
		return 0
	}
	before, _ := slices.BinarySearch(d.ends, int(n.Raw.Offset))
	return before + 1
}

// fault reports a fault at a path, or at the nearest thing around it that has a line.
func (d *tableText) fault(path, kind, fix, format string, args ...any) {
	d.bad = true
	line := 0
	for at := path; at != "" && line == 0; at = around(at) {
		line = d.lines[at]
	}
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: path, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// around returns the path of what holds a path.
func around(path string) string {
	for i := len(path) - 1; i > 0; i-- {
		if path[i] == '.' || path[i] == '[' {
			return path[:i]
		}
	}
	return ""
}

// unknown reports keys that mean nothing.
func (d *tableText) unknown(path string, m map[string]any, known []string) {
	var extra []string
	for k := range m {
		if !slices.Contains(known, k) {
			extra = append(extra, k)
		}
	}
	slices.Sort(extra)
	for _, k := range extra {
		at := k
		if path != "" {
			at = path + "." + k
		}
		d.fault(at, "unknown setting", "remove it, or correct its spelling", "%q is no setting of a lime table", k)
	}
}

// text returns a text that must be there.
func (d *tableText) text(m map[string]any, key string) string {
	v, ok := m[key]
	if !ok {
		d.fault(key, "missing", "write it", "%s is missing", key)
		return ""
	}
	s, ok := v.(string)
	if !ok || s == "" {
		d.fault(key, "not text", "write it in quotes", "%q is no text", fmt.Sprint(v))
	}
	return s
}

// list returns an array; needed says that it must be there and not be empty.
func (d *tableText) list(m map[string]any, key string, needed bool) []any {
	v, ok := m[key]
	list, isList := v.([]any)
	if ok && !isList {
		d.fault(key, "not a list", "write it in brackets", "%q is no list", fmt.Sprint(v))
	} else if needed && len(list) == 0 {
		d.fault(key, "missing", "write it", "%s is missing", key)
	}
	return list
}

// asNumber reads what TOML calls an integer or a float.
func asNumber(v any) (float64, bool) {
	switch n := v.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, n-n == 0
	}
	return 0, false
}
