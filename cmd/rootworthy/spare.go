package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"rootworthy/internal/atomicfile"
)

// writeNew writes a file for the user to edit. It never takes the place of another file, which may hold their work.
func writeNew(path string, fill func(io.Writer) error) error {
	// Filled before anything is looked at: a text that is there already, byte for byte, is no fault, so that a script may run twice.
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return err
	}
	if there, err := os.ReadFile(path); err == nil && !bytes.Equal(there, b.Bytes()) {
		return fmt.Errorf("%s: is there already; name a new file, or remove that one first", path)
	}
	return atomicfile.Write(path, func(w io.Writer) error { _, err := w.Write(b.Bytes()); return err })
}

// notAnInput refuses to write over a file that was read.
func notAnInput(out string, inputs ...string) error {
	to, err := os.Stat(out)
	if err != nil {
		return nil // it is new
	}
	for _, in := range inputs {
		// The same file may go by two names, so what counts is the file behind them.
		if from, err := os.Stat(in); err == nil && os.SameFile(from, to) {
			return fmt.Errorf("%s: is also what was read; name another file for the result", out)
		}
	}
	return nil
}
