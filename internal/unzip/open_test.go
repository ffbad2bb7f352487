package unzip_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"slices"
	"testing"
	"testing/fstest"

	"rootworthy/internal/unzip"
)

// packed makes a zip of members with these names, each holding its name.
func packed(t *testing.T, names ...string) *bytes.Reader {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range names {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, NonUTF8: true, Method: zip.Deflate})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(name)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(b.Bytes())
}

// Byte 0x81 is ü and 0x94 is ö in code page 437 (the table of the Unicode Consortium, CP437.TXT).
func TestNamesOfOtherPrograms(t *testing.T) {
	in := packed(t, `Farm\South Half\Fields.SHP`, "Farm\\S\x81d.shp", "H\x94he/dem.tif", "plain/a.txt", "grün/b.txt")
	z, err := unzip.Open(in, in.Size())
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"Farm/South Half/Fields.SHP", "Farm/Süd.shp", "Höhe/dem.tif", "plain/a.txt", "grün/b.txt"}
	// The library's own judge of file systems: every name that a folder lists can be opened under it, and read.
	if err := fstest.TestFS(z, want...); err != nil {
		t.Error(err)
	}
	var seen []string
	err = fs.WalkDir(z, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			seen = append(seen, p)
		}
		return err
	})
	slices.Sort(want)
	slices.Sort(seen)
	if err != nil || !slices.Equal(seen, want) {
		t.Errorf("found %q (%v), want %q", seen, err, want)
	}
}

func TestNoZip(t *testing.T) {
	in := bytes.NewReader([]byte("PK, but no zip"))
	if _, err := unzip.Open(in, in.Size()); err != zip.ErrFormat {
		t.Errorf("got %v, want %v", err, zip.ErrFormat)
	}
}
