package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/pelletier/go-toml/v2"
	"github.com/spf13/pflag"
)

// settingsName is the file of settings that lies beside the fields: what holds for a farm year after year need not be typed each time.
const settingsName = "rootworthy.toml"

// notSettable are the flags that belong to one command line, not to a farm.
var notSettable = []string{"out", "explain", "write-profile", "workers", "help"}

// applySettings fills flags that were not typed from the rootworthy.toml beside the fields, if there is one. Paths in
// it are relative to it.
// A folder of fields has its settings within it, a file of fields beside it. No such file is no fault.
func applySettings(fl *pflag.FlagSet, fields string) error {
	dir := fields
	if st, err := os.Stat(fields); err != nil || !st.IsDir() {
		dir = filepath.Dir(fields)
	}
	path := filepath.Join(dir, settingsName)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	return readSettings(path, text, fl)
}

// readSettings sets flags from a text of settings, in order of the keys so that faults come in the same order every time. All faults are told.
func readSettings(path string, text []byte, fl *pflag.FlagSet) error {
	// a mark that some editors put first; the format does not know it
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	var values map[string]any
	if err := toml.Unmarshal(text, &values); err != nil {
		var d *toml.DecodeError
		if errors.As(err, &d) {
			line, _ := d.Position()
			return fmt.Errorf("%s:%d: %s; mend the line, or take it out", path, line, d.Error())
		}
		return fmt.Errorf("%s: %w", path, err)
	}
	var faults []error
	for _, key := range slices.Sorted(maps.Keys(values)) {
		if err := setOne(fl, path, key, values[key]); err != nil {
			faults = append(faults, fmt.Errorf("%s:%d: %s: %w", path, lineOf(text, key), key, err))
		}
	}
	return errors.Join(faults...)
}

// setOne sets a flag from a settings value, unless it was typed.
// The key is the name of the flag without its dashes. A flag that takes several values takes a list or a single value, all others a single
// one.
func setOne(fl *pflag.FlagSet, path, key string, value any) error {
	f := fl.Lookup(key)
	if f == nil || slices.Contains(notSettable, key) {
		return fmt.Errorf("there is no such setting%s", nearest(key, settable(fl)))
	}
	// Typed flags win, also where a list was typed: settings add nothing to it.
	if f.Changed {
		return nil
	}
	list, ok := value.([]any)
	if !ok {
		list = []any{value}
	} else if _, several := f.Value.(pflag.SliceValue); !several {
		return errors.New("it takes one value, not a list")
	}
	for _, v := range list {
		switch v.(type) {
		case map[string]any, []any:
			return errors.New("write a text, a number, a date, or true or false")
		}
		text := fmt.Sprint(v)
		// A date may stand without quotation marks, as TOML has it.
		if d, ok := v.(toml.LocalDate); ok {
			text = d.String()
		}
		if isPath(key) && !filepath.IsAbs(text) {
			text = filepath.Join(filepath.Dir(path), text)
		}
		// The first value that a list flag is given takes the place of its default, the following ones are added: so a loop over Set fills
		// it.
		if err := f.Value.Set(text); err != nil {
			return fmt.Errorf("%q is not possible here: %v", text, err)
		}
	}
	f.Changed = true // what was set is checked as what was typed
	return nil
}

// isPath says whether a flag names a file. Such a setting is relative to the file it stands in, so that a farm's folder can be moved whole; and
// the record of a run keeps its last part alone.
func isPath(key string) bool {
	return key == "survey" || key == "exclude" || key == "profile" || key == "tables" || key == "elevation" || key == "tests" || key == "mapping" || key == "lime-table" ||
		key == "record" || key == "seed-tag" || key == "varieties" || key == "normals" || key == "lab-report" || key == "prices"
}

// settable lists the flags that may stand in a file of settings, in the order in which they were declared.
// Both the check and the suggestion for a misspelt key go by it.
func settable(fl *pflag.FlagSet) []string {
	var out []string
	fl.VisitAll(func(f *pflag.Flag) {
		if !slices.Contains(notSettable, f.Name) {
			out = append(out, f.Name)
		}
	})
	return out
}
