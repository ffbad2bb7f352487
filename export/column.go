package export

// Type is what the cells of a column hold when they hold anything; it never changes within a column.
type Type uint8

// The types.
const (
	nothing Type = iota
	Text
	Number
	Whole
)

// Column is one property of every output: its name, what its cells hold, in which unit, and what it means. Formats of
// ten letters take the first ten of Name, which all differ within a table.
type Column struct {
	Name    string
	Type    Type
	Unit    string // "" for text and for numbers without one
	Meaning string
}

// shortName is how many letters the poorest format allows a name (dBASE III, as used by shapefiles).
const shortName = 10

// Short returns the name for formats of ten letters.
// A test looks that they all differ.
func (c Column) Short() string { return c.Name[:min(len(c.Name), shortName)] }

// entry is a column with the way to its value.
type entry[T any] struct {
	Column
	of func(T) Value
}

// columns returns what the entries declare, without the way to their values.
func columns[T any](entries []entry[T]) []Column {
	out := make([]Column, len(entries))
	for i, e := range entries {
		out[i] = e.Column
	}
	return out
}

// row returns the values of one thing, in the order of the entries, so that names and values cannot drift apart.
func row[T any](entries []entry[T], of T) []Value {
	out := make([]Value, len(entries))
	for i, e := range entries {
		out[i] = e.of(of)
	}
	return out
}

// entries of a column, by type, so that a declaration stays on one line.

// textual declares a column of words.
func textual[T any](name, meaning string, of func(T) Value) entry[T] {
	return entry[T]{Column{name, Text, "", meaning}, of}
}

// numeric declares a column of numbers in a unit.
func numeric[T any](name, unit, meaning string, of func(T) Value) entry[T] {
	return entry[T]{Column{name, Number, unit, meaning}, of}
}

// counted declares a column of whole numbers.
func counted[T any](name, unit, meaning string, of func(T) Value) entry[T] {
	return entry[T]{Column{name, Whole, unit, meaning}, of}
}
