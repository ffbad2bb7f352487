// Package marker is the small file by which a command knows an output folder as its own: plan.json, rank.json, report.json and their like.
//
// A folder is replaced only where its marker says that the same command made it; any other is somebody's work and is left alone. So a marker
// is put in place last, when the rest is whole, and it lists the files beside it where their names differ from call to call: those of an
// earlier call that the new one does not write go with it.
//
//	kind := marker.Kind{Word: "plan", What: "a plan"}
//	marker.Write(w, planMark{kind.Head(program, date), region})
//	err := kind.Ours(r) // nil for a marker of this kind
package marker

import (
	"encoding/json"
	"errors"
	"io"
)

// Kind is what a folder holds.
type Kind struct {
	Word string // in the marker
	What string // in words, behind "it does not describe"
}

// Head is what every marker begins with. Markers embed it, so that its members come first in the file.
type Head struct {
	Kind    string `json:"rootworthy"` // [Kind.Word]; the key tells the file from any other of its name
	Program string `json:"program"`
	Date    string `json:"date,omitempty"` // of the run or plan, never of the writing: the same call gives the same bytes
}

// Head returns the head of a marker.
func (k Kind) Head(program, date string) Head { return Head{k.Word, program, date} }

// Ours says whether a marker is of this kind; the error says what is wrong with it.
func (k Kind) Ours(r io.Reader) error {
	_, err := k.Files(r)
	return err
}

// Files returns the files that a marker of this kind lists under "files"; nil where it lists none.
func (k Kind) Files(r io.Reader) ([]string, error) {
	var m struct {
		Head
		Files []string `json:"files"`
	}
	if err := json.NewDecoder(r).Decode(&m); err != nil {
		return nil, err
	}
	if m.Kind != k.Word {
		return nil, errors.New("it does not describe " + k.What)
	}
	return m.Files, nil
}

// Write writes a marker on many lines: people look at it to see where a folder comes from.
func Write(w io.Writer, m any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false) // names of fields and runs may hold an ampersand, and no page reads this file
	enc.SetIndent("", " ")
	return enc.Encode(m)
}
