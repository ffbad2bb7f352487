package csvlist

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

var form = Form{Columns: []string{"name", "price", "note"}, MostBytes: 1 << 20, MostRows: 100, Instead: "split the file"}

func open(t testing.TB, text string) *List {
	t.Helper()
	l, err := Open("x.csv", strings.NewReader(text), form)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// The same list in every dress that spreadsheets save it in says the same.
func TestDialects(t *testing.T) {
	for name, text := range map[string]string{
		"commas":            "name,price,note\nA,40,\"dry, fine\"\nB,55,\n",
		"semicolons":        "name;price;note\nA;40;dry, fine\nB;55;\n",
		"tabs":              "name\tprice\tnote\nA\t40\tdry, fine\nB\t55\t\n",
		"byte order mark":   "\ufeffname,price,note\nA,40,\"dry, fine\"\nB,55,\n",
		"CR LF":             "name,price,note\r\nA,40,\"dry, fine\"\r\nB,55\r\n",
		"capitals, blanks":  " Name , PRICE ,\"Note\"\nA , 40, \"dry, fine\"\nB,55\n",
		"another order":     "note;name;price\n\"dry, fine\";A;40\n;B;55",
		"an empty column":   "name\t\tprice\tnote\nA\t\t40\tdry, fine\nB\t\t55\n",
		"blank lines":       "\n,,\nname,price,note\n\nA,40,\"dry, fine\"\n,,\n \nB,55,\n,,\n",
		"commas in a title": "name;price;\"note, by whom, and when\";note\nA;40;;dry, fine\nB;55\n",
	} {
		l, faults := open(t, text), diag.List{}
		var got []string
		for r := range l.Rows(&faults) {
			got = append(got, r.Cell("name")+"|"+r.Cell("price")+"|"+r.Cell("note")+"|"+r.Cell("none"))
		}
		if want := []string{"A|40|dry, fine|", "B|55||"}; !slices.Equal(got, want) || len(faults.Kept()) > 0 {
			t.Errorf("%s: %q, want %q: %s", name, got, want, faults.String())
		}
	}
}

// A fault stands at the line where something can be done about it, and the rows beside it are read.
func TestFaults(t *testing.T) {
	for name, c := range map[string]struct{ marked, names, what string }{
		"mark in a cell": {"name,note\nA,\n«B,6\" deep\nC,\n", "A C", "at byte 4 of the line"},
		"never closed":   {"name,note\nA,\n\n«B,\"north end\nC,\nD,\n", "A", "lines 4 to 6 are left out"},
		"too many":       {"name\n" + strings.Repeat("A\n", 100) + "«B\nC\n", strings.TrimSpace(strings.Repeat("A ", 100)), "over 100 rows"},
	} {
		line := 1 + strings.Count(c.marked[:strings.Index(c.marked, "«")], "\n")
		l, faults := open(t, strings.ReplaceAll(c.marked, "«", "")), diag.List{}
		var names []string
		for r := range l.Rows(&faults) {
			names = append(names, r.Cell("name"))
		}
		kept := faults.Kept()
		if strings.Join(names, " ") != c.names || len(kept) != 1 || kept[0].Line != line || !strings.Contains(kept[0].What, c.what) || kept[0].Fix == "" {
			t.Errorf("%s: read %q, told %v; want %q and %q at line %d", name, names, kept, c.names, c.what, line)
		}
	}
}

func TestNoHeader(t *testing.T) {
	for _, text := range []string{"", "\ufeff\n \n", "\"name,price\n"} {
		l, faults := open(t, text), diag.List{}
		for r := range l.Rows(&faults) {
			t.Errorf("%q has the row %q", text, r.Cells)
		}
		if l.Header != nil || l.Line != 1 || l.Has("name") || l.Row(2, []string{"A"}).Cell("name") != "" {
			t.Errorf("%q has the header %q", text, l.Header)
		}
	}
	if _, err := Open("x.csv", strings.NewReader(strings.Repeat("a,", 1<<20)), form); err == nil || !strings.Contains(err.Error(), "x.csv: over 1 MiB; split the file") {
		t.Errorf("a list without end: %v", err)
	}
	if l := open(t, "name,name\nA,B\n"); l.Row(2, []string{"A", "B"}).Cell("name") != "A" {
		t.Error("of two columns alike the first is read")
	}
}

// What is read and written again with the separator of the list is the same list.
func FuzzRows(f *testing.F) {
	f.Add("name,price\nA,\"4\n0\"\n")
	f.Add("\ufeffname;note\n;\nA;\"b\"\"c\"\n\"")
	f.Add("name\tnote\n\tx\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > int(form.MostBytes) || strings.Contains(text, "\r") {
			return // within a quoted cell a carriage return before a line end is not kept by encoding/csv, the judge here
		}
		l, faults := open(t, text), diag.List{}
		var out bytes.Buffer
		w := csv.NewWriter(&out)
		w.Comma = l.Separator
		var first []string
		w.Write(l.Header)
		for r := range l.Rows(&faults) {
			w.Write(r.Cells)
			first = append(first, fmt.Sprintf("%q", r.Cells))
		}
		w.Flush()
		if l.Header == nil {
			return
		}
		in := csv.NewReader(&out)
		in.Comma, in.FieldsPerRecord = l.Separator, -1
		rows, err := in.ReadAll()
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		for i, r := range rows[min(1, len(rows)):] {
			if i >= len(first) || fmt.Sprintf("%q", r) != first[i] {
				t.Fatalf("%q: row %d is %q, was %q", text, i, r, first)
			}
		}
		if faults.Faults() == 0 && len(rows) != len(first)+1 {
			t.Fatalf("%q: %d rows became %d", text, len(first), len(rows)-1)
		}
	})
}
