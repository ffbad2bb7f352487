package run

import (
	"fmt"
	"io"
	"io/fs"

	"rootworthy/suitability"
)

// Head is what a run says of itself: enough for a list of runs, without reading its zones.
type Head struct {
	// Counts as run.json states them; whether the other files agree, only [Read] finds out.
	Fields, Zones, Unanswered int
	Faults                    int // faults and notices that are told
	Provenance                suitability.Provenance
}

// ReadHead reads only the file that describes a run.
func ReadHead(fsys fs.FS) (h Head, err error) {
	// run.json is written last and small, so that a list of a hundred runs is there at once.
	err = readFile(fsys, runFile, func(in io.Reader) error {
		m, err := readManifest(in)
		h = Head{Fields: m.Fields, Zones: m.Zones, Unanswered: len(m.Unanswered), Faults: len(m.Faults), Provenance: m.Provenance}
		return err
	})
	if err != nil {
		return h, fmt.Errorf("%s: %w", runFile, err)
	}
	return h, nil
}
