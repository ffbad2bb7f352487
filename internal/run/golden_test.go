package run_test

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
)

var update = flag.Bool("update", false, "rewrite the golden run folder")

const goldenDir = "testdata/quillmoor"

// The golden folder is read like code when it changes, and must stay readable: whoever kept a run of this schema keeps
// a run that opens.
func TestTheGoldenRunIsWrittenAndRead(t *testing.T) {
	got := bytesOf(t, quillmoor.Result())
	if *update {
		if err := run.Write(goldenDir, quillmoor.Result()); err != nil {
			t.Fatal(err)
		}
	}
	golden := fstest.MapFS{}
	for _, name := range run.Files() {
		b, err := os.ReadFile(filepath.Join(goldenDir, name))
		if err != nil {
			t.Fatal(err)
		}
		golden[name] = &fstest.MapFile{Data: b}
	}
	sameFiles(t, got, golden)
	r, err := run.Read(golden)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Fields) != 5 || len(r.Zones) != 8 || r.Provenance.Schema != run.Schema {
		t.Errorf("read %d fields and %d zones of schema %d", len(r.Fields), len(r.Zones), r.Provenance.Schema)
	}
}
