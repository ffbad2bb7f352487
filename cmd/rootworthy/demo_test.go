package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDemoSparesFiles: the demo does not write over somebody's files; a second run of it does no harm.
func TestDemoSparesFiles(t *testing.T) {
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir)
	must(t, exitDone, "demo", "--out", dir)
	mine := filepath.Join(dir, "fields.geojson")
	put(t, dir, "fields.geojson", []byte("mine"))
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), []string{"demo", "--out", dir}, stdio{nil, &stdout, &stderr}); code != exitCould || !strings.Contains(stderr.String(), mine+": is there already") {
		t.Errorf("exit code %d: %s", code, &stderr)
	}
	if text, err := os.ReadFile(mine); err != nil || string(text) != "mine" {
		t.Errorf("the file is gone: %q, %v", text, err)
	}
}
