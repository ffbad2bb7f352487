package shapefile

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
)

// change returns the files with one of them changed.
func change(t *testing.T, ext string, edit func([]byte) []byte) fstest.MapFS {
	t.Helper()
	cols, rs := two()
	files := write(t, "a", cols, rs)
	files["a"+ext] = &fstest.MapFile{Data: edit(bytes.Clone(files["a"+ext].Data))}
	return files
}

func cut(n int) func([]byte) []byte { return func(b []byte) []byte { return b[:len(b)+n] } }

func put32(at int, v uint32, order binary.ByteOrder) func([]byte) []byte {
	return func(b []byte) []byte { order.PutUint32(b[at:], v); return b }
}

func put16(at int, v uint16) func([]byte) []byte {
	return func(b []byte) []byte { binary.LittleEndian.PutUint16(b[at:], v); return b }
}

// Places in the files that [two] writes: the first record's header stands at 100, its content at 108, the second
// record's header at secondAt.
const secondAt = 108 + polygonHead + 4*3 + 16*15

// TestDamage: what is damaged, how many records are kept, and one sentence about it. An error stands alone; a fault
// carries the byte.
func TestDamage(t *testing.T) {
	big, little := binary.BigEndian, binary.LittleEndian
	for _, tc := range []struct {
		name string
		ext  string
		edit func([]byte) []byte
		kept int
		want string // text of the error, or of the only fault
	}{
		{"empty .shp", ".shp", func([]byte) []byte { return nil }, 0, "a.shp: is empty"},
		{"header cut", ".shp", func(b []byte) []byte { return b[:60] }, 0, "a.shp: is cut off: it ends after 60 bytes, inside its header"},
		{"another format", ".shp", put32(0, 1, big), 0, "a.shp: is not a shapefile: it begins with 1 where 9994 must stand"},
		{"points", ".shp", put32(32, 1, little), 0, "a.shp: holds points, not polygons; name the polygon layer"},
		{"cut in the second record", ".shp", cut(-7), 1, fmt.Sprintf("a.shp at byte %d (record 2): the file ends inside this record, 121 of 128 bytes of it are there; it and all after it are lost; export or copy the file again", secondAt+8)},
		{"cut in a record's header", ".shp", func(b []byte) []byte { return b[:secondAt+5] }, 1, fmt.Sprintf("a.shp at byte %d: the file ends after record 1, but its header promises 540 bytes; export or copy the file again", secondAt+5)},
		{"cut between records", ".shp", func(b []byte) []byte { return b[:secondAt] }, 1, fmt.Sprintf("a.shp at byte %d: the file ends after record 1, but its header promises 540 bytes; export or copy the file again", secondAt)},
		{"record of 2 GB", ".shp", put32(secondAt+4, 1<<30-1, big), 1, fmt.Sprintf("a.shp at byte %d (record 2): the file ends inside this record, 128 of 2147483646 bytes of it are there; it and all after it are lost; export or copy the file again", secondAt+8)},
		{"record of 8 GB", ".shp", put32(secondAt+4, 1<<32-1, big), 1, fmt.Sprintf("a.shp at byte %d (record 2): the record claims 8589934590 bytes; it and all after it are lost; export or copy the file again", secondAt)},
		{"record of no bytes", ".shp", put32(secondAt+4, 0, big), 1, fmt.Sprintf("a.shp at byte %d (record 2): the record claims 0 bytes; it and all after it are lost; export or copy the file again", secondAt)},
		{"two milliard points", ".shp", put32(108+40, 2e9, little), 2, "a.shp at byte 108 (record 1): 3 parts with 2000000000 points do not fit its 296 bytes; it has no shape; export or copy the file again"},
		{"minus one part", ".shp", put32(108+36, 1<<32-1, little), 2, "a.shp at byte 108 (record 1): -1 parts with 15 points do not fit its 296 bytes; it has no shape; export or copy the file again"},
		{"parts out of order", ".shp", put32(108+44+8, 3, little), 2, "a.shp at byte 108 (record 1): part 3 begins before part 2; it has no shape; export or copy the file again"},
		{"part behind the points", ".shp", put32(108+44+8, 99, little), 2, "a.shp at byte 108 (record 1): part 3 begins at point 99 of 15; it has no shape; export or copy the file again"},
		{"first part not at 0", ".shp", put32(108+44, 2, little), 2, "a.shp at byte 108 (record 1): part 1 begins at point 2 of 15; it has no shape; export or copy the file again"},
		{"a line among polygons", ".shp", put32(108, 3, little), 2, "a.shp at byte 108 (record 1): shape type 3 in a layer of polygons; it has no shape; export or copy the file again"},
		{"empty .dbf", ".dbf", func([]byte) []byte { return nil }, 0, "a.dbf: is empty"},
		{".dbf header cut", ".dbf", func(b []byte) []byte { return b[:100] }, 0, "a.dbf: is cut off: it ends after 100 bytes, inside its header of 193"},
		{"header of 64 KB", ".dbf", put16(8, 65535), 0, "a.dbf: is cut off: it ends after 248 bytes, inside its header of 65535"},
		{"rows of 64 KB", ".dbf", put16(10, 65535), 0, "a.dbf: contradicts itself: its columns need rows of 27 bytes"},
		{"rows of no bytes", ".dbf", put16(10, 0), 0, "a.dbf: is no attribute table: its header claims to be 193 bytes long and its rows 0"},
		{"header of no bytes", ".dbf", put16(8, 0), 0, "a.dbf: is no attribute table: its header claims to be 0 bytes long and its rows"},
		{"four milliard rows", ".dbf", put32(4, 1<<32-1, little), 2, "a.dbf: its header promises 4294967295 rows, but it ends after 2, the last that has a polygon"},
		{"rows cut", ".dbf", cut(-6), 2, "a.dbf at byte 220: the file ends in row 2 (22 of 27 bytes), but its header promises 2 rows; the polygons from there on have no attributes; copy the .shp and .dbf again together; they belong to each other row by row"},
		{"fewer rows than shapes", ".dbf", put32(4, 1, little), 2, "a.dbf at byte 220: the table ends after 1 rows, but there are more polygons; they have no attributes; copy the .shp and .dbf again together; they belong to each other row by row"},
		{"more rows than shapes", ".shp", func(b []byte) []byte { return put32(24, secondAt/2, big)(b[:secondAt]) }, 1, "a.dbf at byte 220: the table goes on after row 1, the last that has a polygon (its header promises 2); copy the .shp and .dbf again together; they belong to each other row by row"},
		{"another table format", ".dbf", func(b []byte) []byte { b[0] = 'P'; return b }, 0, "a.dbf: is no attribute table: it begins with byte 0x50, not 0x03"},
		{"level 7", ".dbf", func(b []byte) []byte { b[0] = 4; return b }, 0, "a.dbf: is a level 7 table, which shapefiles do not use; save it as dBASE III or IV"},
	} {
		got, faults, err := readAll(t, change(t, tc.ext, tc.edit), "a.shp")
		said := strings.TrimSpace(faults.String())
		if err != nil {
			said = err.Error()
		}
		if len(got) != tc.kept || !strings.HasPrefix(said, tc.want) || strings.Contains(said, "\n") {
			t.Errorf("%s: kept %d, said:\n  %s\nwant %d:\n  %s", tc.name, len(got), said, tc.kept, tc.want)
		}
	}
}

// TestHeaderCountsAreNotAllocated: a file of 236 bytes that claims 2 GB records costs no memory.
func TestHeaderCountsAreNotAllocated(t *testing.T) {
	files := change(t, ".shp", put32(secondAt+4, 1<<30-1, binary.BigEndian))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	if _, _, err := readAll(t, files, "a.shp"); err != nil {
		t.Fatal(err)
	}
	runtime.ReadMemStats(&after)
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 4<<20 {
		t.Errorf("reading allocated %d bytes", grown)
	}
}

// TestGapIsCrossedWithTheIndex: some editors leave unused bytes between records, which only the .shx tells of.
func TestGapIsCrossedWithTheIndex(t *testing.T) {
	files := change(t, ".shp", func(b []byte) []byte {
		gap := bytes.Repeat([]byte{0xEE}, 20)
		return put32(24, uint32(len(b)+20)/2, binary.BigEndian)(bytes.Join([][]byte{b[:secondAt], gap, b[secondAt:]}, nil))
	})
	put32(headerSize+8, (secondAt+20)/2, binary.BigEndian)(files["a.shx"].Data)
	got, faults, err := readAll(t, files, "a.shp")
	if err != nil || len(got) != 2 || len(faults.Kept()) > 0 {
		t.Errorf("got %d records, %v, %v", len(got), err, faults)
	}
	delete(files, "a.shx")
	got, faults, err = readAll(t, files, "a.shp")
	if err != nil || len(got) != 1 || faults.Faults() == 0 {
		t.Errorf("without index: got %d records, %v, %v; want the one before the gap and a fault", len(got), err, faults)
	}
}

// The records follow each other, so nobody needs the index.
func TestLyingIndexIsNotFollowed(t *testing.T) {
	files := change(t, ".shx", func(b []byte) []byte { return put32(headerSize, 1<<30, binary.BigEndian)(b) })
	if got, faults, err := readAll(t, files, "a.shp"); err != nil || len(got) != 2 || len(faults.Kept()) > 0 {
		t.Errorf("got %d records, %v, %v", len(got), err, faults)
	}
}

// A deleted row takes its polygon along; without a table polygons have no attributes.
func TestDeletedAndMissing(t *testing.T) {
	files := change(t, ".dbf", func(b []byte) []byte { b[193] = rowDeleted; return b })
	got, faults, err := readAll(t, files, "a.shp")
	if err != nil || len(got) != 1 || got[0].index != 1 || faults.Notices() != 1 {
		t.Errorf("deleted row: got %v, %v, %v", got, err, faults)
	}
	delete(files, "a.dbf")
	got, faults, err = readAll(t, files, "a.shp")
	if err != nil || len(got) != 2 || faults.Notices() != 1 {
		t.Errorf("no .dbf: got %v, %v, %v", got, err, faults)
	}
	if _, err := Open("b.shp", files, "b.shp", faults); err == nil || !strings.HasPrefix(err.Error(), "b.shp: ") {
		t.Errorf("missing file: %v", err)
	}
	dir := fstest.MapFS{"a.shp": &fstest.MapFile{Mode: fs.ModeDir}}
	if _, err := Open("a.shp", dir, "a.shp", faults); err == nil || !strings.Contains(err.Error(), "is a folder") {
		t.Errorf("folder: %v", err)
	}
}

func TestMemoIsRefusedKindly(t *testing.T) {
	files := change(t, ".dbf", func(b []byte) []byte { b[32+11] = 'M'; return b })
	got, faults, err := readAll(t, files, "a.shp")
	want := "a.dbf: name: memo texts stand in another file and are not read; its values count as missing; save the column as text if it is needed\n"
	if err != nil || len(got) != 2 || got[0].values[0] != "null" || got[0].values[1] != "6.50" || faults.String() != want {
		t.Errorf("got %v, %v, %s", got, err, faults)
	}
}

// zipped packs files, each entry by edit if given.
func zipped(t *testing.T, files fstest.MapFS, extra ...string) *bytes.Reader {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	add := func(name string, data []byte) {
		w, err := z.Create(name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	names, _ := fs.Glob(files, "*")
	for _, name := range names {
		add("export/shape/"+name, files[name].Data)
	}
	for _, name := range extra {
		add(name, []byte("x"))
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(b.Bytes())
}

func openZipped(t *testing.T, r *bytes.Reader, layer string) (*Layer, error) {
	t.Helper()
	fsys, err := OpenZip("f.zip", r, r.Size())
	if err != nil {
		return nil, err
	}
	return OpenOnly("f.zip", fsys, layer, &diag.List{})
}

// With the side files that one packer adds, which end in .shp too.
func TestZip(t *testing.T) {
	cols, rs := two()
	one := write(t, "A", cols, rs)
	l, err := openZipped(t, zipped(t, one, "__MACOSX/export/shape/._A.shp", "export/._A.shp"), "")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	if err := l.Records(func(*Record) error { n++; return nil }); err != nil || n != 2 || l.Name != "f.zip/export/shape/A.shp" || l.Projection != WGS84 {
		t.Errorf("read %d records of %s, projection %q, %v", n, l.Name, l.Projection, err)
	}
	both := write(t, "b", cols, rs)
	for name, f := range one {
		both[name] = f
	}
	_, err = openZipped(t, zipped(t, both), "")
	if want := "f.zip: holds 2 polygon layers (export/shape/A.shp, export/shape/b.shp); name the one that is meant"; err == nil || err.Error() != want {
		t.Errorf("several layers: %v, want %s", err, want)
	}
	for _, layer := range []string{"b", "B.shp", "export/shape/b"} {
		if l, err := openZipped(t, zipped(t, both), layer); err != nil || l.Name != "f.zip/export/shape/b.shp" {
			t.Errorf("layer %q: %v", layer, err)
		}
	}
	if _, err := openZipped(t, zipped(t, both), "c"); err == nil || !strings.Contains(err.Error(), `no layer "c"`) {
		t.Errorf("layer that is not there: %v", err)
	}
}

func TestBadZips(t *testing.T) {
	_, err := openZipped(t, zipped(t, nil, "inner.zip"), "")
	if want := "f.zip: holds no .shp but another zip (inner.zip); unpack it first"; err == nil || err.Error() != want {
		t.Errorf("zip in zip: %v", err)
	}
	if _, err := openZipped(t, zipped(t, nil, "readme.txt"), ""); err == nil || err.Error() != "f.zip: holds no .shp" {
		t.Errorf("no layer: %v", err)
	}
	if _, err := openZipped(t, bytes.NewReader(nil), ""); err == nil || err.Error() != "f.zip: is empty" {
		t.Errorf("empty: %v", err)
	}
	cols, rs := two()
	whole := zipped(t, write(t, "a", cols, rs))
	half := make([]byte, whole.Size()/2)
	if _, err := whole.ReadAt(half, 0); err != nil {
		t.Fatal(err)
	}
	if _, err := openZipped(t, bytes.NewReader(half), ""); err == nil || !strings.HasPrefix(err.Error(), "f.zip: is no zip, or is cut off") {
		t.Errorf("half a zip: %v", err)
	}
}

// TestBombs: a member whose entry claims 8 GB; one that is honest about an absurd ratio; one that unfolds to more
// than its entry says.
func TestBombs(t *testing.T) {
	for name, h := range map[string]zip.FileHeader{
		"8 GB":           {Name: "a.shp", Method: zip.Deflate, UncompressedSize64: 8 << 30, CompressedSize64: 1 << 30},
		"1 : 1000":       {Name: "a.shp", Method: zip.Deflate, UncompressedSize64: 1 << 30, CompressedSize64: 1 << 20},
		"with password ": {Name: "a.shp", Method: zip.Deflate, Flags: 1},
	} {
		if err := acceptable(&h); err == nil {
			t.Errorf("%s is opened", name)
		}
	}
	if err := acceptable(&zip.FileHeader{UncompressedSize64: 2 << 30, CompressedSize64: 20 << 20}); err != nil {
		t.Errorf("a table of blanks that shrinks to a hundredth is refused: %v", err)
	}
	m := &member{File: openMap(t, 100), left: 10}
	var b bytes.Buffer
	if _, err := b.ReadFrom(m); err == nil || b.Len() > 10 {
		t.Errorf("read %d bytes of a member that promised 10, %v", b.Len(), err)
	}
}

func openMap(t *testing.T, n int) fs.File {
	t.Helper()
	f, err := fstest.MapFS{"x": &fstest.MapFile{Data: make([]byte, n)}}.Open("x")
	if err != nil {
		t.Fatal(err)
	}
	return f
}
