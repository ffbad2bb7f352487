package export

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"rootworthy/suitability"
)

// userPrefix marks an attribute of the user whose name is one of ours.
const userPrefix = "user_"

// AttributeNames keeps the user's attributes apart from our own properties in fields.geojson. Get one by
// [NewAttributeNames].
type AttributeNames struct{ ours map[string]bool }

// NewAttributeNames knows the properties of [FieldColumns].
func NewAttributeNames() AttributeNames {
	n := AttributeNames{map[string]bool{}}
	for _, e := range fieldEntries() {
		n.ours[e.Name] = true
	}
	return n
}

// Ours says whether a property of fields.geojson is one of ours and not an attribute of the user.
func (n AttributeNames) Ours(property string) bool { return n.ours[property] }

// Written returns the name under which an attribute of the user is written: its own, or with "user_" before it when
// that is the name of a property of ours. A name that already looks like that gets one more, so that Original can undo
// it.
func (n AttributeNames) Written(name string) string {
	// However often "user_" stands before it already: a file of ours may be given back to us as boundaries.
	bare := name
	for strings.HasPrefix(bare, userPrefix) {
		bare = bare[len(userPrefix):]
	}
	if n.ours[bare] {
		return userPrefix + name
	}
	return name
}

// Original undoes Written.
func (n AttributeNames) Original(written string) string {
	// Only a prefix that Written would have put there is taken off; an attribute of the user may begin so by itself.
	if rest, ok := strings.CutPrefix(written, userPrefix); ok && n.Written(rest) == written {
		return rest
	}
	return written
}

// append appends the user's attributes to an object that is still open. Values are written as they were read, blanks
// taken out.
func (n AttributeNames) append(b []byte, f *suitability.Field) ([]byte, error) {
	taken := map[string]bool{}
	for _, a := range f.Attributes {
		name := n.Written(a.Name)
		for i := 2; taken[name]; i++ { // the same name twice in one feature: keep both
			name = n.Written(a.Name) + "_" + strconv.Itoa(i)
		}
		taken[name] = true
		b = append(appendString(append(b, ','), name), ':')
		// An attribute without a value is kept as null; left out, it would look as if the file had never had it.
		if len(a.Value) == 0 {
			b = append(b, "null"...)
			continue
		}
		var compact bytes.Buffer
		// Blanks and line ends within a value would break the rule of one feature a line.
		if err := json.Compact(&compact, a.Value); err != nil {
			return nil, fmt.Errorf("field %s: attribute %q is not JSON: %w", f.ID, a.Name, err)
		}
		b = append(b, compact.Bytes()...)
	}
	return b, nil
}
