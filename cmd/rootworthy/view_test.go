package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// slate is written by the program while the test reads it.
type slate struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *slate) Write(p []byte) (int, error) { s.mu.Lock(); defer s.mu.Unlock(); return s.b.Write(p) }
func (s *slate) String() string              { s.mu.Lock(); defer s.mu.Unlock(); return s.b.String() }

// The page prints its address once it listens, shows the run, and ends without a fault when it is interrupted.
func TestViewServesARunUntilInterrupted(t *testing.T) {
	dir := t.TempDir()
	std := stdio{strings.NewReader(""), io.Discard, io.Discard}
	if code := run(context.Background(), []string{"demo", "--out", dir}, std); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	for _, args := range [][]string{
		{filepath.Join(dir, "run")}, {dir},
		{filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--runs", filepath.Join(dir, "kept")},
	} {
		ctx, interrupt := context.WithCancel(context.Background())
		var out, fault slate
		code := make(chan int, 1)
		go func() {
			code <- run(ctx, append([]string{"view"}, args...), stdio{strings.NewReader(""), &out, &fault})
		}()
		address := waitFor(t, &out, &fault)
		a, err := http.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode != 200 {
			t.Errorf("view %v: %d", args, a.StatusCode)
		}
		interrupt()
		if c := <-code; c != exitDone {
			t.Errorf("view %v: exit code %d\n%s", args, c, fault.String())
		}
	}
}

func waitFor(t *testing.T, out, fault *slate) string {
	t.Helper()
	for range 500 {
		if line, _, ok := strings.Cut(out.String(), "\n"); ok {
			return line
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatalf("no address: %s%s", out, fault)
	return ""
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
