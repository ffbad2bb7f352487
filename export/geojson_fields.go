package export

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// WriteFields writes fields.geojson: one feature for each boundary as it was used, in the order of the result. Its
// properties are the field table, then the user's own attributes in their order, renamed by [AttributeName] where
// they would clash. Two foreign members stand beside them: m2, the areas unrounded, and uncovered, the geometry of the
// part outside the survey (null when there is none). A part of its own would make a field count twice.
func WriteFields(w io.Writer, r *suitability.Result, words Sentences) error {
	sums := Sums(r)
	shapes := make([]orb.MultiPolygon, len(sums))
	box := noBox()
	for i, s := range sums {
		shapes[i] = Tidy(s.Field.Shape)
		widen(&box, shapes[i])
	}
	c := startCollection(w, "Fields as used", box, r, words)
	entries := fieldEntries()
	names := columns(entries)
	var properties, more []byte
	var err error
	for i, s := range sums {
		properties = appendObject(properties[:0], names, row(entries, &s))
		if properties, err = appendAttributes(properties[:len(properties)-1], s.Field); err != nil {
			return err
		}
		more = appendAreas(more[:0], s.Field)
		more = appendStrings(append(more, `,"repairs":`...), s.Field.Repairs)
		more = appendGeometry(append(more, `,"uncovered":`...), Tidy(s.Field.Outside))
		c.feature(s.Field.ID, shapes[i], append(properties, '}'), more)
	}
	return c.close()
}

func appendAreas(b []byte, f *suitability.Field) []byte {
	b = append(b, `,"m2":{"field":`...)
	b = number(float64(f.Area), Exact).json(b)
	b = number(float64(f.Uncovered), Exact).json(append(b, `,"uncovered":`...))
	b = number(float64(f.Doubled), Exact).json(append(b, `,"doubled":`...))
	b = number(float64(f.Excluded), Exact).json(append(b, `,"excluded":`...))
	return append(b, '}')
}

// userPrefix marks an attribute of the user whose name is one of ours.
const userPrefix = "user_"

// AttributeName returns the name under which an attribute of the user is written: its own, or with "user_" before it
// when that is the name of a property of ours. A name that already looks like that gets one more, so that
// [UserName] can undo it.
func AttributeName(name string) string {
	bare := name
	for strings.HasPrefix(bare, userPrefix) {
		bare = bare[len(userPrefix):]
	}
	if IsFieldColumn(bare) {
		return userPrefix + name
	}
	return name
}

// IsFieldColumn says whether a property of fields.geojson is one of ours and not an attribute of the user.
func IsFieldColumn(name string) bool {
	return slices.ContainsFunc(fieldEntries(), func(e entry[*Sum]) bool { return e.Name == name })
}

// UserName undoes [AttributeName].
func UserName(written string) string {
	if rest, ok := strings.CutPrefix(written, userPrefix); ok && AttributeName(rest) == written {
		return rest
	}
	return written
}

func appendAttributes(b []byte, f *suitability.Field) ([]byte, error) {
	taken := map[string]bool{}
	for _, a := range f.Attributes {
		name := AttributeName(a.Name)
		for n := 2; taken[name]; n++ { // the same name twice in one feature: keep both
			name = AttributeName(a.Name) + "_" + strconv.Itoa(n)
		}
		taken[name] = true
		b = append(appendString(append(b, ','), name), ':')
		if len(a.Value) == 0 {
			b = append(b, "null"...)
			continue
		}
		var compact bytes.Buffer
		if err := json.Compact(&compact, a.Value); err != nil {
			return nil, fmt.Errorf("field %s: attribute %q is not JSON: %w", f.ID, a.Name, err)
		}
		b = append(b, compact.Bytes()...)
	}
	return b, nil
}
