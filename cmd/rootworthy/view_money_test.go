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

	"rootworthy/export/money"
)

// What the page gives away of the money is, byte by byte, what the verb writes; without prices it says how to give them.
func TestMoneyInThePageIsThatOfTheVerb(t *testing.T) {
	const prices = "../../suitability/economics/testdata/prices.toml"
	dir := t.TempDir()
	folder := filepath.Join(dir, "run")
	std := stdio{strings.NewReader(""), io.Discard, io.Discard}
	for _, args := range [][]string{{"demo", "--out", dir}, {"money", folder, "--prices", prices, "--out", filepath.Join(dir, "money")}} {
		if code := run(context.Background(), args, std); code != exitDone {
			t.Fatalf("%v: exit code %d", args, code)
		}
	}
	for _, args := range [][]string{{"--prices", prices}, nil} {
		ctx, interrupt := context.WithCancel(context.Background())
		var out, fault slate
		code := make(chan int, 1)
		go func() {
			code <- run(ctx, append([]string{"view", folder}, args...), stdio{strings.NewReader(""), &out, &fault})
		}()
		address := waitFor(t, &out, &fault)
		fetch := func(path string) (int, []byte) {
			a, err := http.Get(address + path)
			if err != nil {
				t.Fatal(err)
			}
			defer a.Body.Close()
			text, err := io.ReadAll(a.Body)
			if err != nil {
				t.Fatal(err)
			}
			return a.StatusCode, text
		}
		status, page := fetch("run/1/money")
		if want := map[bool]string{true: "What just pays it back", false: "rootworthy money --example"}[args != nil]; status != 200 || !bytes.Contains(page, []byte(want)) {
			t.Errorf("view %v: %d, want a page with %q", args, status, want)
		}
		for _, name := range money.Files() {
			status, got := fetch("run/1/money/" + name)
			if args == nil || name == "money.json" {
				if status != 404 {
					t.Errorf("view %v: %s: %d, want 404", args, name, status)
				}
				continue
			}
			want, err := os.ReadFile(filepath.Join(dir, "money", name))
			if err != nil {
				t.Fatal(err)
			}
			if status != 200 || !bytes.Equal(got, want) {
				t.Errorf("%s: %d, %d bytes, want the %d of the verb", name, status, len(got), len(want))
			}
		}
		interrupt()
		if c := <-code; c != exitDone {
			t.Errorf("exit code %d\n%s", c, fault.String())
		}
	}
}
