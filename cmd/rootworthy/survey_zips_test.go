package main

import (
	"archive/zip"
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFolderOfDownloads: a folder of zips as downloaded is a survey, as the folder of their contents is; unless something
// else in it is one.
func TestFolderOfDownloads(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	if err := z.AddFS(os.DirFS(filepath.Join(dir, "survey"))); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	downloads := mkdir(t, dir, "downloads")
	put(t, mkdir(t, downloads, "2026"), "wss_SSA_ZZ901.ZIP", b.Bytes())
	put(t, downloads, "readme.txt", []byte("as downloaded"))
	check := func() (int, string) {
		var stdout, stderr bytes.Buffer
		code := run(t.Context(), []string{"survey", "list", downloads}, stdio{nil, &stdout, &stderr})
		return code, stdout.String() + stderr.String()
	}
	if code, said := check(); code != 0 || !strings.HasPrefix(said, "ZZ901 ") {
		t.Errorf("exit code %d: %s", code, said)
	}
	// With a map beside the zips nobody can know which of them is meant.
	put(t, downloads, "soil.geojson", []byte("{}"))
	if code, said := check(); code != 1 || !strings.Contains(said, "soil.geojson") {
		t.Errorf("with another file: exit code %d: %s", code, said)
	}
}
