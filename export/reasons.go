package export

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Record is one line of reasons.jsonl: all that is known of a zone but its shape, quantities unrounded and in SI. It is
// what an explanation prints and what a run is read back from.
type Record struct {
	ID         string                 `json:"zone_id"`
	FieldID    string                 `json:"field_id"`
	FieldName  string                 `json:"field_name"`
	Number     int                    `json:"zone"`
	SurveyArea string                 `json:"survey_area"`
	MapUnitKey string                 `json:"mukey"`
	Symbol     string                 `json:"musym"`
	MapUnit    string                 `json:"map_unit"`
	Area       unit.Area              `json:"area_m2"`
	Pieces     int                    `json:"pieces"`
	Rating     suitability.UnitRating `json:"rating"`
	Lime       LimeRecord             `json:"lime"`
}

// LimeRecord is [suitability.Lime] with the names it has in reasons.jsonl. The two convert into each other, so that a
// new field there does not compile here until it is kept.
type LimeRecord struct {
	Basis       string                  `json:"basis"`
	Low         unit.Opt[unit.AreaRate] `json:"low_kg_m2"`
	Likely      unit.Opt[unit.AreaRate] `json:"likely_kg_m2"`
	High        unit.Opt[unit.AreaRate] `json:"high_kg_m2"`
	Bound       string                  `json:"bound,omitempty"`
	Target      unit.PH                 `json:"target_ph"`
	Why         string                  `json:"why,omitempty"`
	Notes       []string                `json:"notes,omitempty"`
	Product     unit.Opt[unit.AreaRate] `json:"product_kg_m2"`
	ProductMass unit.Opt[unit.Mass]     `json:"product_kg"`
	Passes      int                     `json:"passes"`
	WaitMonths  int                     `json:"wait_months"`
	Ready       string                  `json:"ready,omitempty"`
	Window      string                  `json:"window,omitempty"`
	AsSold      bool                    `json:"as_sold,omitempty"`
	Test        *suitability.LimeTest   `json:"test,omitempty"`
}

// RecordOf returns the record of a zone.
func RecordOf(z *suitability.Zone) Record {
	return Record{ID: z.ID, FieldID: z.FieldID, FieldName: z.FieldName, Number: z.Number, SurveyArea: z.SurveyArea,
		MapUnitKey: z.MapUnitKey, Symbol: z.Symbol, MapUnit: z.MapUnit, Area: z.Area, Pieces: z.Pieces,
		Rating: z.Rating, Lime: LimeRecord(z.Lime)}
}

// Zone returns the zone of a record, without its shape.
func (r Record) Zone() suitability.Zone {
	return suitability.Zone{ID: r.ID, FieldID: r.FieldID, FieldName: r.FieldName, Number: r.Number, SurveyArea: r.SurveyArea,
		MapUnitKey: r.MapUnitKey, Symbol: r.Symbol, MapUnit: r.MapUnit, Area: r.Area, Pieces: r.Pieces,
		Rating: r.Rating, Lime: suitability.Lime(r.Lime)}
}

// WriteReasons writes reasons.jsonl, a [Record] a line, zones in the order of every file. A quantity that is no number
// is a fault of the program: it is refused with the zone's id rather than written.
func WriteReasons(w io.Writer, r *suitability.Result) error {
	out := bufio.NewWriterSize(w, 1<<16)
	// Keyed by the address of the first component: zones on one map unit share one list.
	done := map[*suitability.ComponentRating][]byte{}
	var b bytes.Buffer
	for _, z := range Zones(r) {
		// By identity and not by content: comparing them would cost what encoding costs.
		components, err := encoded(z.Rating.Components, done)
		b.Reset()
		if err == nil {
			err = encode(&b, line{Record: RecordOf(z), Rating: ratingLine{UnitRating: z.Rating}})
		}
		if err != nil {
			return fmt.Errorf("zone %s: cannot write its reasons: %w", z.ID, err)
		}
		// The record ends with its rating, so the two braces are that of the rating and that of the record; components
		// go in before them.
		out.Write(bytes.TrimSuffix(b.Bytes(), []byte("}}\n"))) // bufio keeps the first error
		out.WriteString(`,"components":`)
		out.Write(components)
		out.WriteString("}}\n")
	}
	return out.Flush()
}

// line is a Record that ends with its components, encoded on their own: they are most of it, and zones on one map unit
// share them, so that they need not be encoded, nor decoded, for every zone.
type line struct {
	Record
	Rating ratingLine `json:"rating"` // takes the place of the one in Record and stands last
}

// ratingLine is a rating without its components, which are written after it. The shallower of two fields of one name wins
// in encoding/json, so this one hides that of the rating.
type ratingLine struct {
	suitability.UnitRating
	Components json.RawMessage `json:"components,omitempty"` // likewise
}

// encoded returns components as JSON, from done when the same ones (not equal ones: the very same) were encoded before.
func encoded(components []suitability.ComponentRating, done map[*suitability.ComponentRating][]byte) ([]byte, error) {
	// An empty list and not null: a reader may loop over it.
	if len(components) == 0 {
		return []byte("[]"), nil
	}
	if b, ok := done[&components[0]]; ok {
		return b, nil
	}
	var b bytes.Buffer
	err := encode(&b, components)
	done[&components[0]] = bytes.TrimSuffix(b.Bytes(), []byte("\n"))
	return done[&components[0]], err
}

// encode appends v and a newline as JSON, with < > & left readable.
func encode(b *bytes.Buffer, v any) error {
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
