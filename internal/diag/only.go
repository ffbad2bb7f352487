package diag

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// mostNamed is how many fields a message names; the rest are counted.
const mostNamed = 8

// Only returns those of kept faults (of [List.Kept]) that are about fields that keep lets pass, and those about no
// field. Counts of what was not kept are of the same fields then; a count of faults about no field says that it is of
// the whole run. Where the words of such a field's faults were not kept at all, a fault says so and names the field:
// that something was told of it must not get lost because five others came first.
func Only(faults []Fault, keep func(ground string) bool) []Fault {
	var out []Fault
	last := map[group]int{} // place in out of the last of a group
	more := map[group]map[string]int{}
	var order []group // of more
	for _, f := range faults {
		g := f.group()
		for ground, n := range f.More {
			if ground != "" && !keep(ground) {
				continue
			}
			if more[g] == nil {
				more[g] = map[string]int{}
				order = append(order, g)
			}
			more[g][ground] += n
		}
		if f.Ground == "" || keep(f.Ground) {
			f.More = nil
			last[g] = len(out)
			out = append(out, f)
		}
	}
	for _, g := range order {
		at, ok := last[g]
		if !ok {
			at = len(out)
			out = append(out, g.wordless(more[g]))
		}
		if n := more[g][""]; n > 0 && ok {
			out[at].What += fmt.Sprintf(" (and %s more like it in the whole run)", thousands(n))
		}
		if delete(more[g], ""); ok && len(more[g]) > 0 {
			out[at].More = more[g]
		}
	}
	slices.SortStableFunc(out, func(a, b Fault) int { return int(a.Severity) - int(b.Severity) })
	return out
}

// wordless stands for faults of fields whose words were not kept.
func (g group) wordless(more map[string]int) Fault {
	grounds := slices.SortedFunc(maps.Keys(more), byNumbers)
	if grounds[0] == "" { // of no field
		grounds[0] = "the whole run"
	}
	named := strings.Join(grounds[:min(len(grounds), mostNamed)], ", ")
	if n := len(grounds) - mostNamed; n > 0 {
		named += " and " + thousands(n) + " more"
	}
	return Fault{Severity: g.severity, File: g.file, Field: g.field, Kind: g.kind,
		What: fmt.Sprintf("%q was told of %s too; the words are kept of the first %d of a kind alone", g.kind, named, keepPerGroup),
		Fix:  "screen fewer fields at a time to read them"}
}
