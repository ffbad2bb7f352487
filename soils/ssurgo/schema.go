package ssurgo

import (
	_ "embed"
	"strconv"
	"strings"
)

// layout says where the columns of one table stand.
type layout struct {
	table   string
	file    string // without folder and suffix
	width   int    // fields of a record
	columns map[string]column
}

// column is one column that we read.
type column struct {
	at       int // 0-based
	min, max float64
	ranged   bool // min and max bind; both are inclusive
}

// schema is the layout of every table that we read, by the table's name.
type schema map[string]*layout

// schemaCSV holds the columns that we read: name, 1-based position, unit and bounds.
// Source: mstabcol.txt of SSURGO 2.3.3 exports; older and newer exports bring their own.
//
//go:embed schema.csv
var schemaCSV string

// builtin returns a fresh copy of the built-in schema. Fresh, because each area changes its copy by what its own export declares.
func builtin() schema {
	s := schema{}
	lines := strings.Split(strings.TrimSpace(schemaCSV), "\n")
	for _, line := range lines[1:] {
		f := strings.Split(line, ",")
		l := s[f[0]]
		if l == nil {
			l = &layout{table: f[0], file: f[1], width: number(f[2]), columns: map[string]column{}}
			s[f[0]] = l
		}
		// positions count from 1 in the agency's own table
		c := column{at: number(f[4]) - 1}
		// keys and words have no bounds
		if f[6] != "" && f[7] != "" {
			c.min, _ = strconv.ParseFloat(f[6], 64)
			c.max, _ = strconv.ParseFloat(f[7], 64)
			c.ranged = true
		}
		l.columns[f[3]] = c
	}
	return s
}

// number reads a whole number that the embedded table is known to hold; a test reads the whole table.
func number(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// names returns the column name at each position, empty where we do not read the column.
func (l *layout) names() []string {
	names := make([]string, l.width)
	for name, c := range l.columns {
		if c.at < len(names) {
			names[c.at] = name
		}
	}
	return names
}

// tableOf returns the table that a file of an export holds.
func tableOf(file string) string {
	s := builtin()
	for _, name := range sortedKeys(s) {
		if s[name].file == file {
			return name
		}
	}
	return file
}
