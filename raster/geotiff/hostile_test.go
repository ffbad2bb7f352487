package geotiff

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/raster"
)

// tiny returns the small files of testdata: 20 × 18 cells of 10 m, value column + 10·(row/3), 7 missing, written by GDAL
// 3.6.2 in the way their names tell.
func tiny(t testing.TB) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob("testdata/tiny-*.tif")
	if err != nil || len(paths) != 5 {
		t.Fatal(paths, err)
	}
	out := map[string][]byte{}
	for _, p := range paths {
		if out[filepath.Base(p)], err = os.ReadFile(p); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// TestTiny reads a file of each kind without GDAL at hand.
func TestTiny(t *testing.T) {
	for name, b := range tiny(t) {
		f := reopened(t, b)
		g := read[int32](t, f, Request{Band: len(f.Bands()) - 1})
		for r := range 18 {
			for c := range 20 {
				want := int32(c + 10*(r/3) + len(f.Bands()) - 1)
				if v, ok := g.At(c, r); ok != (want != 7) || ok && v != want {
					t.Fatalf("%s column %d, row %d: %v (%v), want %v", name, c, r, v, ok, want)
				}
			}
		}
		if crs, err := f.CRS(); err != nil || crs.String() != "EPSG:26915" {
			t.Errorf("%s: %v, %v", name, crs, err)
		}
	}
}

// TestRefusals: a header that lies is refused in one sentence that names the tag and the byte.
func TestRefusals(t *testing.T) {
	g := hills[uint16](t, frame(t, 40, 30), 0, 100)
	good := written(t, []*raster.Grid[uint16]{g}, Options[uint16]{Tile: 32})
	for _, tc := range []struct {
		name string
		hurt func(b []byte) []byte
		want []string
	}{
		{"empty", func(b []byte) []byte { return nil }, []string{"no TIFF"}},
		{"text", func(b []byte) []byte { return []byte("P5 200 200 255 and so on") }, []string{"byte 0", `"P5"`}},
		{"version", func(b []byte) []byte { b[2] = 41; return b }, []string{"byte 2", "41"}},
		{"directory outside", func(b []byte) []byte { binary.LittleEndian.PutUint32(b[4:], 1<<31); return b }, []string{"byte 2147483648", "cut off"}},
		{"cut in the directory", func(b []byte) []byte { return b[:60] }, []string{"byte 10", "cut off"}},
		{"no width", func(b []byte) []byte { patch(t, b, tagWidth, 0); return b }, []string{"tag 256 (ImageWidth), byte", "0 is not between"}},
		{"wide as the world", func(b []byte) []byte { patch(t, b, tagWidth, 1<<30); return b }, []string{"tag 324 (TileOffsets), byte", "blocks"}},
		{"128 bits", func(b []byte) []byte { patch(t, b, tagBits, 128); return b }, []string{"tag 258 (BitsPerSample), byte", "128 bits"}},
		{"JPEG", func(b []byte) []byte { patch(t, b, tagCompression, 7); return b }, []string{"tag 259 (Compression), byte", "JPEG"}},
		{"complex", func(b []byte) []byte { patch(t, b, tagSampleFormat, 6); return b }, []string{"tag 339 (SampleFormat), byte", "format 6"}},
		{"predictor", func(b []byte) []byte { patch(t, b, tagPredictor, 3); return b }, []string{"tag 317 (Predictor), byte", "uint16"}},
		{"many samples", func(b []byte) []byte { patch(t, b, tagSamplesPerPixel, 60000); return b }, []string{"tag 277 (SamplesPerPixel), byte", "60000"}},
		{"huge tile", func(b []byte) []byte { patch(t, b, tagTileWidth, 1<<20); return b }, []string{"tag 322 (TileWidth), byte", "1048576"}},
	} {
		b := tc.hurt(bytes.Clone(good))
		_, err := Open("bad.tif", bytes.NewReader(b), int64(len(b)), &diag.List{})
		for _, w := range tc.want {
			if err == nil || !strings.Contains(err.Error(), w) || !strings.HasPrefix(err.Error(), "bad.tif: ") || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s: %v, want %q", tc.name, err, w)
			}
		}
	}
}

// TestDamagedBlocks: what a broken block still gives is kept, the rest is missing, and the fault has its place.
func TestDamagedBlocks(t *testing.T) {
	g := hills[uint16](t, frame(t, 100, 64), 0, 100)
	good := written(t, []*raster.Grid[uint16]{g}, Options[uint16]{Tile: 64})
	for name, hurt := range map[string]func(b []byte) []byte{
		"cut off":    func(b []byte) []byte { return b[:len(b)-40] },
		"overwriten": func(b []byte) []byte { copy(b[len(b)-60:], bytes.Repeat([]byte{0xa5}, 30)); return b },
	} {
		b := hurt(bytes.Clone(good))
		faults := &diag.List{}
		f, err := Open("cut.tif", bytes.NewReader(b), int64(len(b)), faults)
		if err != nil {
			t.Fatal(err)
		}
		got := read[uint16](t, f, Request{})
		if faults.Faults() != 1 || !strings.Contains(faults.String(), "tag 324 (TileOffsets)") || faults.Kept()[0].Offset == 0 {
			t.Errorf("%s: %s", name, faults)
		}
		for r := range 64 {
			for c := range 64 { // the first tile is whole
				v, ok := got.At(c, r)
				if w, has := g.At(c, r); v != w || ok != has {
					t.Fatalf("%s: column %d, row %d changed", name, c, r)
				}
			}
		}
		if _, ok := got.At(99, 63); ok {
			t.Errorf("%s: the last cell is not missing", name)
		}
	}
}

// TestLoop: directories that name each other end.
func TestLoop(t *testing.T) {
	b := written(t, []*raster.Grid[uint8]{hills[uint8](t, frame(t, 100, 64), 0, 100)}, Options[uint8]{Tile: 64})
	le := binary.LittleEndian
	n := int(le.Uint16(b[8:]))
	le.PutUint32(b[10+12*n:], 8)
	if f := reopened(t, b); len(f.Levels()) != 1 {
		t.Errorf("%d levels", len(f.Levels()))
	}
}

// TestGreatClaims: a file of a few hundred bytes that claims millions of cells reserves nothing for them.
func TestGreatClaims(t *testing.T) {
	b := bytes.Clone(tiny(t)["tiny-packbits-strips.tif"])
	f, err := Open("claims.tif", bytes.NewReader(b), int64(len(b)), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	p := f.levels[0]
	p.cols, p.rows, p.blockCols, p.blockRows, p.across, p.down = 1<<14, 1<<13, 1<<14, 1<<12, 1, 2
	f.frame.Cols, f.frame.Rows = p.cols, p.rows
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = Read[float64](context.Background(), f, Request{})
	runtime.ReadMemStats(&after)
	if err == nil || !strings.Contains(err.Error(), "cannot hold") || after.TotalAlloc-before.TotalAlloc > 1<<20 {
		t.Errorf("%d bytes reserved, %v", after.TotalAlloc-before.TotalAlloc, err)
	}
}

// TestZSTDWindow: a frame that asks to hold 2 GB back is a fault, and nothing is reserved for it.
func TestZSTDWindow(t *testing.T) {
	b := bytes.Clone(tiny(t)["tiny-zstd-big.tif"])
	at := bytes.Index(b, []byte{0x28, 0xb5, 0x2f, 0xfd}) // the magic number of a frame, RFC 8878
	if at < 0 {
		t.Fatal("no ZSTD frame")
	}
	b[at+4], b[at+5] = 0, 21<<3 // no single segment; window of 2^(10+21)
	f := reopened(t, b)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	g := read[float32](t, f, Request{})
	runtime.ReadMemStats(&after)
	if f.faults.Faults() != 1 || g.Missing() != 20*18 || after.TotalAlloc-before.TotalAlloc > 64<<20 {
		t.Errorf("%d bytes reserved, %d missing, %s", after.TotalAlloc-before.TotalAlloc, g.Missing(), f.faults)
	}
}

// TestCancelled: a context that has ended ends reading and writing with its cause.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	cause := errors.New("enough")
	cancel(cause)
	f := reopened(t, tiny(t)["tiny-lzw-tiles.tif"])
	if _, err := Read[uint8](ctx, f, Request{}); !errors.Is(err, cause) || f.faults.Faults() != 0 {
		t.Errorf("reading: %v %s", err, f.faults)
	}
	g := hills[uint8](t, frame(t, 40, 40), 0, 9)
	if err := Write(ctx, &bytes.Buffer{}, []*raster.Grid[uint8]{g}, Options[uint8]{}); !errors.Is(err, cause) {
		t.Errorf("writing: %v", err)
	}
}

// TestWrongRequests: a request for what is not there is an error, never a panic.
func TestWrongRequests(t *testing.T) {
	f := reopened(t, tiny(t)["tiny-deflate-planes.tif"])
	for _, q := range []Request{{Band: 2}, {Band: -1}, {Level: 1}, {Window: raster.Window{Col: 10, Cols: 11, Rows: 1}}, {Window: raster.Window{Cols: -1, Rows: 4}}, {MaxCells: 100}} {
		if _, err := Read[uint32](context.Background(), f, q); err == nil || !strings.HasPrefix(err.Error(), "written.tif: ") {
			t.Errorf("%+v: %v", q, err)
		}
	}
}
