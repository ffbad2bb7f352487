package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"rootworthy/internal/atomicfile"
	"rootworthy/testdata/demo"
)

const demoHelp = `  rootworthy demo
  rootworthy demo --out elsewhere

Screens the invented farm Tarn Hollow: seven fields over an invented soil survey.
Writes the farm's fields and survey (to try the other commands on) and the run
into a folder, by default rootworthy-demo.

  --out DIR   where to write
`

// The demo counts from a fixed day, so that it prints the same at any time.
const demoDate, demoRegion, demoState = "2026-03-01", "coastal plain", "GA"

// runDemo unpacks the invented farm and screens it by the verb screen itself, so that what a newcomer sees is the program and no show of it.
func runDemo(ctx context.Context, args []string, std stdio) error {
	out := "rootworthy-demo"
	fl := newFlags("demo", demoHelp, std.out)
	fl.StringVar(&out, "out", out, "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if fl.NArg() > 0 {
		return usagef("demo takes no arguments, only --out DIR")
	}
	if err := unpackDemo(out); err != nil {
		return err
	}
	fields, runDir := filepath.Join(out, "fields.geojson"), filepath.Join(out, "run")
	// owner and farm are properties of the demonstration's fields.
	err := screen(ctx, []string{fields, "--survey", filepath.Join(out, "survey"), "--customer", "owner", "--farm", "farm",
		"--state", demoState, "--region", demoRegion, "--date", demoDate, "--out", runDir}, std)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(std.out, `
The farm is invented and lies on open sea. In %s look at
  zones.geojson   the zones on a map
  lime.csv        what lime goes where, for a spreadsheet
  fields.csv      the seven fields in one table
Ask why:  rootworthy screen --out %s --explain F6/1
Try it:   rootworthy screen %s --survey %s --out run
`, runDir, runDir, fields, filepath.Join(out, "survey"))
	return err
}

// unpackDemo writes the farm's files, each whole or not at all, and none if one would take the place of another file.
func unpackDemo(dir string) error {
	if err := roomForDemo(dir); err != nil {
		return err
	}
	return fs.WalkDir(demo.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(path))
		if d.IsDir() {
			return os.MkdirAll(to, 0o755)
		}
		return atomicfile.Write(to, func(w io.Writer) error {
			f, err := demo.Files.Open(path)
			if err != nil {
				return err
			}
			defer f.Close()
			_, err = io.Copy(w, f)
			return err
		})
	})
}

// roomForDemo refuses a folder in which the demo would write over files that are not its own.
// All files are looked at before the first is written: a refusal leaves the folder as it was.
func roomForDemo(dir string) error {
	return fs.WalkDir(demo.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		to := filepath.Join(dir, filepath.FromSlash(path))
		there, err := os.ReadFile(to)
		if err != nil {
			// A file that is the demo's own, byte for byte, may stand: the demo can be run again.
			return nil // nothing to lose; what cannot be written is told when it is
		}
		own, err := fs.ReadFile(demo.Files, path)
		if err == nil && !bytes.Equal(there, own) {
			err = fmt.Errorf("%s: is there already and is not the demo's; name a new folder with --out", to)
		}
		return err
	})
}
