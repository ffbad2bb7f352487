package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	runfolder "rootworthy/internal/run"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// A file of a run is found by name and digest in the folders that are looked through, and nowhere else; one that was changed is told.
func TestFilesOfARunAreFound(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("a/lab.csv", "another laboratory's")
	write("b/lab.csv", "ours")
	write("c/old.csv", "edited")
	write("secret", "x")
	if err := os.Mkdir(filepath.Join(dir, "b", "folder.csv"), 0o755); err != nil {
		t.Fatal(err)
	}
	find := finding([]string{filepath.Join(dir, "none"), filepath.Join(dir, "a"), filepath.Join(dir, "b"), filepath.Join(dir, "c")})
	for name, tc := range map[string]struct{ file, text, found, says string }{
		"behind another of its name": {"lab.csv", "ours", "ours", ""},
		"changed":                    {"old.csv", "as it was", "", "old.csv is no longer the file that it was made with"},
		"nowhere":                    {"gone.csv", "x", "", ""},
		"a folder":                   {"folder.csv", "x", "", ""},
		"a path in a record":         {"../secret", "x", "", ""},
		"no name":                    {"", "x", "", ""},
	} {
		got, err := find(suitability.Input{Role: "tests", Name: tc.file, SHA256: sha(tc.text)})
		if string(got) != tc.found || (err == nil) != (tc.says == "") || err != nil && !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: found %q, %v", name, got, err)
		}
	}
}

// ownTable is a lime table as a user has it.
const ownTable = `name    = "County table, invented"
source  = "made up for this test"
buffer  = "sikora"
unit    = "short tons/ac"
quality = 100
targets = [6.5, 6.8]

[[row]]
buffer_ph = 6.0
lime = [4.0, 5.0]

[[row]]
buffer_ph = 6.8
lime = [0.0, 1.0]
`

// A boundary of a run that the command line made with tests is corrected with the same tests used in the same way, whatever the page was started
// with: the run is that of screen with the flags of both, to the byte.
func TestTestsOfTheCommandLineCountAgain(t *testing.T) {
	points := "sample_id,lon,lat,depth,date,ph_water,lbc_ppm_ph,buffer_ph_sikora,lab\n"
	for i := range 20 { // over F1, more acid in the west
		points += fmt.Sprintf("s%d,%.6f,%.6f,0-15 cm,2026-01-14,%.1f,300,6.4,Tarn Lab\n", i, -78.1988+0.0003*float64(i), 32.6152+0.0006*float64(i%5), 5.0+0.08*float64(i))
	}
	for name, tests := range map[string][]string{
		"split along a surface": {"--lime-method", "georgia-lbc", "--state", "GA", "--interpolate", "inverse-distance", "--split-zones", "2", "--spread-width", "60", "--residual-lime", "0.5,3"},
		"by an own table":       {"--lime-method", "table", "--lime-table", "own.toml", "--target-ph", "6.5", "--lime-depth", "15"},
		"without a method":      {},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			commanded(t, "demo", "--out", dir)
			at := func(name string) string { return filepath.Join(dir, name) }
			write := func(name, text string) {
				if err := os.WriteFile(at(name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			write("lab.csv", points)
			write("own.toml", ownTable)
			args := append([]string{"--tests", at("lab.csv")}, tests...)
			if i := slices.Index(args, "own.toml"); i > 0 {
				args[i] = at("own.toml")
			}
			page := []string{"--survey", at("survey"), "--date", "2026-03-01"}
			runs, typed := at("runs"), at("typed")
			spring := filepath.Join(runs, "spring")
			commanded(t, slices.Concat([]string{"screen", at("fields.geojson"), "--out", spring}, page, args)...)
			text, err := os.ReadFile(at("fields.geojson"))
			if err != nil {
				t.Fatal(err)
			}
			corrected := strings.Replace(string(text), "-78.1931756", "-78.1921756", 1)
			write("drawn.geojson", corrected)
			commanded(t, slices.Concat([]string{"screen", at("drawn.geojson"), "--out", typed}, page, args)...)

			// Started for another state and other lime: the run's own tests are used as it used them.
			f, s := pageOf(t, slices.Concat([]string{at("fields.geojson"), "--state", "NC", "--runs", runs}, page)...)
			got, err := field.Read(context.Background(), []field.Source{{Name: "drawn.geojson", Files: os.DirFS(dir), Path: "drawn.geojson"}}, s.Bounds, &diag.List{})
			if err != nil {
				t.Fatal(err)
			}
			o := takenAlong(t, f, spring, at("fields.geojson"))
			o.Fields, o.Inputs = got, slices.Insert(o.Inputs, 0, suitability.Input{Role: "fields", Name: "drawn.geojson", SHA256: sha(corrected)})
			r := throughPage(t, s, o, typed)
			zones := 0
			for i := range r.Zones {
				if r.Zones[i].FieldID == "F1" {
					zones++
				}
			}
			if split := slices.Contains(tests, "--split-zones"); split != (zones > 2) { // F1 has two soils
				t.Errorf("F1 has %d zones", zones)
			}
		})
	}
}

// takenAlong is an order with the tests of a run, found where they are.
func takenAlong(t *testing.T, f *viewFlags, run, fields string) (o web.Order) {
	t.Helper()
	head, err := runfolder.ReadHead(os.DirFS(run))
	if err != nil {
		t.Fatal(err)
	}
	o.Like = head.Provenance.Options
	find := finding(f.where(run, []string{fields}))
	for _, in := range head.Provenance.Inputs {
		if in.Role != "tests" && in.Role != "lime table" {
			continue
		}
		b, err := find(in)
		if err != nil || b == nil {
			t.Fatalf("%s: %v", in.Name, err)
		}
		o.Inputs = append(o.Inputs, in)
		if in.Role == "tests" {
			o.Tests = append(o.Tests, web.Text{Name: in.Name, Bytes: b})
		} else {
			o.Table = &web.Text{Name: in.Name, Bytes: b}
		}
	}
	return o
}

func sha(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// pageOf is the page that view makes of a command line.
func pageOf(t *testing.T, args ...string) (*viewFlags, *web.Screener) {
	t.Helper()
	var f viewFlags
	fl := newFlags("view", viewHelp, io.Discard)
	f.declare(fl)
	fl.StringVar(&f.runs, "runs", "", "")
	if err := parse(fl, args); err != nil {
		t.Fatal(err)
	}
	s, err := f.screener(fl, fl.Args())
	if err != nil {
		t.Fatal(err)
	}
	return &f, s
}
