package csvlist

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// Form is what a list is expected to look like.
type Form struct {
	Columns   []string // names in lower case, the more telling the better: the separator is the one under which most of them are found
	MostBytes int64    // of the file; over it the list is refused whole, so that nobody's wrong file fills the memory
	MostRows  int      // 0 means as many as there are
	Instead   string   // what to do with a file over these bounds, such as "split the file"
}

// List is a file whose header was read.
type List struct {
	Name      string   // as the user named it
	Header    []string // lower case, blanks folded, one for each column; nil where the file is empty or its header is no CSV
	Line      int      // of the header, 1-based: blank lines may stand above it; 1 where there is none
	Separator rune     // comma, semicolon or tab

	form Form
	text string
	at   map[string]int // column by heading; of two alike the first
}

// separators in the order in which they win where the header does not decide: a list of one column has none at all.
const separators = ",;\t"

// Open reads a file and its header. The error says that it could not be read, or is larger than such a list can be.
func Open(name string, r io.Reader, form Form) (*List, error) {
	text, err := io.ReadAll(io.LimitReader(r, form.MostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if int64(len(text)) > form.MostBytes {
		return nil, fmt.Errorf("%s: over %d MiB; %s", name, form.MostBytes>>20, form.Instead)
	}
	l := &List{Name: name, Line: 1, Separator: ',', form: form, text: strings.TrimPrefix(string(text), "\ufeff")}
	most := -1
	for _, separator := range separators {
		header, line := l.headerBy(separator)
		if n := l.known(header); header != nil && n > most {
			most, l.Header, l.Line, l.Separator = n, header, line, separator
		}
	}
	l.at = make(map[string]int, len(l.Header))
	for i, h := range l.Header {
		if _, twice := l.at[h]; !twice {
			l.at[h] = i
		}
	}
	return l, nil
}

// headerBy returns the first line that has anything in it, cut by a separator, and which line that is.
func (l *List) headerBy(separator rune) (header []string, line int) {
	in := l.reader(separator)
	for {
		cells, err := in.Read()
		if err != nil { // the end, or quotation marks that do not fit: no header
			return nil, 0
		}
		if blank(cells) {
			continue
		}
		line, _ = in.FieldPos(0)
		for _, c := range cells {
			header = append(header, strings.ToLower(strings.Join(strings.Fields(c), " ")))
		}
		return header, line
	}
}

// known counts the headings that such a list is expected to have.
func (l *List) known(header []string) (n int) {
	for _, h := range header {
		if slices.Contains(l.form.Columns, h) {
			n++
		}
	}
	return n
}

// Has says whether a column stands in the header.
func (l *List) Has(column string) bool {
	_, has := l.at[column]
	return has
}

// blank says whether a row holds nothing: spreadsheets save the empty rows under a table as rows of separators.
func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}
