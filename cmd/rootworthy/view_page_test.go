package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"strings"
	"sync"
	"testing"
)

// slate is written by the program, maybe from several goroutines of its page.
type slate struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *slate) Write(p []byte) (int, error) { s.mu.Lock(); defer s.mu.Unlock(); return s.b.Write(p) }
func (s *slate) String() string              { s.mu.Lock(); defer s.mu.Unlock(); return s.b.String() }

// viewed starts the page by the verb view and returns how to get something from it, by a path under its address. The page ends with the test,
// interrupted as by Ctrl-C, and must then say that all went well.
//
// The address is the first line that view prints, and it prints it once it listens: so nothing here waits for a time, only for the line or for
// the end of the program.
func viewed(t *testing.T, args ...string) func(path string) (*http.Response, []byte) {
	t.Helper()
	ctx, interrupt := context.WithCancel(context.Background())
	said, out := io.Pipe()
	var fault slate
	code := make(chan int, 1)
	go func() {
		c := run(ctx, append([]string{"view"}, args...), stdio{strings.NewReader(""), out, &fault})
		out.Close()
		code <- c
	}()
	t.Cleanup(func() {
		interrupt()
		if c := <-code; c != exitDone {
			t.Errorf("view %v: exit code %d\n%s", args, c, &fault)
		}
	})
	lines := bufio.NewReader(said)
	address, err := lines.ReadString('\n')
	if err != nil {
		t.Fatalf("view %v: no address, but %q", args, address)
	}
	go io.Copy(io.Discard, lines) // what it says later must not hold it up
	address = strings.TrimSpace(address)
	return func(path string) (*http.Response, []byte) {
		t.Helper()
		a, err := http.Get(address + path)
		if err != nil {
			t.Fatal(err)
		}
		defer a.Body.Close()
		b, err := io.ReadAll(a.Body)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		return a, b
	}
}

// commanded runs a verb that must do its work, with faults or without.
func commanded(t *testing.T, args ...string) {
	t.Helper()
	var said bytes.Buffer
	if code := run(context.Background(), args, stdio{strings.NewReader(""), &said, &said}); code != exitDone && code != exitFaults {
		t.Fatalf("%v: exit code %d\n%s", args, code, &said)
	}
}
