package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The page prints its address once it listens, shows the run, and ends without a fault when it is interrupted.
func TestViewServesARunUntilInterrupted(t *testing.T) {
	dir := t.TempDir()
	commanded(t, "demo", "--out", dir)
	for _, args := range [][]string{
		{filepath.Join(dir, "run")}, {dir},
		{filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--runs", filepath.Join(dir, "kept")},
	} {
		if a, _ := viewed(t, args...)(""); a.StatusCode != http.StatusOK {
			t.Errorf("view %v: %d", args, a.StatusCode)
		}
	}
}

// What cannot be viewed is told before anything listens.
func TestViewRefusals(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "fields.geojson")
	if err := os.WriteFile(file, []byte(`{"type":"FeatureCollection","features":[]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		args []string
		code int
		says string
	}{
		"nothing":             {nil, exitUsage, "nothing to view given"},
		"no such folder":      {[]string{filepath.Join(dir, "none")}, exitCould, "no such file"},
		"a folder of no runs": {[]string{dir}, exitCould, "holds no run"},
		"no survey":           {[]string{file}, exitUsage, "no soil survey given"},
		"no such port":        {[]string{file, "--port", "70000"}, exitUsage, "no port"},
		"a wrong target":      {[]string{file, "--survey", "x", "--target-ph", "9"}, exitUsage, "target"},
		"out of screen":       {[]string{file, "--survey", "x", "--out", "y"}, exitUsage, "--runs"},
	} {
		var fault bytes.Buffer
		code := run(context.Background(), append([]string{"view"}, c.args...), stdio{strings.NewReader(""), io.Discard, &fault})
		if code != c.code || !strings.Contains(fault.String(), c.says) {
			t.Errorf("%s: exit code %d, %q; want %d, %q", name, code, fault.String(), c.code, c.says)
		}
	}
}
