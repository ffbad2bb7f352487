package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	runfolder "rootworthy/internal/run"
	"rootworthy/suitability"
)

// limeTable is the file of a run in which people change rates by hand, since it is a table.
const limeTable = "lime.csv"

// tellEdited says on w that the lime list of a run is no longer as it was written. A run is read from its reasons, so a rate that was changed
// in the table is not what goes into the cab, and whoever changed it must hear so. A list that was taken out of the folder does no harm.
func tellEdited(w io.Writer, dir string, r *suitability.Result) {
	name := filepath.Join(dir, limeTable)
	got, err := os.ReadFile(name)
	if err != nil {
		return
	}
	var want bytes.Buffer
	// A run of another version of the program may have been written in other words, with nothing changed by hand.
	if runfolder.WriteFile(&want, limeTable, r) != nil || r.Provenance.Program != "rootworthy "+version || bytes.Equal(got, want.Bytes()) {
		return
	}
	fmt.Fprintf(w, "note: %s is not as it was written; what was changed in it does not count, the lime of the run does. To change that, screen again with other flags or tests\n", name)
}
