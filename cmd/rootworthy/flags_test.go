package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
)

// TestFlagsThatSayNothing: a typed 0 is not the default, a flag that needs another one is not passed over, and what has
// less effect than it seems is told.
func TestFlagsThatSayNothing(t *testing.T) {
	dir := t.TempDir()
	if err := unpackDemo(dir); err != nil {
		t.Fatal(err)
	}
	for _, tc := range []struct {
		flags string
		code  int
		said  string
	}{
		{"--lime-ecce 0", 2, "--lime-ecce: 0 is not possible"},
		{"--lime-cap 0.0", 2, "--lime-cap: 0 is not possible"},
		{"--lime-months 0", 2, "--lime-months: 0 is not possible"},
		{"--target-ph 0", 2, "--target-ph: 0 is not possible"},
		{"--lime-moisture 0", 0, ""},
		{"--residual-lime 1,6", 2, "--residual-lime needs soil tests: add --tests"},
		{"--state XX", 2, `"XX" is not the postal code of a state`},
		{"--state al", 0, "has no target pH for AL; the default of 6.5 is"},
		{"--region piedmont", 0, "no sowing window is worked out without a day"},
	} {
		var stdout, stderr bytes.Buffer
		args := append([]string{"screen", filepath.Join(dir, "fields.geojson"), "--survey", filepath.Join(dir, "survey"), "--out", filepath.Join(t.TempDir(), "run")}, strings.Fields(tc.flags)...)
		code := run(t.Context(), args, stdio{nil, &stdout, &stderr})
		if said := stdout.String() + stderr.String(); code != tc.code || !strings.Contains(said, tc.said) {
			t.Errorf("%s: exit code %d, want %d, saying %q:\n%s", tc.flags, code, tc.code, tc.said, said)
		}
	}
}

// TestAskingForHelp: the ways in which people ask what there is.
func TestAskingForHelp(t *testing.T) {
	help := must(t, exitDone, "screen", "--help")
	for _, tc := range []struct {
		typed, want string
		code        int
	}{
		{"help screen", help, exitDone},
		{"help", usage(), exitDone},
		{"--version", must(t, exitDone, "version"), exitDone},
		{"help scren", `did you mean "screen"?`, exitUsage},
		{"Screen", `did you mean "screen"?`, exitUsage},
		{"xyzzy", "`rootworthy help` lists them", exitUsage},
	} {
		var stdout, stderr bytes.Buffer
		code := run(t.Context(), strings.Fields(tc.typed), stdio{nil, &stdout, &stderr})
		if said := stdout.String() + stderr.String(); code != tc.code || !strings.Contains(said, tc.want) {
			t.Errorf("%s: exit code %d, want %d, saying %q: %s", tc.typed, code, tc.code, tc.want, said)
		}
	}
}
