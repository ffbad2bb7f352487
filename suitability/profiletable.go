package suitability

import (
	"math"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
)

// table reads one table of a [tomltext.Text]. Each getter reports what is wrong with its key and goes on with a zero. keys is nil for a
// table that is absent: its getters then tell of every key that is missing.
type table struct {
	*tomltext.Text
	path string
	keys map[string]any
}

// has says whether the table has the key.
func (t table) has(key string) bool { _, ok := t.keys[key]; return ok }

// only reports every key of the table that is not among known, with the nearest one that is.
func (t table) only(known ...string) {
	unknown := []string{}
	for k := range t.keys {
		if !slices.Contains(known, k) {
			unknown = append(unknown, k)
		}
	}
	// keys come from a map: without an order the faults would come in another one every time
	slices.Sort(unknown)
	for _, k := range unknown {
		fix := "keys here are " + strings.Join(known, ", ")
		if near, ok := diag.Nearest(k, known); ok {
			fix = "did you mean " + near + "?"
		}
		t.Fault(tomltext.Join(t.path, k), "unknown key", fix, "%q is not a key of a profile", k)
	}
}

// get returns a value of type T; a key that is absent or of another type is a fault.
func get[T any](t table, key, kind string) (v T, ok bool) {
	raw, has := t.keys[key]
	if !has {
		t.Fault(tomltext.Join(t.path, key), "missing key", "add it; the profile that comes with the program shows how", "the key is missing")
		return v, false
	}
	if v, ok = raw.(T); !ok {
		t.Fault(tomltext.Join(t.path, key), "wrong type", "write "+kind, "the value is not %s", kind)
	}
	return v, ok
}

// text returns text that must be there and not be blank, without the spaces around it.
func (t table) text(key string) string {
	s, ok := get[string](t, key, "text in quotes")
	if s = strings.TrimSpace(s); ok && s == "" {
		t.Fault(tomltext.Join(t.path, key), "empty text", "write it, or take the line out", "the text is empty")
	}
	return s
}

// optionalText returns "" where the key is absent.
func (t table) optionalText(key string) string {
	if !t.has(key) {
		return ""
	}
	s, _ := get[string](t, key, "text in quotes")
	return strings.TrimSpace(s)
}

// flag returns false where the key is absent.
func (t table) flag(key string) bool {
	if !t.has(key) {
		return false
	}
	v, _ := get[bool](t, key, "true or false")
	return v
}

// number returns a finite number from least to most. ok is false when there is none; the fault is reported.
func (t table) number(key string, least, most float64) (v float64, ok bool) {
	// TOML keeps 20 and 20.0 apart; whoever writes a limit does not
	if i, isInt := t.keys[key].(int64); isInt {
		v = float64(i)
	} else if v, ok = get[float64](t, key, "a number"); !ok {
		return 0, false
	}
	if !(v >= least && v <= most) || math.IsInf(v, 0) { // NaN too
		t.Fault(tomltext.Join(t.path, key), "range", "correct the number", "%v is not between %v and %v", v, least, most)
		return 0, false
	}
	return v, true
}

// table returns a table below this one; absent, an empty one, so that the faults of all its keys are told at once.
func (t table) table(key string) table {
	m, _ := get[map[string]any](t, key, "a table")
	return table{t.Text, tomltext.Join(t.path, key), m}
}

// tables returns an array of tables.
func (t table) tables(key string) []table {
	list, _ := get[[]any](t, key, "a list of tables")
	out := make([]table, 0, len(list))
	for i, raw := range list {
		// the place in the list is part of the path, by which a fault finds its line
		path := tomltext.Join(tomltext.Join(t.path, key), i)
		m, ok := raw.(map[string]any)
		if !ok {
			t.Fault(path, "wrong type", "write { value = …, … }", "the element is not a table")
			continue
		}
		out = append(out, table{t.Text, path, m})
	}
	return out
}
