package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestFilesOfTheUserAreSpared: a profile or a mapping that was edited is not replaced by a fresh one, and a result does
// not take the place of what it was made from.
func TestFilesOfTheUserAreSpared(t *testing.T) {
	dir := t.TempDir()
	lab := put(t, dir, "lab.csv", []byte("sample_id,ph_water,buffer_ph_mehlich\nA,5.2,6.2\n"))
	for name, args := range map[string][]string{
		"profile": {"screen", "--write-profile"},
		"mapping": {"tests", "check", lab, "--save-mapping"},
	} {
		file := filepath.Join(dir, name+".toml")
		args = append(args, file)
		must(t, exitDone, args...)
		must(t, exitDone, args...) // the same once more does no harm
		edited := put(t, dir, name+".toml", []byte("# edited\n"))
		refused(t, edited+": is there already", args...)
		if text, err := os.ReadFile(file); err != nil || string(text) != "# edited\n" {
			t.Errorf("%s: %q, %v", name, text, err)
		}
	}
	refused(t, lab+": is also what was read", "lime", lab, "--out", lab)
}

// refused runs a command line that must end with exit code 1 and say why.
func refused(t *testing.T, why string, args ...string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), args, stdio{nil, &stdout, &stderr}); code != exitCould || !strings.Contains(stderr.String(), why) {
		t.Errorf("%v: exit code %d, want %d saying %q: %s", args, code, exitCould, why, &stderr)
	}
}
