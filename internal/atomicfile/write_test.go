package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// A writer that fails half way leaves the old file and nothing beside it.
func TestWriteIsWholeOrAbsent(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "zones.csv")
	if err := Write(path, func(w io.Writer) error { _, err := io.WriteString(w, "first"); return err }); err != nil {
		t.Fatal(err)
	}
	boom := errors.New("disk full")
	err := Write(path, func(w io.Writer) error { io.WriteString(w, "half"); return boom })
	if !errors.Is(err, boom) {
		t.Fatalf("err = %v, want it to wrap the writer's error", err)
	}
	got, _ := os.ReadFile(path)
	if string(got) != "first" {
		t.Errorf("file holds %q, want the old content", got)
	}
	if names, _ := os.ReadDir(dir); len(names) != 1 {
		t.Errorf("folder holds %d entries, want 1: nothing left behind", len(names))
	}
	if st, _ := os.Stat(path); st.Mode().Perm() != 0o644 {
		t.Errorf("mode %v, want 0644", st.Mode())
	}
}
