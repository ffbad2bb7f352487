package field

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"rootworthy/internal/diag"
)

// Properties that are looked at for the id and the name, best first; capitals do not matter.
func idNames() []string   { return []string{"field_id", "id", "field", "name"} }
func nameNames() []string { return []string{"name", "field_name", "fieldname", "label"} }

// mostID is the longest id of a field, in bytes: with the number of a zone behind it, it must fit into the 254 bytes of
// a text in a shapefile, or zones could not be told apart there.
const mostID = 200

// identify makes fields of the drawings and gives them ids, names and owners.
func identify(drawn []drawing, opt Options, faults *diag.List) []Field {
	fields := make([]Field, len(drawn))
	ids := chooseIDs(drawn, opt, faults)
	// Place of the field that has an id first.
	first := make(map[string]int, len(drawn))
	next := map[string]int{} // number to try for an id given more than once
	missing(drawn, "--customer", opt.Customer, faults)
	missing(drawn, "--farm", opt.Farm, faults)
	for i, d := range drawn {
		f := d.Field
		// Cut to whole letters: half a letter of UTF-8 would be no text in any file.
		if f.ID = ids[i]; len(f.ID) > mostID {
			f.ID = strings.ToValidUTF8(f.ID[:mostID], "")
			ids[i] = f.ID
			faults.Notice(diag.Fault{File: f.File, Line: f.Line, Feature: fmt.Sprintf("feature %d", d.Index+1), Kind: "long id", What: fmt.Sprintf("its id is longer than %d bytes, and is cut there", mostID), Fix: "name a shorter property with --id"})
		}
		// Kept under a new id rather than refused: the second field is ground like any other.
		if j, twice := first[f.ID]; twice {
			f.ID = unused(f.ID, first, next)
			faults.Add(diag.Fault{File: f.File, Line: f.Line, Feature: d.label, Ground: f.ID, Kind: "id twice",
				What: fmt.Sprintf("the id %q is also that of %s of %s; this one is called %q here", ids[i], drawn[j].label, drawn[j].File, f.ID), Fix: "give each field an id of its own, or name another property with --id"})
		}
		first[f.ID] = i
		// A field without a name is called by its id everywhere, so that no heading is empty.
		f.Name = f.ID
		for _, name := range nameNames() {
			if v := d.text(name); v != "" {
				f.Name = v
				break
			}
		}
		f.Customer, f.Farm = d.text(opt.Customer), d.text(opt.Farm)
		// Only an outright yes: drainage makes wet ground better, so a doubtful word must count as none.
		f.Drained = d.yes("drained")
		fields[i] = f
	}
	return fields
}

// unused returns the id with the first number behind it that makes it the only one. The search goes on where it ended
// for the same id, so that thousands of equal ids take no longer than others.
func unused(id string, taken, next map[string]int) string {
	// It starts at 2, for the first one is called by the bare id. A field may have "A (2)" for its own id already, hence the
	// look at taken.
	for n := max(next[id], 2); ; n++ {
		if try := fmt.Sprintf("%s (%d)", id, n); !has(taken, try) {
			next[id] = n + 1
			return try
		}
	}
}

func has(m map[string]int, key string) bool { _, ok := m[key]; return ok }

// chooseIDs returns an id for each drawing by the rule of [Read].
func chooseIDs(drawn []drawing, opt Options, faults *diag.List) []string {
	// A property that no field has is told, and the usual rule then goes on: a slip in a flag need not stop the run.
	if opt.ID != "" && !missing(drawn, "--id", opt.ID, faults) {
		// What the user names is taken as it is: whether it tells fields apart is told afterwards, by the ids that stand twice.
		return fromProperty(drawn, opt.ID, faults)
	}
	ids := make([]string, len(drawn))
	if fromFeatures(ids, drawn) {
		return ids
	}
	taken := ""
	var alike *diag.Fault // of the best property that all have, but not each its own
	for _, name := range idNames() {
		// A name that two fields have cannot be the id, though a person would see which is which by the map.
		// b is 0 when no two are alike: of two that are, the second is never the first drawing.
		all, a, b := fill(ids, drawn, name)
		if all && b == 0 {
			taken = name
			break
		}
		if all && alike == nil {
			alike = &diag.Fault{File: drawn[b].File, Line: drawn[b].Line, Feature: drawn[b].label, Field: name, Kind: "id not unique",
				What: fmt.Sprintf("%q is also that of %s, so that this property cannot tell the fields apart", ids[b], drawn[a].label)}
		}
	}
	// Told only where something nearly served: nobody who has plain numbers wonders about them.
	instead := taken + " is taken instead"
	if taken == "" {
		// Boundaries of two clients seldom have the same columns; then each file is asked by itself.
		if each, ok := idsByFile(drawn); ok {
			return each
		}
		for i := range ids {
			ids[i] = strconv.Itoa(i + 1)
		}
		instead = "they are numbered"
	}
	if alike != nil {
		alike.What += "; " + instead
		alike.Fix = "name another property with --id"
		faults.Notice(*alike)
	}
	return ids
}

// fromFeatures fills ids from the features' own. They count only when every feature has one: half of the fields by id and half by number
// would be numbered anew whenever a feature is added.
func fromFeatures(ids []string, drawn []drawing) (all bool) {
	all = true
	for i, d := range drawn {
		ids[i] = clean(d.featureID)
		all = all && ids[i] != ""
	}
	return all
}

// fromProperty takes the ids from a property; a field without it is told and gets its place.
func fromProperty(drawn []drawing, name string, faults *diag.List) []string {
	ids := make([]string, len(drawn))
	for i, d := range drawn {
		// The place stands in; a fault, because the place changes with the file and would be another id next year.
		if ids[i] = d.text(name); ids[i] == "" {
			ids[i] = strconv.Itoa(i + 1)
			faults.Add(diag.Fault{File: d.File, Line: d.Line, Feature: d.label, Field: name, Kind: "no id", What: fmt.Sprintf("it has no %s; it is called %q here", name, ids[i]), Fix: "fill it in"})
		}
	}
	return ids
}

// fill fills ids from a property. It tells whether all have it, and the first two that are alike: the second is 0 when
// none are.
func fill(ids []string, drawn []drawing, name string) (all bool, a, b int) {
	// id to the place of its last drawing
	seen := make(map[string]int, len(drawn))
	for i, d := range drawn {
		if ids[i] = d.text(name); ids[i] == "" {
			return false, 0, 0
		}
		if j, twice := seen[ids[i]]; twice && b == 0 {
			a, b = j, i
		}
		seen[ids[i]] = i
	}
	return true, a, b
}

// missing tells when no field has the property that a flag names, with those there are.
func missing(drawn []drawing, flag, name string, faults *diag.List) bool {
	if name == "" || len(drawn) == 0 {
		return false
	}
	var there []string
	seen := map[string]bool{}
	for _, d := range drawn {
		for _, a := range d.Attributes {
			if strings.EqualFold(a.Name, name) {
				return false
			}
			if !seen[a.Name] {
				seen[a.Name] = true
				there = append(there, a.Name)
			}
		}
	}
	what, fix := fmt.Sprintf("no field has the property %q; there are: %s", name, someOf(there)), "name one of them"
	if len(there) == 0 {
		what, fix = fmt.Sprintf("no field has the property %q, nor any other", name), "leave the flag out"
	}
	faults.Add(diag.Fault{File: drawn[0].File, Field: flag, Kind: "no such property", What: what, Fix: fix})
	return true
}

// someOf lists the first few names.
func someOf(names []string) string {
	const most = 30
	s := strings.Join(names[:min(len(names), most)], ", ")
	if len(names) > most {
		s += fmt.Sprintf(" and %d more", len(names)-most)
	}
	return s
}

// text returns a property as text: the text itself, a number without a fraction of zeros, true or false. It is empty
// for what is missing or no plain value. The exact name comes before one that differs in capitals.
func (d *drawing) text(name string) string {
	if name == "" {
		return ""
	}
	found := ""
	for _, a := range d.Attributes {
		if !strings.EqualFold(a.Name, name) {
			continue
		}
		// Names of columns change their capitals on the way: a shapefile shouts them, a database folds them.
		v := plain(a.Value)
		// An exact name ends the search; one in other letters is kept in case there is none.
		if a.Name == name {
			return v
		}
		if found == "" {
			found = v
		}
	}
	return found
}

// plain is the text of a value that can be a name; lists, objects and null cannot.
func plain(raw json.RawMessage) string {
	if len(raw) == 0 {
		return ""
	}
	switch c := raw[0]; {
	case c == '"':
		var s string
		if json.Unmarshal(raw, &s) != nil {
			return ""
		}
		return clean(s)
	// Databases and spreadsheets turn an id 12 into 12.0; its owner knows it as 12.
	case c == '-' || c >= '0' && c <= '9':
		if whole, part, ok := strings.Cut(string(raw), "."); ok && strings.Trim(part, "0") == "" {
			return whole
		}
		return string(raw)
	case c == 't' || c == 'f':
		return string(raw)
	}
	return ""
}

// clean drops white space around a text and makes blanks of line ends and control letters in it, which would break
// tables and file names.
func clean(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s))
}

// yes tells whether a property says yes.
func (d *drawing) yes(name string) bool {
	switch strings.ToLower(d.text(name)) {
	case "true", "t", "yes", "y", "1":
		return true
	}
	return false
}
