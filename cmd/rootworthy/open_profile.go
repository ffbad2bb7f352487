package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// openProfile reads a crop profile, the built-in one when path is empty. A profile with a fault is refused: a wrong
// limit would be wrong everywhere.
func openProfile(path string, faults *diag.List) (*suitability.Profile, []*witness, error) {
	if path == "" {
		return suitability.DefaultProfile(), nil, nil
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	// A list of its own, so that faults of the profile can be told from those found before it.
	var own diag.List
	p, err := suitability.LoadProfile(path, bytes.NewReader(text), &own)
	if err != nil {
		return nil, nil, err
	}
	if own.Faults() > 0 {
		return nil, nil, fmt.Errorf("the crop profile has faults:\n%s", own.String())
	}
	// What is left are notices; they go with those of the run.
	for _, f := range own.Kept() {
		faults.Add(f)
	}
	w := &witness{FS: os.DirFS(dirOf(path)), role: "profile", name: path, opened: map[string]bool{baseName(path): true}}
	return p, []*witness{w}, nil
}

// writeProfile writes the built-in crop profile for the user to copy and edit.
func writeProfile(path string, std stdio) error {
	err := writeNew(path, func(w io.Writer) error { _, err := io.WriteString(w, suitability.DefaultProfileText()); return err })
	if err == nil {
		fmt.Fprintf(std.out, "wrote the built-in crop profile to %s; edit it and use it with --profile\n", path)
	}
	return err
}
