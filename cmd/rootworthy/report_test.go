package main

import (
	"context"
	"io"
	"os"
	"strings"
	"testing"
)

// An interrupted report leaves nothing, and an earlier one as it was.
func TestInterruptedReportLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	quiet := stdio{strings.NewReader(""), io.Discard, io.Discard}
	if code := run(context.Background(), []string{"demo", "--out", dir + "/demo"}, quiet); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	args := []string{"report", dir + "/demo/run", "--out", dir + "/report"}
	if code := run(ctx, args, quiet); code != exitInterrupted {
		t.Errorf("exit code %d, want %d", code, exitInterrupted)
	}
	if _, err := os.Stat(dir + "/report"); !os.IsNotExist(err) {
		t.Errorf("a folder is left behind: %v", err)
	}
	if code := run(context.Background(), args, quiet); code != exitDone {
		t.Fatalf("report: exit code %d", code)
	}
	// The second order asks for fewer files: carried out, it would leave fewer.
	before, _ := os.ReadDir(dir + "/report")
	run(ctx, append(args, "--for", "technician"), quiet)
	if after, _ := os.ReadDir(dir + "/report"); len(after) != len(before) {
		t.Errorf("%d files of %d are left", len(after), len(before))
	}
}
