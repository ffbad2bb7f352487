package main

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// windowsZip packs a folder as some programs on Windows do: backslashes between folders, capitals, the code page of the machine.
func windowsZip(t *testing.T, folder, top string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	files := os.DirFS(folder)
	err := fs.WalkDir(files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(files, p)
		if err != nil {
			return err
		}
		w, err := z.CreateHeader(&zip.FileHeader{Name: top + `\` + strings.ToUpper(strings.ReplaceAll(p, "/", `\`)), NonUTF8: true, Method: zip.Deflate})
		if err != nil {
			return err
		}
		_, err = w.Write(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Boundaries, survey and task data count alike in such zips: the zones are those of the loose files.
func TestZipsFromWindows(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	do := func(args ...string) string {
		t.Helper()
		var stdout, stderr bytes.Buffer
		if code := run(t.Context(), args, stdio{nil, &stdout, &stderr}); code != 0 {
			t.Fatalf("%q: exit code %d: %s", args, code, stderr.String())
		}
		return stdout.String()
	}
	loose, packed := filepath.Join(dir, "loose"), filepath.Join(dir, "packed")
	do("screen", filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--out", loose)

	boundaries := mkdir(t, dir, "boundaries")
	text, err := os.ReadFile(filepath.Join(dir, "fields.geojson"))
	if err != nil {
		t.Fatal(err)
	}
	put(t, boundaries, "fields.geojson", text)
	// \x81 is ü in the code page of such machines.
	put(t, dir, "fields.zip", windowsZip(t, boundaries, "S\x81d"))
	put(t, dir, "survey.zip", windowsZip(t, filepath.Join(dir, "survey"), `Soil Data\ZZ901`))
	do("screen", filepath.Join(dir, "fields.zip"), "--survey", filepath.Join(dir, "survey.zip"), "--out", packed)
	for _, name := range []string{"zones.geojson", "lime.csv"} {
		want, err1 := os.ReadFile(filepath.Join(loose, name))
		got, err2 := os.ReadFile(filepath.Join(packed, name))
		if err1 != nil || err2 != nil || !bytes.Equal(got, want) {
			t.Errorf("%s differs from that of the loose files (%v, %v)", name, err1, err2)
		}
	}

	task := filepath.Join(dir, "task")
	do("spread", loose, "--out", task, "--untested-ok", "trial", "--width", "60")
	put(t, dir, "task.zip", windowsZip(t, filepath.Join(task, "TASKDATA"), "TASKDATA"))
	if said := do("spread", "--check", filepath.Join(dir, "task.zip")); !strings.Contains(said, "Kiln Field") {
		t.Errorf("task data: %s", said)
	}
}
