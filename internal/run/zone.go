package run

import (
	"fmt"
	"io"
	"io/fs"
	"strings"

	"rootworthy/export"
	"rootworthy/suitability"
)

// mostListed is how many zone ids an error lists.
const mostListed = 12

// ReadZone reads one zone, without its shape, and the crop profile of the run: all that an explanation needs. An
// unknown id is an error that lists the ids there are.
func ReadZone(fsys fs.FS, id string) (z suitability.Zone, profile *suitability.Profile, err error) {
	// The profile first: without its limits the reasons of a zone cannot be explained.
	// Only its manifest step is used, which needs no indexes.
	r := &reader{}
	if err := readFile(fsys, runFile, r.manifest); err != nil {
		return z, nil, fmt.Errorf("%s: %w", runFile, err)
	}
	var ids []string
	err = readFile(fsys, reasonsFile, func(in io.Reader) error {
		records := export.NewRecords(in)
		for n := 1; ; n++ {
			switch record, err := records.Next(); {
			case err == io.EOF:
				return unknownZone(id, ids)
			case err != nil:
				return fmt.Errorf("line %d: %w", n, err)
			// The rest of the file is not looked at: a question about one zone should not cost the reading of all.
			case record.ID == id:
				z = record.Zone()
				return nil
			default:
				// Kept for the message alone; ids are short, and the records themselves are let go.
				ids = append(ids, record.ID)
			}
		}
	})
	if err != nil {
		return z, nil, fmt.Errorf("%s: %w", reasonsFile, err)
	}
	return z, r.result.Profile, nil
}

// unknownZone says which zones there are.
func unknownZone(id string, ids []string) error {
	more := ""
	if len(ids) > mostListed {
		more = fmt.Sprintf(", … (%d in all)", len(ids))
		// Enough to see how ids are written, which is what a mistyped one needs.
		ids = ids[:mostListed]
	}
	return fmt.Errorf("there is no zone %q; there are %s%s", id, strings.Join(ids, ", "), more)
}
