package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestHostileTests runs the three verbs that take a laboratory's file on damaged and malicious ones: an exit code, a message
// that names the file, and nothing half-written.
func TestHostileTests(t *testing.T) {
	if racing {
		t.Skip("made to harm, not to race; it runs without the detector")
	}
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	fields, survey := filepath.Join(dir, "fields.geojson"), filepath.Join(dir, "survey")
	for _, c := range []struct {
		name, path string
		code       int // of all three verbs
	}{
		{"empty file", put(t, dir, "void.csv", nil), 1},
		{"not a table", put(t, dir, "letter.csv", []byte("Dear Sir,\nplease find attached\n")), 1},
		{"nested 100,000 deep", put(t, dir, "deep.json", []byte(strings.Repeat(`{"Events":[`, 100_000))), 1},
		{"zip bomb that calls itself a spreadsheet", put(t, dir, "bomb.xlsx", bomb(t, "xl/worksheets/sheet1.xml")), 1},
		{"cut spreadsheet", put(t, dir, "cut.xlsx", bomb(t, "xl/workbook.xml")[:100]), 1},
		{"old spreadsheet", put(t, dir, "old.xls", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")), 1},
		{"an entity that grows", put(t, dir, "laughs.xml", []byte(`<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;">]><ModusResult>&b;</ModusResult>`)), 1},
		{"figures out of all bounds", put(t, dir, "wild.csv", []byte("sample_id,field_id,ph_water,buffer_ph_mehlich\n1,F2,1e999,-5\n")), 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			// Each verb writes something else, and none of it may be there after an error.
			for verb, args := range map[string][]string{
				"tests":  {"tests", "check", c.path, "--save-mapping", out + ".toml"},
				"lime":   {"lime", c.path, "--out", out + ".csv"},
				"screen": {"screen", fields, "--survey", survey, "--tests", c.path, "--lime-method", "nc-mehlich", "--out", out},
			} {
				var stdout, stderr bytes.Buffer
				code := run(context.Background(), args, stdio{nil, &stdout, &stderr})
				said := stdout.String() + stderr.String()
				if code != c.code {
					t.Errorf("%s: exit code %d, want %d; it said:\n%s", verb, code, c.code, said)
				}
				if !strings.Contains(said, filepath.Base(c.path)) {
					t.Errorf("%s does not name %s:\n%s", verb, filepath.Base(c.path), said)
				}
			}
			for _, left := range []string{out, out + ".csv", out + ".toml"} {
				if _, err := os.Stat(left); c.code == 1 && err == nil {
					t.Errorf("%s was made though nothing could be read", filepath.Base(left))
				}
			}
		})
	}
}
