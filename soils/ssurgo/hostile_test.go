package ssurgo_test

import (
	"archive/zip"
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/soils/ssurgo"
)

// zipped packs an export into a zip as it is downloaded.
func zipped(t testing.TB, export fstest.MapFS, prefix string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, f := range export {
		w, err := z.Create(prefix + name)
		if err != nil {
			t.Fatal(err)
		}
		w.Write(f.Data)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Downloads have the area at the top, or one or two folders down.
func TestZipReadsLikeTheFolder(t *testing.T) {
	want, _ := read(t, excerpt(t))
	for _, prefix := range []string{"", "AR017/", "wss_SSA_AR017/AR017/"} {
		b := zipped(t, excerpt(t), prefix)
		var faults diag.List
		e, err := ssurgo.OpenZip(context.Background(), "soil.zip", bytes.NewReader(b), int64(len(b)), &faults)
		if err != nil {
			t.Fatal(err)
		}
		got, err := e.Survey(context.Background())
		if err != nil || !same(got, want) || faults.Faults() > 0 {
			t.Errorf("prefix %q: another survey, or %v\n%s", prefix, err, &faults)
		}
	}
}

// A download that broke off and a web page saved in its place look alike to the reader of zips, so the message names both.
func TestDamagedZips(t *testing.T) {
	b := zipped(t, excerpt(t), "")
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"cut off":   {b[:len(b)/2], "cut off"},
		"not a zip": {[]byte("<html>maintenance</html>"), "not a zip"},
		"empty":     {nil, "not a zip"},
	} {
		_, err := ssurgo.OpenZip(context.Background(), "soil.zip", bytes.NewReader(c.data), int64(len(c.data)), &diag.List{})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "soil.zip") {
			t.Errorf("%s: err = %v", name, err)
		}
	}
}

// heapAfter runs f and returns the bytes it allocated in total, kept or not.
func heapAfter(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// The memory is measured too: a refusal after everything was unpacked would be none.
func TestZipBombIsRefused(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("tabular/mapunit.txt")
	if err != nil {
		t.Fatal(err)
	}
	io.CopyN(w, endless{}, 20<<20)
	z.Close()
	used := heapAfter(func() {
		var e *ssurgo.Export
		if e, err = ssurgo.OpenZip(context.Background(), "bomb.zip", bytes.NewReader(b.Bytes()), int64(b.Len()), &diag.List{}); err == nil {
			_, err = e.Survey(context.Background())
		}
	})
	if err == nil || !strings.Contains(err.Error(), "bomb.zip/tabular/mapunit.txt") || !strings.Contains(err.Error(), "refused") {
		t.Errorf("err = %v", err)
	}
	if used > 8<<20 {
		t.Errorf("%d bytes allocated for a refusal", used)
	}
}

// endless is a file of zeros.
type endless struct{}

// Read gives zeros, which a zip packs to almost nothing.
func (endless) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// A quote that never closes must not swallow the memory, and the records before it are kept.
func TestOpenQuoteIsBounded(t *testing.T) {
	e := excerpt(t)
	f := e["tabular/csmoist.txt"]
	f.Data = append(append(f.Data, `||"`...), bytes.Repeat([]byte("|\n"), 8<<20)...)
	used := heapAfter(func() {
		s, faults := read(t, e)
		if len(unitByKey(t, s, "565269").Components[0].Months[1].Layers) == 0 {
			t.Error("the records before the quote were lost")
		}
		if !strings.Contains(faults.String(), "X/tabular/csmoist.txt:") || faults.Faults() != 1 {
			t.Errorf("faults:\n%s", faults)
		}
	})
	if used > 64<<20 {
		t.Errorf("%d bytes allocated", used)
	}
}

// A file that ends within a quote.
func TestTableCutOff(t *testing.T) {
	e := excerpt(t)
	f := e["tabular/chorizon.txt"]
	cut := strings.LastIndex(string(f.Data), `"Ap"`) + 2
	f.Data = f.Data[:cut]
	_, faults := read(t, e)
	if faults.Faults() == 0 || !strings.Contains(faults.String(), "chorizon.txt:") {
		t.Errorf("faults:\n%s", faults)
	}
}

// The error is the context's own, so that callers know it from a fault of the file system.
func TestCancelledReadingStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	e, err := ssurgo.Open(ctx, "X", excerpt(t), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if _, err := e.Survey(ctx); err != context.Canceled {
		t.Errorf("err = %v, want context.Canceled", err)
	}
	if _, err := ssurgo.Open(ctx, "X", excerpt(t), &diag.List{}); err != context.Canceled {
		t.Errorf("err = %v, want context.Canceled", err)
	}
}

// Opened and read from the zip that the agency would send, a real county reads as from its folder.
func TestRealZip(t *testing.T) {
	folder := realFolder(t, "ssurgo-ar017")
	export := fstest.MapFS{}
	for _, pattern := range []string{"tabular/*.txt", "spatial/soilmu_a_*"} {
		names, _ := filepath.Glob(filepath.Join(folder, pattern))
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			rel, _ := filepath.Rel(folder, name)
			export[filepath.ToSlash(rel)] = &fstest.MapFile{Data: b}
		}
	}
	b := zipped(t, export, "AR017/")
	var faults diag.List
	e, err := ssurgo.OpenZip(context.Background(), "soil.zip", bytes.NewReader(b), int64(len(b)), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Check(context.Background())
	if err != nil || s.Polygons != 2546 || s.Units != 41 || s.PolygonsWithoutUnit != 0 || faults.Faults() > 0 {
		t.Errorf("%+v, %v\n%s", s, err, &faults)
	}
}
