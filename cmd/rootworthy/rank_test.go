package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
)

// TestInterruptedRankLeavesNothing: an interrupt ends with exit code 130 and without a folder.
func TestInterruptedRankLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	folder := filepath.Join(dir, "run")
	if code := run(context.Background(), []string{"screen", filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--out", folder}, stdio{nil, &stdout, &stderr}); code != exitDone {
		t.Fatalf("screen: exit code %d: %s", code, &stderr)
	}
	// Cancelled before it begins: the earliest interrupt there can be.
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	out := filepath.Join(dir, "rank")
	if code := run(ctx, []string{"rank", folder, "--out", out}, stdio{nil, &stdout, &stderr}); code != exitInterrupted {
		t.Errorf("exit code %d, want %d: %s", code, exitInterrupted, &stderr)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("an interrupted ranking left its folder")
	}
}
