package nutrient

import (
	"embed"
	"strings"
	"sync"

	"rootworthy/internal/diag"
)

// tableFiles are the tables that come with the program, a file each; a new edition is a new file.
//
//go:embed tables/*.toml
var tableFiles embed.FS

// Read on first use, through the reader of users' tables, so that both pass the same checks.
var tables = sync.OnceValue(func() []*Table {
	var out []*Table
	entries, _ := tableFiles.ReadDir("tables") // sorted by name
	for _, e := range entries {
		f, err := tableFiles.Open("tables/" + e.Name())
		if err != nil {
			panic(err)
		}
		var faults diag.List
		t, ok, err := ReadTable(e.Name(), f, &faults)
		if !ok || err != nil {
			panic("a table that comes with the program does not read: " + faults.String())
		}
		out = append(out, t)
	}
	return out
})

// Tables lists the tables that come with the program, by name. They are shared: do not change them.
func Tables() []*Table { return tables() }

// TableByName returns one of [Tables] by its name, in any case.
func TableByName(name string) (*Table, bool) {
	for _, t := range Tables() {
		if strings.EqualFold(t.Name, strings.TrimSpace(name)) {
			return t, true
		}
	}
	return nil, false
}

// TablesOf returns the tables of a state by its postal code; none where the state's rates were not readable, which is
// when its own laboratory is asked.
func TablesOf(state string) []*Table {
	var out []*Table
	for _, t := range Tables() {
		if strings.EqualFold(t.State, strings.TrimSpace(state)) {
			out = append(out, t)
		}
	}
	return out
}
