package lime

import (
	"fmt"
	"slices"

	"rootworthy/internal/tomltext"
)

// tableText is the text of a table; its getters report what is wrong with a key and go on.
type tableText struct{ *tomltext.Text }

// unknown reports keys that mean nothing.
func (d tableText) unknown(path string, m map[string]any, known []string) {
	var extra []string
	for k := range m {
		if !slices.Contains(known, k) {
			extra = append(extra, k)
		}
	}
	// keys come from a map: without an order the faults would come in another one every time
	slices.Sort(extra)
	for _, k := range extra {
		d.Fault(tomltext.Join(path, k), "unknown setting", "remove it, or correct its spelling", "%q is no setting of a lime table", k)
	}
}

// text returns a text that must be there.
func (d tableText) text(m map[string]any, key string) string {
	v, ok := m[key]
	if !ok {
		d.Fault(key, "missing", "write it", "%s is missing", key)
		return ""
	}
	s, ok := v.(string)
	if !ok || s == "" {
		d.Fault(key, "not text", "write it in quotes", "%q is no text", fmt.Sprint(v))
	}
	return s
}

// list returns an array; needed says that it must be there and not be empty.
func (d tableText) list(m map[string]any, key string, needed bool) []any {
	v, ok := m[key]
	list, isList := v.([]any)
	if ok && !isList {
		d.Fault(key, "not a list", "write it in brackets", "%q is no list", fmt.Sprint(v))
	} else if needed && len(list) == 0 {
		d.Fault(key, "missing", "write it", "%s is missing", key)
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
