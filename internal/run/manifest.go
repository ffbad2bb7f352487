package run

import (
	"encoding/json"
	"fmt"
	"io"

	"rootworthy/export"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// manifest is run.json.
type manifest struct {
	Run string `json:"rootworthy"` // always "run": tells this file from any other run.json
	// Names of members are the format: a renamed Go field must keep its tag, or older folders could not be read.
	Schema     int                    `json:"schema"`
	Fields     int                    `json:"fields"`
	Zones      int                    `json:"zones"`
	Unanswered []unanswered           `json:"without_answer"` // a list of their own: who only counts need not read the fields
	Provenance suitability.Provenance `json:"provenance"`
	Faults     []fault                `json:"faults"`
	Profile    *suitability.Profile   `json:"crop_profile,omitempty"`
}

// unanswered is a field that got no zones, and why.
type unanswered struct {
	ID      string `json:"field_id"`
	Name    string `json:"field_name"`
	Trouble string `json:"trouble"`
}

// fault is [diag.Fault] as run.json has it. The two convert into each other.
// A type of its own, so that a member added to diag.Fault does not change the file unnoticed.
type fault struct {
	Severity severity `json:"severity"`
	File     string   `json:"file,omitempty"`
	Line     int      `json:"line,omitempty"`
	// of binary files, which have no lines
	Offset  int64  `json:"offset,omitempty"`
	Feature string `json:"feature,omitempty"`
	Field   string `json:"field,omitempty"`
	Kind    string `json:"kind,omitempty"`
	What    string `json:"what"`
	Fix     string `json:"fix,omitempty"`

	Ground string         `json:"field_id,omitempty"`
	More   map[string]int `json:"more_like_it,omitempty"` // by field_id, "" for those about no field; written in the order of the ids
}

// severity is [diag.Severity] as a word.
type severity diag.Severity

// MarshalText writes the word.
func (s severity) MarshalText() ([]byte, error) { return []byte(diag.Severity(s).String()), nil }

// UnmarshalText reads the word.
func (s *severity) UnmarshalText(b []byte) error {
	// By the words of the type itself, so that a third severity could not be forgotten here alone.
	for _, x := range []diag.Severity{diag.Wrong, diag.Notice} {
		if x.String() == string(b) {
			*s = severity(x)
			return nil
		}
	}
	return fmt.Errorf("%q is neither fault nor notice", b)
}

// newManifest gathers what no other file holds.
func newManifest(r *suitability.Result) manifest {
	m := manifest{Run: "run", Schema: Schema, Fields: len(r.Fields), Zones: len(export.Zones(r)), Provenance: r.Provenance,
		// Empty lists and not nil, which would be printed as null: a reader in another language can count both without asking.
		Profile: r.Profile, Faults: []fault{}, Unanswered: []unanswered{}}
	for _, f := range r.Fields {
		if f.Trouble != "" {
			// Whole rows for people and for lists of runs; Read takes the trouble of a field from fields.geojson.
			m.Unanswered = append(m.Unanswered, unanswered{f.ID, f.Name, f.Trouble})
		}
	}
	for _, f := range r.Faults {
		m.Faults = append(m.Faults, fault{severity(f.Severity), f.File, f.Line, f.Offset, f.Feature, f.Field, f.Kind, f.What, f.Fix, f.Ground, f.More})
	}
	return m
}

// write prints it on many lines: people read this file.
func (m manifest) write(w io.Writer) error {
	enc := json.NewEncoder(w)
	// "<" as \u003c is for pages; this is read by people and compared by programs.
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(m)
}

// readManifest reads run.json and refuses a folder of a newer program.
func readManifest(r io.Reader) (m manifest, err error) {
	// Members that this program does not know are passed over: what is added by a newer one without a new schema may be
	// ignored.
	if err := json.NewDecoder(r).Decode(&m); err != nil {
		return m, fmt.Errorf("not readable, cut off or changed by hand (%w): run screen again", err)
	}
	switch {
	case m.Run != "run":
		return m, fmt.Errorf("does not describe a run")
	// Refused rather than half understood: a limit that is missed would change what an explanation says.
	case m.Schema < 1 || m.Schema > Schema:
		return m, fmt.Errorf("is of schema %d; this program reads up to %d; use the program that wrote it, or run again", m.Schema, Schema)
	}
	return m, nil
}

// faults returns what was found wrong when the run was made.
func (m manifest) faults() []diag.Fault {
	var out []diag.Fault
	for _, f := range m.Faults {
		out = append(out, diag.Fault{Severity: diag.Severity(f.Severity), File: f.File, Line: f.Line, Offset: f.Offset,
			Feature: f.Feature, Field: f.Field, Kind: f.Kind, What: f.What, Fix: f.Fix, Ground: f.Ground, More: f.More})
	}
	return out
}
