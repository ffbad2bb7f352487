package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"testing"
)

// What the page gives away of a ranking is, byte by byte, what the verb rank writes under the same weights.
func TestRankingInThePageIsThatOfTheVerb(t *testing.T) {
	dir := t.TempDir()
	folder := filepath.Join(dir, "run")
	commanded(t, "demo", "--out", dir)
	commanded(t, "rank", folder, "--out", filepath.Join(dir, "rank"), "--region", "piedmont", "--date", "2027-04-01", "--weights", "suited=1,cost=4", "--top", "3")
	get := viewed(t, folder, "--region", "piedmont", "--date", "2027-04-01")
	for _, name := range []string{rankCSV, rankPage, rankPDF, lettersPDF} {
		want, err := os.ReadFile(filepath.Join(dir, "rank", name))
		if err != nil {
			t.Fatal(err)
		}
		a, got := get("run/1/ranking/" + name + "?suited=1&cost=4&top=3")
		if a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
			t.Errorf("%s: %d, %d bytes, want the %d of the verb", name, a.StatusCode, len(got), len(want))
		}
	}
}
