package feature

import (
	"fmt"
	"iter"
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// Type is what a column holds.
type Type uint8

// The types of columns, and the Go values they take; nil, a missing value, goes into all.
const (
	Text    Type = iota // string
	Integer             // int, int64
	Real                // float64, int, int64
	Bool                // bool
	Date                // string "YYYY-MM-DD"
)

// Types returns all types.
func Types() []Type { return []Type{Text, Integer, Real, Bool, Date} }

// String returns the type's name.
func (t Type) String() string {
	names := [...]string{"text", "whole number", "number", "yes or no", "date"}
	if int(t) < len(names) {
		return names[t]
	}
	return fmt.Sprintf("type %d", uint8(t))
}

// Column is one attribute of a layer that is written.
type Column struct {
	Name  string
	Type  Type
	Title string // for people; empty means the name
}

// Rows are the features to write: a shape, empty for none, and a value for each column. A writer may walk through them
// more than once, so they must yield the same each time.
type Rows = iter.Seq2[orb.MultiPolygon, []any]

// CheckColumns says what is wrong with columns that no format could hold: names that are empty or stand twice
// (capitals do not matter).
func CheckColumns(columns []Column) error {
	seen := map[string]bool{}
	for i, c := range columns {
		// Databases and shapefiles do not tell capitals apart, so no layer may.
		key := strings.ToLower(c.Name)
		switch {
		case strings.TrimSpace(c.Name) == "":
			return fmt.Errorf("column %d has no name", i+1)
		case seen[key]:
			return fmt.Errorf("column name %q stands twice", c.Name)
		case int(c.Type) >= len(Types()):
			return fmt.Errorf("column %s: %v is no type", c.Name, c.Type)
		}
		seen[key] = true
	}
	return nil
}

// Check returns the value as the column's type has it: nil, string, int64, float64 or bool. The error names the column
// and a value that is not of its type, or no finite number.
func (c Column) Check(v any) (any, error) {
	switch v := v.(type) {
	case nil:
		return nil, nil
	case string:
		if c.Type == Text || c.Type == Date && isDate(v) {
			return strings.ToValidUTF8(v, "\ufffd"), nil
		}
	case bool:
		if c.Type == Bool {
			return v, nil
		}
	case int:
		return c.Check(int64(v))
	// Whole numbers go into a column of numbers, never the other way round: a fraction would be lost.
	case int64:
		switch c.Type {
		case Integer:
			return v, nil
		case Real:
			return float64(v), nil
		}
	case float64:
		if c.Type == Real && !math.IsNaN(v) && !math.IsInf(v, 0) {
			return v + 0, nil // no minus zero
		}
	}
	return nil, fmt.Errorf("column %s: %v is no %s; leave it missing", c.Name, v, c.Type)
}

// Check checks a row against its columns and returns its values as [Column.Check] does, in into.
func Check(columns []Column, values, into []any) ([]any, error) {
	if len(values) != len(columns) {
		return nil, fmt.Errorf("%d values for %d columns", len(values), len(columns))
	}
	// into is used again for every row, so values are valid until the next one.
	into = into[:0]
	for i, c := range columns {
		v, err := c.Check(values[i])
		if err != nil {
			return nil, err
		}
		into = append(into, v)
	}
	return into, nil
}

func isDate(s string) bool {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return false
	}
	// The form alone: 2025-02-30 is let through.
	return strings.Trim(s[:4]+s[5:7]+s[8:], "0123456789") == ""
}
