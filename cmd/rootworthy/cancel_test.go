package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestInterruptedRunLeavesNothing: an interrupt ends with exit code 130 and without an out folder.
func TestInterruptedRunLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	out := filepath.Join(dir, "run")
	code := run(ctx, []string{"screen", filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--out", out}, stdio{nil, &stdout, &stderr})
	if code != exitInterrupted {
		t.Errorf("exit code %d, want %d: %s", code, exitInterrupted, &stderr)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("an interrupted run left its folder")
	}
}

// TestInterruptedFetch: the answers that came are kept, so nobody is told that nothing was written.
func TestInterruptedFetch(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	cache := t.TempDir()
	// Nothing listens at port 1, and nothing is asked for once the context is over.
	code := run(ctx, []string{"survey", "fetch", "--area", "AR017", "--cache", cache, "--base-url", "http://127.0.0.1:1"}, stdio{nil, &stdout, &stderr})
	said := stderr.String()
	if code != exitInterrupted || !strings.Contains(said, "is kept in "+cache) || strings.Contains(said, "nothing was written") {
		t.Errorf("exit code %d: %s", code, said)
	}
}

// TestNoProgressInAPipe: what is not a terminal gets no progress and no colour.
func TestNoProgressInAPipe(t *testing.T) {
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), []string{"demo", "--out", t.TempDir()}, stdio{nil, &stdout, &stderr}); code != 0 {
		t.Fatalf("exit code %d: %s", code, &stderr)
	}
	if stderr.Len() > 0 || bytes.ContainsAny(stdout.Bytes(), "\x1b\r") {
		t.Errorf("progress or colour in a pipe: %q", stderr.String())
	}
}
