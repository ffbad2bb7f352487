package suitability

import (
	"crypto/sha256"
	"encoding/hex"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// Result is one run: everything that every output is written from, with no second computation. Outputs may leave out and round, but work
// out nothing: two of them can then never disagree.
type Result struct {
	Fields     []Field // in the order of the input
	Zones      []Zone  // by field, then number
	Profile    *Profile
	Provenance Provenance
	Faults     []diag.Fault // faults first, then notices
}

// Provenance says what a run was made from, so that it can be made again.
type Provenance struct {
	Schema  int          `json:"schema"`  // version of the run folder
	Program string       `json:"program"` // name and version
	Date    string       `json:"date"`    // the date the user gave as today ("2026-11-25"); "" when none
	Inputs  []Input      `json:"inputs"`
	Surveys []SurveyArea `json:"survey_areas"`
	Plane   string       `json:"plane"`   // the equal-area plane in which areas were measured
	Profile string       `json:"profile"` // name and edition
	Options []Option     `json:"options"` // every option in force, sorted by name

	Surfaces []Surface `json:"surfaces,omitempty"` // through sampled points, where they were asked for
}

// Option returns the value of an option that was in force; "" for one that was not given.
func (p *Provenance) Option(name string) string {
	for _, o := range p.Options {
		if o.Name == name {
			return o.Value
		}
	}
	return ""
}

// Input is a file that was read. The sum of the bytes says whether a file of that name is the one that was read.
type Input struct {
	Role   string `json:"role"` // fields, exclude, survey, profile
	Name   string `json:"name"` // base name as the user gave it; never a full path
	SHA256 string `json:"sha256"`
}

// Is says whether text is the file that was read, to the last bit.
func (in Input) Is(text []byte) bool {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:]) == in.SHA256
}

// SurveyArea is a survey area as it described itself.
type SurveyArea struct {
	Symbol  string        `json:"symbol"`
	Name    string        `json:"name"`
	Version string        `json:"version"`
	Date    string        `json:"date"`
	Scale   unit.Opt[int] `json:"scale"`
	General bool          `json:"general,omitempty"`
	Credit  string        `json:"credit,omitempty"`
}

// Option is one setting with its value in words.
type Option struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}
