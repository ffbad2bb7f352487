package run

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"rootworthy/soils/unit"
)

// feature is one feature of our own GeoJSON files; members that the other file has stay empty.
type feature struct {
	// The id of a zone is "field/number", that of a field its own; by it the files are joined.
	ID         string          `json:"id"`
	Geometry   *geometry       `json:"geometry"`
	Properties json.RawMessage `json:"properties"`
	// The three below are foreign members (RFC 7946, section 6.1) of fields.geojson alone: programs that draw maps pass them
	// over, and they need not fit in a table cell.
	M2        areas     `json:"m2"`
	Repairs   []string  `json:"repairs"`
	Uncovered *geometry `json:"uncovered"`
}

// areas are the unrounded areas of a field, in square metres.
type areas struct {
	Field     unit.Area `json:"field"`
	Uncovered unit.Area `json:"uncovered"`
	Doubled   unit.Area `json:"doubled"`
	Excluded  unit.Area `json:"excluded"`
}

// errNotFeatures is any file that is something else.
var errNotFeatures = errors.New("is not a GeoJSON FeatureCollection of a run")

// eachFeature calls do for every feature of a collection, holding one at a time. Members before and after the
// features are passed over.
func eachFeature(r io.Reader, do func(feature) error) error {
	dec := json.NewDecoder(r)
	if err := expect(dec, '{'); err != nil {
		return err
	}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return fmt.Errorf("%w: %w", errNotFeatures, err)
		}
		// The writer puts what describes the run before the features, so that nothing after them is of interest to a
		// reader of zones.
		if key == "features" {
			return features(dec, do)
		}
		// Name, reference system and the like. They are read whole, for the decoder cannot step over a value; all are small.
		var skipped json.RawMessage
		if err := dec.Decode(&skipped); err != nil {
			return fmt.Errorf("%w: %w", errNotFeatures, err)
		}
	}
	return errNotFeatures
}

// features reads the array of features.
func features(dec *json.Decoder, do func(feature) error) error {
	if err := expect(dec, '['); err != nil {
		return err
	}
	for n := 1; dec.More(); n++ {
		var f feature
		// One feature is in memory at a time; a large run has files of hundreds of megabytes.
		if err := dec.Decode(&f); err != nil {
			return fmt.Errorf("feature %d: %w", n, err)
		}
		if err := do(f); err != nil {
			return fmt.Errorf("feature %d (%s): %w", n, f.ID, err)
		}
	}
	return expect(dec, ']') // a file cut off between two features ends here
}

// expect steps over one delimiter.
func expect(dec *json.Decoder, want json.Delim) error {
	switch t, err := dec.Token(); {
	case err != nil:
		return fmt.Errorf("%w: %w", errNotFeatures, err)
	case t != want:
		return errNotFeatures
	}
	return nil
}
