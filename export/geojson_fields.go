package export

import (
	"io"

	"rootworthy/suitability"
)

// WriteFields writes fields.geojson: one feature for each boundary as it was used, in the order of the result. Its
// properties are the field table, then the user's own attributes in their order, renamed by [AttributeNames] where
// they would clash. Two foreign members stand beside them: m2, the areas unrounded, and uncovered, the geometry of the
// part outside the survey (null when there is none). A part of its own would make a field count twice.
func WriteFields(w io.Writer, r *suitability.Result, words Sentences) error {
	sums := Sums(r)
	box := noBox()
	for _, s := range sums { // tidied twice, as zones are
		widen(&box, Tidy(s.Field.Shape))
	}
	c := startCollection(w, "Fields as used", box, r, words)
	entries := fieldEntries()
	columns, names := columns(entries), NewAttributeNames()
	var properties, more []byte
	var err error
	for _, s := range sums {
		properties = appendObject(properties[:0], columns, row(entries, &s))
		// The closing brace is taken off, since the user's attributes stand in the same object.
		if properties, err = names.append(properties[:len(properties)-1], s.Field); err != nil {
			return err
		}
		more = appendAreas(more[:0], s.Field)
		more = appendStrings(append(more, `,"repairs":`...), s.Field.Repairs)
		more = appendGeometry(append(more, `,"uncovered":`...), Tidy(s.Field.Outside))
		c.feature(s.Field.ID, Tidy(s.Field.Shape), append(properties, '}'), more)
	}
	return c.close()
}

// appendAreas appends the areas in square metres, unrounded, so that zones + uncovered - doubled = field can be checked to
// the last bit.
func appendAreas(b []byte, f *suitability.Field) []byte {
	b = append(b, `,"m2":{"field":`...)
	b = number(float64(f.Area), Exact).json(b)
	b = number(float64(f.Uncovered), Exact).json(append(b, `,"uncovered":`...))
	b = number(float64(f.Doubled), Exact).json(append(b, `,"doubled":`...))
	b = number(float64(f.Excluded), Exact).json(append(b, `,"excluded":`...))
	return append(b, '}')
}
