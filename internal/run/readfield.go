package run

import (
	"bytes"
	"encoding/json"
	"errors"

	"rootworthy/export"
	"rootworthy/suitability"
)

// fieldOf turns a feature of fields.geojson back into a field; its zones come later.
func fieldOf(f feature, names export.AttributeNames) (out suitability.Field, err error) {
	out = suitability.Field{ID: f.ID, Area: f.M2.Field, Uncovered: f.M2.Uncovered, Doubled: f.M2.Doubled, Excluded: f.M2.Excluded, Repairs: f.Repairs}
	if out.Shape, err = f.Geometry.shape(); err != nil {
		return out, err
	}
	if out.Outside, err = f.Uncovered.shape(); err != nil {
		return out, err
	}
	// Areas came from the foreign member, unrounded: those among the properties are in acres for people and would not
	// add up to the last bit.
	return out, properties(f.Properties, names, &out)
}

// properties takes our own properties apart and keeps all others as the user's attributes, in their order and with
// the names they had.
func properties(raw json.RawMessage, names export.AttributeNames, out *suitability.Field) error {
	// By hand and not into a map: a map would lose the order of the user's attributes, which is written again.
	dec := json.NewDecoder(bytes.NewReader(raw))
	if t, err := dec.Token(); err != nil || t != json.Delim('{') {
		return errors.New("properties are not an object")
	}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return err
		}
		// As it stands: a number keeps its digits, and 1.10 does not become 1.1.
		var value json.RawMessage
		if err := dec.Decode(&value); err != nil {
			return err
		}
		name, _ := key.(string)
		// The other properties of ours follow from areas and zones, and are worked out anew when they are asked for.
		if names.Ours(name) {
			if err := ours(name, value, out); err != nil {
				return err
			}
			continue
		}
		out.Attributes = append(out.Attributes, suitability.Attribute{Name: names.Original(name), Value: value})
	}
	return nil
}

// ours reads the properties that say more than the areas and zones from which all others follow.
func ours(name string, value json.RawMessage, out *suitability.Field) error {
	word := func(to *string) error {
		// Missing is written as null and is the empty text here.
		if bytes.Equal(value, []byte("null")) {
			return nil
		}
		return json.Unmarshal(value, to)
	}
	switch name {
	case "field_name":
		return word(&out.Name)
	case "customer":
		return word(&out.Customer)
	case "farm":
		return word(&out.Farm)
	case "trouble":
		return word(&out.Trouble)
	// Yes or no as words, as people read them in a table; anything else, null included, is no.
	case "drained":
		out.Drained = string(value) == `"yes"`
	case "partly_outside":
		out.Partly = string(value) == `"yes"`
	}
	return nil
}
