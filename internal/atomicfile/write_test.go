package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
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

// What is no file keeps its place: a rename over a device would take it from every program. Behind a link the file is written, and the link
// stays.
func TestWriteReplacesFilesAlone(t *testing.T) {
	dir := t.TempDir()
	text := func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }
	if err := os.Symlink(os.DevNull, filepath.Join(dir, "device")); err != nil {
		t.Skip("no links here:", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"device", "folder"} {
		before, _ := os.Lstat(filepath.Join(dir, name))
		err := Write(filepath.Join(dir, name), text)
		after, _ := os.Lstat(filepath.Join(dir, name))
		if err == nil || !strings.Contains(err.Error(), name+": is no ordinary file") || !os.SameFile(before, after) {
			t.Errorf("%s: error %v, now %v", name, err, after.Mode())
		}
	}
	real, link := filepath.Join(dir, "folder", "record.csv"), filepath.Join(dir, "record.csv")
	if err := os.WriteFile(real, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Fatal(err)
	}
	if err := Write(link, text); err != nil {
		t.Fatal(err)
	}
	got, _ := os.ReadFile(real)
	if st, err := os.Lstat(link); err != nil || st.Mode()&os.ModeSymlink == 0 || string(got) != "new" {
		t.Errorf("the file behind the link holds %q; %v", got, err)
	}
}
