package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"testing"

	"rootworthy/export/money"
)

// What the page gives away of the money is, byte by byte, what the verb writes; without prices it says how to give them.
func TestMoneyInThePageIsThatOfTheVerb(t *testing.T) {
	const prices = "../../suitability/economics/testdata/prices.toml"
	dir := t.TempDir()
	folder := filepath.Join(dir, "run")
	commanded(t, "demo", "--out", dir)
	commanded(t, "money", folder, "--prices", prices, "--out", filepath.Join(dir, "money"))
	// With prices, and without.
	for _, args := range [][]string{{"--prices", prices}, nil} {
		get := viewed(t, append([]string{folder}, args...)...)
		a, page := get("run/1/money")
		if want := map[bool]string{true: "What just pays it back", false: "rootworthy money --example"}[args != nil]; a.StatusCode != http.StatusOK || !bytes.Contains(page, []byte(want)) {
			t.Errorf("view %v: %d, want a page with %q", args, a.StatusCode, want)
		}
		for _, name := range money.Files() {
			a, got := get("run/1/money/" + name)
			if args == nil || name == "money.json" {
				if a.StatusCode != http.StatusNotFound {
					t.Errorf("view %v: %s: %d, want 404", args, name, a.StatusCode)
				}
				continue
			}
			want, err := os.ReadFile(filepath.Join(dir, "money", name))
			if err != nil {
				t.Fatal(err)
			}
			if a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
				t.Errorf("%s: %d, %d bytes, want the %d of the verb", name, a.StatusCode, len(got), len(want))
			}
		}
	}
}
