package lab

import (
	"slices"
	"strings"
)

// FieldsNamed returns a function for [Ground.FieldsNamed]: the ids of the fields that have a text for their id but for capitals, else those
// that have it for their name. Laboratories print what the sampler wrote on the bag, which is the field's name more often than its id.
// The fields are given as pairs of id and name.
func FieldsNamed(fields [][2]string) func(text string) []string {
	byID, byName := map[string][]string{}, map[string][]string{}
	for _, f := range fields {
		byID[asWritten(f[0])] = append(byID[asWritten(f[0])], f[0])
		byName[asWritten(f[1])] = append(byName[asWritten(f[1])], f[0])
	}
	return func(text string) []string {
		out := byID[asWritten(text)]
		if len(out) == 0 {
			out = byName[asWritten(text)]
		}
		// the map's own list must not be sorted under another caller
		out = slices.Clone(out)
		slices.Sort(out)
		return out
	}
}

// asWritten is a name without what differs between two who write it: capitals, and blanks more than one.
func asWritten(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
