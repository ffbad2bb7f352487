package export

import (
	"math"
	"strconv"
)

// Value is one cell: text, a number, or nothing. The zero value is nothing, which is null in JSON and empty in CSV.
type Value struct {
	kind     Type
	text     string
	number   float64
	decimals int8
}

// Exact as decimals writes the shortest text that reads back as the same number.
const Exact = -1

// tableDecimals is how finely numbers of a table are given: a tenth of a square metre in hectares, the fourth decimal
// of a pH that acceptance cases are checked to. No survey value is that sure; rounding is left to those who print.
const tableDecimals = 4

// text returns a text cell; empty text is nothing.
func text[T ~string](s T) Value {
	if s == "" {
		return Value{}
	}
	return Value{kind: Text, text: string(s)}
}

// number returns a number with at most the given decimals; what is not finite is nothing.
func number(x float64, decimals int8) Value {
	// JSON has no word for them, and a cell with "NaN" is text to some programs and an error to others.
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return Value{}
	}
	return Value{kind: Number, number: x, decimals: decimals}
}

// figure returns a number with the decimals of the tables.
func figure(x float64) Value { return number(x, tableDecimals) }

// whole returns a whole number.
func whole(n int) Value { return Value{kind: Whole, number: float64(n)} }

// optional is what every unit.Opt offers.
type optional[T any] interface{ Get() (T, bool) }

// maybe returns the figure of an optional quantity in its own unit.
func maybe[T ~float64](o optional[T]) Value {
	return maybeAs(o, func(x T) float64 { return float64(x) })
}

// maybeAs is maybe with a conversion, for quantities that are shown in another unit.
func maybeAs[T ~float64](o optional[T], to func(T) float64) Value {
	if x, ok := o.Get(); ok {
		return figure(to(x))
	}
	return Value{}
}

// IsNull says whether the cell holds nothing.
func (v Value) IsNull() bool { return v.kind == nothing }

// Text returns the text of a text cell, without any guard, and "" for any other.
func (v Value) Text() string { return v.text }

// Float returns the number of the cell as it is written, rounding done; ok is false when there is none.
func (v Value) Float() (x float64, ok bool) {
	if v.kind != Number && v.kind != Whole {
		return 0, false
	}
	// By way of the text, so that the formats with binary numbers hold what the tables print, to the last bit.
	x, err := strconv.ParseFloat(v.digits(), 64)
	return x, err == nil
}

// digits prints a number.
func (v Value) digits() string { return Digits(v.number, int(v.decimals)) }

// json appends the value as JSON.
func (v Value) json(b []byte) []byte {
	switch v.kind {
	case Text:
		return appendString(b, v.text)
	case Number, Whole:
		return append(b, v.digits()...)
	}
	return append(b, "null"...)
}

// cell returns the value as a cell of a [Table], which guards it.
func (v Value) cell() string {
	switch v.kind {
	case Text:
		return v.text
	case Number, Whole:
		return v.digits()
	}
	return ""
}
