package exchange_test

import (
	"archive/zip"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// unzip unpacks a zip whose files stand at its root.
func unzip(t *testing.T, from, to string) {
	t.Helper()
	z, err := zip.OpenReader(from)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, f := range z.File {
		if filepath.Base(f.Name) != f.Name {
			t.Fatalf("%s does not stand at the root", f.Name)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err == nil {
			err = os.WriteFile(filepath.Join(to, f.Name), b, 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
		r.Close()
	}
}
