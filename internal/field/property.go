package field

import (
	"slices"
	"strings"
)

// Property says what the fields of a file have under one name, for who is to choose which of them holds the id, the owner or the farm.
type Property struct {
	Name     string   // as the first field that has it writes it; capitals do not matter
	Has      int      // fields with a value that could be a name: a text or a number, no blank
	Alike    bool     // two fields have the same value
	Examples []string // the first few different values
}

// mostExamples is how many values show what a property holds, and longestExample how many letters of each.
const (
	mostExamples   = 3
	longestExample = 24
)

// Properties lists the properties of fields in the order in which the files have them. Those that hold no value that could be a name
// (lists, objects, blanks) are left out.
func Properties(fields []Field) []Property {
	var out []Property
	place := map[string]int{} // by the name in small letters
	seen := []map[string]bool{}
	for i := range fields {
		for _, a := range fields[i].Attributes {
			v := plain(a.Value)
			if v == "" {
				continue
			}
			key := strings.ToLower(a.Name)
			at, ok := place[key]
			if !ok {
				at = len(out)
				place[key] = at
				out, seen = append(out, Property{Name: a.Name}), append(seen, map[string]bool{})
			}
			p := &out[at]
			p.Has++
			switch {
			case seen[at][v]:
				p.Alike = true
			case len(p.Examples) < mostExamples:
				p.Examples = append(p.Examples, shortened(v))
			}
			seen[at][v] = true
		}
	}
	return slices.Clip(out)
}

// shortened cuts a text to whole letters.
func shortened(s string) string {
	if r := []rune(s); len(r) > longestExample {
		return string(r[:longestExample]) + "…"
	}
	return s
}
