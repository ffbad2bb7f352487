package soildata

import (
	"errors"
	"fmt"
	"strings"
)

// question is a query and the columns that its answer must have.
type question struct {
	text    string
	columns []string
}

// read reads an answer to the question. The error is a *failure.
func (q question) read(raw []byte, l limits) (*answer, error) {
	a, err := parseAnswer(raw, l.rows)
	if err == nil {
		err = a.check(q.columns)
	}
	switch {
	// in the order of what to do: use it, ask for less, ask again, give up
	case err == nil:
		return a, nil
	case errors.Is(err, errTooManyRows):
		return nil, &failure{verdict: tooMuch, what: "answered with " + err.Error(), err: err}
	case errors.Is(err, errCutOff):
		return nil, &failure{verdict: passing, what: "broke off in the middle of its answer", err: err}
	}
	return nil, &failure{what: fmt.Sprintf("answered, but not as documented: %v", err), err: err}
}

// selection is a query over a list of keys: SELECT columns FROM tables WHERE key IN (…) AND condition.
// One selection makes as many questions as there are lists of keys.
type selection struct {
	columns []string // each with its table: "component.cokey"
	from    string
	key     string
	and     string // further condition; empty for none
}

// over returns the question for some keys. Keys are digits or survey symbols, which was checked: nothing that came
// from outside stands in a query in any other form.
func (s selection) over(keys []string) question {
	var b strings.Builder
	fmt.Fprintf(&b, "SELECT %s FROM %s WHERE %s IN ('%s')", strings.Join(s.columns, ", "), s.from, s.key, strings.Join(keys, "', '"))
	if s.and != "" {
		b.WriteString(" AND " + s.and)
	}
	return question{text: b.String(), columns: bare(s.columns)}
}

// bare strips tables from column names, and what stands before an alias.
func bare(columns []string) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		// "a.b" becomes b, and "f() AS geom" becomes geom.
		out[i] = c[max(strings.LastIndex(c, "."), strings.LastIndex(c, " "))+1:]
	}
	return out
}

// safeKey says whether a key may stand in a query: digits, as every key of the survey is.
func safeKey(s string) bool {
	// Thirty is the width of a key's column in the tables.
	return s != "" && len(s) <= 30 && strings.Trim(s, "0123456789") == ""
}

// Symbol returns a survey area's symbol in capitals. ok is false for what is none: two to twenty letters and digits,
// two letters first. "US", the general soil map, is not one of the areas.
func Symbol(s string) (symbol string, ok bool) {
	const letters, digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "0123456789"
	s = strings.ToUpper(strings.TrimSpace(s))
	// what is left can stand in a query and in a file name
	if len(s) < 2 || len(s) > 20 || s == general || strings.Trim(s[:2], letters) != "" || strings.Trim(s, letters+digits) != "" {
		return "", false
	}
	return s, true
}

// general is the symbol under which the general soil map of the country (1:250,000) stands in the same tables.
const general = "US"
