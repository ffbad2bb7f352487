package stand

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// Whatever the file looks like, what stood in it stays, and the new line is read as it was meant.
func TestAppendKeepsTheFile(t *testing.T) {
	e := Entry{Field: "home", Zone: "home/1", Day: "2028-03-18", Kind: "stems", Value: "48", Unit: "per_ft2", Note: `north end, "thin"`}
	for name, text := range map[string]string{
		"no file":         "",
		"usual":           header + "\nhome,,2026-10-20,sown,,,\n",
		"no end of line":  header + "\nhome,,2026-10-20,sown,,,",
		"CR LF":           header + "\r\nhome,,2026-10-20,sown,,,\r\n",
		"byte order mark": "\ufeff" + header + "\nhome,,2026-10-20,sown,,,\n",
		"other columns":   "note,who,unit,value,kind,date,zone_id,field_id\n,me,,,sown,2026-10-20,,home\n",
		"a bad line":      header + "\nhome,,2026-10-32,sown,,,\n# of last year\nhome,,2026-10-20,sown,,,\n",
		"semicolons":      strings.ReplaceAll(header, ",", ";") + "\nhome;;2026-10-20;sown;;;\n",
		"tabs":            "field_id\tzone_id\tdate\tkind\tvalue\tunit\tnote\r\nhome\t\t2026-10-20\tsown\t\t\t\r\n",
		"empty rows":      header + "\nhome,,2026-10-20,sown,,,\n,,,,,,\n",
		"note of lines":   header + "\nhome,,2026-10-20,sown,,,\"two\nlines\"\n",
	} {
		var faults, silent diag.List
		out, r, ok := Append("record.csv", []byte(text), e, &faults)
		if !ok {
			t.Errorf("%s: refused: %s", name, &faults)
			continue
		}
		if !bytes.HasPrefix(out, []byte(text)) {
			t.Errorf("%s: what stood in the file was changed:\n%q", name, out)
		}
		old, _ := Read("record.csv", strings.NewReader(text), &silent)
		got, err := Read("record.csv", bytes.NewReader(out), &silent)
		if err != nil || len(got) != len(old)+1 || !reflect.DeepEqual(got[len(old)], r) || r.Note != e.Note || r.Value.Or(0) != 48 {
			t.Errorf("%s: read back %+v, want %+v at the end", name, got, r)
		}
		if strings.Contains(text, "\r\n") && bytes.Count(out, []byte("\r\n")) != bytes.Count(out, []byte("\n")) {
			t.Errorf("%s: lines end in two ways: %q", name, out)
		}
	}
}

// What cannot be meant is refused with the line it would have been and the column, and so is a file that has no place for it.
func TestAppendRefuses(t *testing.T) {
	good := Entry{Field: "home", Day: "2028-03-18", Kind: "stems", Value: "48", Unit: "per_ft2"}
	usual := header + "\nhome,,2026-10-20,sown,,,\n"
	for name, c := range map[string]struct {
		text   string
		change func(*Entry)
		field  string
		line   int
	}{
		"no field":       {usual, func(e *Entry) { e.Field = " " }, "field_id", 3},
		"no date":        {usual, func(e *Entry) { e.Day = "18.3.2028" }, "date", 3},
		"kind":           {usual, func(e *Entry) { e.Kind = "steems" }, "kind", 3},
		"unit":           {usual, func(e *Entry) { e.Unit = "" }, "unit", 3},
		"value":          {usual, func(e *Entry) { e.Value = "4,8" }, "value", 3},
		"negative":       {usual, func(e *Entry) { e.Value = "-1" }, "value", 3},
		"no figure":      {usual, func(e *Entry) { e.Value = "" }, "value", 3},
		"not wanted":     {usual, func(e *Entry) { e.Kind = "cut" }, "value", 3},
		"no such column": {"field_id,date,kind,value,unit\n", func(e *Entry) { e.Note = "dry" }, "note", 2},
		"no header":      {"home,,2026-10-20,sown,,,\n", func(*Entry) {}, "date", 1},
		"open quotation": {header + "\nhome,,2026-10-20,sown,,,\"dry\n", func(*Entry) {}, "", 2},
	} {
		e := good
		c.change(&e)
		var faults diag.List
		out, _, ok := Append("record.csv", []byte(c.text), e, &faults)
		if ok || out != nil || faults.Faults() == 0 {
			t.Errorf("%s: not refused: %q", name, out)
			continue
		}
		if f := faults.Kept()[0]; f.Field != c.field || f.Line != c.line || f.Fix == "" {
			t.Errorf("%s: told %q in line %d, want %q in line %d, with a remedy: %v", name, f.Field, f.Line, c.field, c.line, f)
		}
	}
	lime := Entry{Field: "home", Day: "2028-03-18", Kind: "Lime"}
	if _, r, ok := Append("record.csv", nil, lime, &diag.List{}); !ok || r.Kind != "lime" || r.Line != 2 {
		t.Errorf("lime of an amount that nobody wrote down: %+v, %v", r, ok)
	}
}

// Nothing that stands in a file is ever lost by adding to it.
func FuzzAppend(f *testing.F) {
	f.Add("", "home", "2028-03-18", "stems", "48", "per_ft2", "dry")
	f.Add(header+"\nhome,,2026-10-20,sown,,,\"dry\n", "home", "2028-03-18", "cut", "", "", "\"")
	f.Add("kind,field_id,date\r\n", "a", "2028-03-18", "cut", "", "", "")
	f.Fuzz(func(t *testing.T, text, field, day, kind, value, unitOf, note string) {
		var faults, silent diag.List
		out, r, ok := Append("record.csv", []byte(text), Entry{Field: field, Day: day, Kind: kind, Value: value, Unit: unitOf, Note: note}, &faults)
		if !ok {
			if faults.Faults() == 0 {
				t.Fatal("refused without a word")
			}
			return
		}
		old, _ := Read("record.csv", strings.NewReader(text), &silent)
		now, err := Read("record.csv", bytes.NewReader(out), &silent)
		if err != nil || len(now) != len(old)+1 || !reflect.DeepEqual(now[:len(old)], append([]Record{}, old...)) || !reflect.DeepEqual(now[len(old)], r) {
			t.Fatalf("%q and %+v became %q", text, r, out)
		}
		if strings.TrimSpace(text) != "" && !bytes.HasPrefix(out, []byte(text)) && strings.Trim(text, "\ufeff \r\n\t") != "" {
			t.Fatalf("%q does not begin with %q", out, text)
		}
	})
}
