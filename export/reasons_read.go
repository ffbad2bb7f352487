package export

import (
	"encoding/json"
	"io"

	"rootworthy/suitability"
)

// Records reads reasons.jsonl record by record. Zones on one map unit share the components they came with: a county has
// a few dozen map units and thousands of zones.
type Records struct {
	dec  *json.Decoder
	seen map[string][]suitability.ComponentRating
}

// NewRecords returns a reader of records from r, which should be buffered.
func NewRecords(r io.Reader) *Records {
	return &Records{dec: json.NewDecoder(r), seen: map[string][]suitability.ComponentRating{}}
}

// Next returns the next record, or io.EOF after the last. What it points to is shared with other records.
func (r *Records) Next() (Record, error) {
	var l line
	if err := r.dec.Decode(&l); err != nil {
		return Record{}, err
	}
	// By their very text: what reads alike is alike, whether or not it was one list when it was written.
	components, ok := r.seen[string(l.Rating.Components)]
	if !ok && len(l.Rating.Components) > 0 {
		if err := json.Unmarshal(l.Rating.Components, &components); err != nil {
			return Record{}, err
		}
		r.seen[string(l.Rating.Components)] = components
	}
	record := l.Record
	record.Rating = l.Rating.UnitRating
	record.Rating.Components = components
	return record, nil
}
