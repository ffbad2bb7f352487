package soildata

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// cell is one value of an answer: text, or null. The service writes numbers and truth values as text too.
type cell struct {
	// as the service wrote it; "" is a text, and not null
	Text string
	Set  bool // false for null
}

// UnmarshalJSON takes text and null, and a bare number by its digits; a saved answer has none, but it could not be
// misread.
func (c *cell) UnmarshalJSON(b []byte) error {
	switch {
	case string(b) == "null":
		*c = cell{}
		return nil
	case b[0] == '"':
		c.Set = true
		return json.Unmarshal(b, &c.Text)
	case b[0] == '-' || b[0] >= '0' && b[0] <= '9':
		*c = cell{Text: string(b), Set: true}
		return nil
	}
	// Also an object or a list, which a cell of a table cannot be.
	return fmt.Errorf("a value is neither text nor null: %s", clip(string(b)))
}

// answer is a table as the service sends it.
type answer struct {
	columns []string
	rows    [][]cell // each as long as columns
}

// errTooManyRows says that an answer holds as many rows as the service gives at most, so that there may be more.
var errTooManyRows = errors.New("as many rows as one answer may have")

// errCutOff says that an answer ends in the middle.
var errCutOff = errors.New("the answer is cut off")

// parseAnswer reads an answer in the form JSON+COLUMNNAME: {"Table":[[names…],[values…],…]}. An empty object has no
// rows and no columns: nothing matched. At maxRows rows the error is errTooManyRows.
func parseAnswer(b []byte, maxRows int) (*answer, error) {
	dec := json.NewDecoder(bytes.NewReader(b))
	a, err := readObject(dec, maxRows)
	if err != nil {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, errCutOff
		}
		return nil, err
	}
	// a second document behind the first is an answer to nobody's question
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("there is text behind the answer")
	}
	return a, nil
}

// readObject reads the outer object, token by token: the answer may be large, and only its table is kept.
func readObject(dec *json.Decoder, maxRows int) (*answer, error) {
	if err := delim(dec, '{'); err != nil {
		return nil, err
	}
	var a *answer
	keys := 0
	for ; dec.More(); keys++ {
		key, err := dec.Token()
		if err != nil {
			return nil, err
		}
		// other members may come to be added
		if key != "Table" {
			var skipped json.RawMessage
			if err := dec.Decode(&skipped); err != nil {
				return nil, err
			}
			continue
		}
		if a != nil {
			return nil, errors.New(`it has two members "Table"`)
		}
		if a, err = readTable(dec, maxRows); err != nil {
			return nil, err
		}
	}
	// An object of other members is some other answer; only the empty one means that nothing matched.
	if a == nil && keys > 0 {
		return nil, errors.New(`it has no member "Table"`)
	}
	if a == nil {
		a = &answer{}
	}
	return a, delim(dec, '}')
}

// readTable reads the rows, the names of the columns first.
func readTable(dec *json.Decoder, maxRows int) (*answer, error) {
	if err := delim(dec, '['); err != nil {
		return nil, err
	}
	a := &answer{}
	// Row by row: an answer of too many rows is refused at maxRows, and none behind it is decoded.
	for n := 0; dec.More(); n++ {
		var row []cell
		if err := dec.Decode(&row); err != nil {
			return nil, err
		}
		switch {
		case n == 0:
			// Only the order of the rows tells the header from the values.
			if err := a.header(row); err != nil {
				return nil, err
			}
		// A short row would move every value behind the gap into another column.
		case len(row) != len(a.columns):
			return nil, fmt.Errorf("row %d has %d values, the table has %d columns", n, len(row), len(a.columns))
		// At the limit and not past it: the service stops there without saying whether there was more.
		case len(a.rows)+1 >= maxRows:
			return nil, errTooManyRows
		default:
			a.rows = append(a.rows, row)
		}
	}
	return a, delim(dec, ']')
}

// header takes the first row, the names of the columns.
func (a *answer) header(row []cell) error {
	if len(row) == 0 {
		return errors.New("its first row names no columns")
	}
	for _, c := range row {
		if !c.Set || c.Text == "" {
			return errors.New("a column in its first row has no name")
		}
		a.columns = append(a.columns, c.Text)
	}
	return nil
}

// check compares the columns with those that were asked for. An answer without rows has none.
func (a *answer) check(columns []string) error {
	// nothing matched: {} without even a header
	if len(a.columns) == 0 {
		return nil
	}
	if len(a.columns) != len(columns) {
		return fmt.Errorf("it has %d columns, %d were asked for", len(a.columns), len(columns))
	}
	for i, c := range columns {
		if !strings.EqualFold(c, a.columns[i]) {
			return fmt.Errorf("column %d is %q, %q was asked for", i+1, clip(a.columns[i]), c)
		}
	}
	return nil
}

// delim takes a bracket or brace that must come now.
func delim(dec *json.Decoder, want json.Delim) error {
	t, err := dec.Token()
	if err != nil {
		return err
	}
	if t != want {
		return fmt.Errorf("%q expected", want.String())
	}
	return nil
}

// clip makes a foreign text fit for a message: one line, no control characters, at most 200 bytes.
// What comes from the network must not reach a terminal as it is: control characters could move the cursor or colour the
// screen.
func clip(s string) string {
	const most = 200
	cut := len(s) > most
	if cut {
		s = s[:most]
	}
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return ' '
		}
		return r
		// The cut may have gone through the middle of a letter, which this takes off.
	}, strings.ToValidUTF8(s, ""))
	s = strings.Join(strings.Fields(s), " ")
	if cut {
		s += "…"
	}
	return s
}
