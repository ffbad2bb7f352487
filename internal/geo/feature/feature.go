package feature

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// Property is one attribute of a feature.
type Property struct {
	Name  string
	Value json.RawMessage // valid JSON; null when missing
}

// Feature is one feature with its polygons as read: rings may turn either way, be open, or cross themselves.
type Feature struct {
	Index      int              // place in the file or layer, from 0
	Line       int              // where it begins, from 1; 0 in files without lines
	ID         string           // its own id; empty when it has none
	Geometry   orb.MultiPolygon // empty when Reason is not
	Reason     string           // why it has no polygon that can be used
	Properties []Property       // in file order
}

// Label names the feature in messages: by place, and by id if it has one.
func (f *Feature) Label() string {
	if f.ID == "" {
		return fmt.Sprintf("feature %d", f.Index+1)
	}
	return fmt.Sprintf("feature %d, id %s", f.Index+1, strconv.Quote(Shorten(f.ID)))
}

// Text returns a property by name (capitals do not matter) as text: a string without its quotes, a number with its
// digits, and nothing when it is null or missing.
func (f *Feature) Text(name string) string {
	for _, p := range f.Properties {
		// The first of that name counts.
		if !strings.EqualFold(p.Name, name) {
			continue
		}
		var s string
		switch {
		case string(p.Value) == "null":
			return ""
		case json.Unmarshal(p.Value, &s) == nil:
			return s
		}
		return string(p.Value)
	}
	return ""
}

// Shorten bounds a value that is quoted in a message.
func Shorten(s string) string {
	const most = 40
	// By letters, so that none is cut in half.
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// Kept says that what stands before damage to a file is kept: n things, at least one.
func Kept(n int, thing string) string {
	if n == 1 {
		return "the one " + thing + " before that is kept, the rest is lost"
	}
	return fmt.Sprintf("the %d %ss before that are kept, the rest is lost", n, thing)
}
