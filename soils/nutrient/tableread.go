package nutrient

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
)

// mostTable is the longest table file, in bytes; real ones have some kilobytes.
const mostTable = 1 << 20

// ReadTable reads a user's own table from TOML: the rates of a laboratory, or a newer edition of a state.
//
//	name    = "Our county, 2026"
//	edition = "2026"
//	source  = "where the table is printed"
//
//	[[rating]]                 # classes of a nutrient, the poorest first
//	nutrient   = "k"           # k, p, mg, s, b
//	extractant = "m3"          # m1, m3, bray1, …; leave out where the source does not say
//	unit       = "ppm"         # or lb/ac, of slice_lb_ac pounds of soil (2,000,000 where left out)
//	classes    = ["low", "medium", "high"]
//	to         = [80, 140]     # the end of every class but the last; leave out where the laboratory prints the class
//
//	[[rate]]                   # every pair of classes once, lb/ac
//	p    = "low"
//	k    = "low"
//	p2o5 = 90
//	k2o  = 200
//
// The tables that come with the program show [[fixed]], [[hold]], [[split]], [[extra]], [seed_molybdenum] and
// [spray_molybdenum]. Every fault is reported with its line. ok is false when there were faults: a table with a hole is not
// used. A table in which more of a nutrient in the soil asks for more fertilizer is misprinted, and is a fault. The error says
// that the file could not be read.
func ReadTable(name string, r io.Reader, faults *diag.List) (t *Table, ok bool, err error) {
	text, err := io.ReadAll(io.LimitReader(r, mostTable+1))
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > mostTable {
		return nil, false, fmt.Errorf("%s: over 1 MiB; this is no table of rates", name)
	}
	b := builder{file: name, text: string(text), faults: faults}
	var raw tableText
	// a key that is not known would be a rate that the user believes in and nobody spreads
	dec := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	if err := dec.Decode(&raw); err != nil {
		b.decodeFaults(err)
		return nil, false, nil
	}
	t = b.table(&raw)
	if b.bad {
		return nil, false, nil
	}
	return t, true, nil
}

// decodeFaults tells what the decoder found, with its lines.
func (b *builder) decodeFaults(err error) {
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) {
		for _, e := range strict.Errors {
			line, _ := e.Position()
			key := strings.Join(e.Key(), ".")
			b.fault(line, key, "unknown key", "compare with a table of the program", "%q is no key of a table", key)
		}
		return
	}
	b.faults.Add(tomltext.SyntaxFault(b.file, err))
	b.bad = true
}

// builder checks what was decoded.
type builder struct {
	file, text string
	faults     *diag.List
	bad        bool
}

// fault marks the table as bad, and reading goes on: all faults of a file are told in one go.
func (b *builder) fault(line int, field, kind, fix, format string, args ...any) {
	b.bad = true
	b.faults.Add(diag.Fault{File: b.file, Line: line, Field: field, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// line finds the n-th heading of a section, counted from 0; 0 when the table is written another way. The decoder keeps no lines for what
// it has decoded; a heading within a text of several lines would be counted too.
func (b *builder) line(section string, n int) int {
	for i, l := range strings.Split(b.text, "\n") {
		l = strings.TrimSpace(l)
		if strings.HasPrefix(l, "[["+section+"]]") || strings.HasPrefix(l, "["+section+"]") {
			if n == 0 {
				return i + 1
			}
			n--
		}
	}
	return 0
}
