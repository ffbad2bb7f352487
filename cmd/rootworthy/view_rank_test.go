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

// What the page gives away of a ranking is, byte by byte, what the verb rank writes under the same weights.
func TestRankingInThePageIsThatOfTheVerb(t *testing.T) {
	dir := t.TempDir()
	std := stdio{strings.NewReader(""), io.Discard, io.Discard}
	folder := filepath.Join(dir, "run")
	for _, args := range [][]string{{"demo", "--out", dir}, {"rank", folder, "--out", filepath.Join(dir, "rank"), "--region", "piedmont", "--date", "2027-04-01", "--weights", "suited=1,cost=4", "--top", "3"}} {
		if code := run(context.Background(), args, std); code != exitDone {
			t.Fatalf("%v: exit code %d", args, code)
		}
	}
	ctx, interrupt := context.WithCancel(context.Background())
	var out, fault slate
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"view", folder, "--region", "piedmont", "--date", "2027-04-01"}, stdio{strings.NewReader(""), &out, &fault})
	}()
	address := waitFor(t, &out, &fault)
	for _, name := range []string{rankCSV, rankPage, rankPDF, lettersPDF} {
		want, err := os.ReadFile(filepath.Join(dir, "rank", name))
		if err != nil {
			t.Fatal(err)
		}
		a, err := http.Get(address + "run/1/ranking/" + name + "?suited=1&cost=4&top=3")
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(a.Body)
		a.Body.Close()
		if err != nil || a.StatusCode != 200 || !bytes.Equal(got, want) {
			t.Errorf("%s: %d, %d bytes, want the %d of the verb (%v)", name, a.StatusCode, len(got), len(want), err)
		}
	}
	interrupt()
	if c := <-code; c != exitDone {
		t.Errorf("exit code %d\n%s", c, fault.String())
	}
}
