package stand

import (
	"bytes"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// dresses are records as people and programs keep them, each with one entry of stems, marked, that somebody typed wrong.
var dresses = map[string]string{
	"usual":             header + "\nhome,,2026-10-20,sown,,,\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»home,,2027-05-01,cut,,,\"first, dry\"\n",
	"the last line":     header + "\nhome,,2026-10-20,sown,,,\n«home,home/1,2027-03-18,stems,84,per_ft2,»",
	"CR LF":             header + "\r\n«home,home/1,2027-03-18,stems,84,per_ft2,\r\n»home,,2027-05-01,cut,,,\r\n",
	"byte order mark":   "\ufeff" + header + "\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»home,,2027-05-01,cut,,,\n",
	"comments":          header + "\n# spring\n\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»\n# summer, \"by hand\"\nhome,,2027-05-01,cut,,,\n",
	"a bad line":        header + "\nhome,,2026-10-32,sown,,,\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»home,,soon,cut,,,\n",
	"notes of lines":    header + "\nhome,,2026-10-20,sown,,,\"two\nlines\"\n«home,home/1,2027-03-18,stems,84,per_ft2,\"and\nthree\nmore\"\n»home,,2027-05-01,cut,,,\"and\nso\"\n",
	"two ends":          header + "\r\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»home,,2027-05-01,cut,,,\r\n",
	"quoted, spaced":    header + "\n\"home\",\"\",\"2026-10-20\",\"sown\",,,\n« \"home\",home/1 , 2027-03-18,Stems,84,PER_FT2\n»\"home\",,2027-05-01,cut\n",
	"a line not read":   header + "\n«home,home/1,2027-13-18,stems,84,per_ft2,\n»home,,2027-05-01,cut,,,\n",
	"an open quotation": header + "\n«home,home/1,2027-03-18,stems,84,per_ft2,\n»home,,2027-05-01,cut,,,\"dry\n",
}

// parted cuts a marked text into what stands before, on and behind the marked line, and counts to it.
func parted(marked string) (before, at, behind string, line int) {
	before, rest, _ := strings.Cut(marked, "«")
	at, behind, _ = strings.Cut(rest, "»")
	return before, at, behind, 1 + strings.Count(before, "\n")
}

// Whatever the file looks like, only the line itself changes, and it is read as it was meant.
func TestCorrectKeepsTheOthers(t *testing.T) {
	e := Entry{Field: "home", Zone: "home/1", Day: "2027-03-18", Kind: "stems", Value: "48", Unit: "per_ft2", Note: "counted, again"}
	for name, marked := range dresses {
		before, at, behind, line := parted(marked)
		text := []byte(before + at + behind)
		typed, raw, ok := Find(text, line)
		if !ok || string(raw) != at || typed.Value != "84" || typed.Unit != "per_ft2" || typed.Kind != "stems" {
			t.Errorf("%s: line %d is %q, %+v; want %q", name, line, raw, typed, at)
			continue
		}
		var faults diag.List
		out, r, ok := Correct("record.csv", text, line, e, &faults)
		if want := before + `home,home/1,2027-03-18,stems,48,per_ft2,"counted, again"` + endOf([]byte(at)) + behind; !ok || string(out) != want {
			t.Errorf("%s: became %q, want %q: %s", name, out, want, &faults)
		} else if r.Line != line || r.Value.Or(0) != 48 || r.Note != e.Note {
			t.Errorf("%s: the line is told as %+v", name, r)
		}
		if out, ok := Remove("record.csv", text, line, &faults); !ok || string(out) != before+behind || faults.Faults() > 0 {
			t.Errorf("%s: taken out leaves %q, want %q: %s", name, out, before+behind, &faults)
		}
	}
}

// Every entry is listed with the place at which it can be corrected, those that cannot be read too.
func TestLines(t *testing.T) {
	for name, marked := range dresses {
		before, at, behind, _ := parted(marked)
		text, found := []byte(before+at+behind), 0
		for _, l := range Lines(text) {
			e, raw, ok := Find(text, l.Number)
			if !ok || !bytes.Equal(raw, l.Raw) || e.Field != l.Field {
				t.Errorf("%s: line %d is %q of %q, found %q of %q", name, l.Number, l.Raw, l.Field, raw, e.Field)
			}
			if string(l.Raw) == at && l.Field == "home" {
				found++
			}
		}
		if found != 1 {
			t.Errorf("%s: %q is listed %d times", name, at, found)
		}
	}
	if got := Lines([]byte("no header\n")); got != nil {
		t.Errorf("without a header: %v", got)
	}
}

// Cells of columns that the record does not know, and the separator of the file, stay on the corrected line too.
func TestCorrectKeepsOtherColumns(t *testing.T) {
	e := Entry{Field: "home", Day: "2027-03-18", Kind: "cut", Note: "late"}
	for text, want := range map[string]string{
		"who,field_id,date,kind,note,tag\nAnn,home,2027-03-17,cut,,\"a,b\"\n": "who,field_id,date,kind,note,tag\nAnn,home,2027-03-18,cut,late,\"a,b\"\n",
		"field_id;date;kind;note\nhome;2027-03-17;cut;;more;cells\n":          "field_id;date;kind;note\nhome;2027-03-18;cut;late;more;cells\n",
		"field_id,date,kind,note,kind\nhome,2027-03-17,cut,,grazed\n":         "field_id,date,kind,note,kind\nhome,2027-03-18,cut,late,grazed\n", // of two columns alike the first is read
	} {
		if out, _, ok := Correct("record.csv", []byte(text), 2, e, &diag.List{}); !ok || string(out) != want {
			t.Errorf("%q became %q, want %q", text, out, want)
		}
	}
}

// What cannot be meant is refused with the line and the column, and so is a line on which no entry begins.
func TestCorrectRefuses(t *testing.T) {
	text := header + "\nhome,,2026-10-20,sown,,,\"two\nlines\"\nhome,,2027-03-18,stems,84,per_ft2,\n\n"
	good := Entry{Field: "home", Day: "2027-03-18", Kind: "stems", Value: "48", Unit: "per_ft2"}
	for name, c := range map[string]struct {
		line   int
		change func(*Entry)
		field  string
	}{
		"date":           {4, func(e *Entry) { e.Day = "18 March" }, "date"},
		"kind":           {4, func(e *Entry) { e.Kind = "steems" }, "kind"},
		"value":          {4, func(e *Entry) { e.Value = "4,8" }, "value"},
		"no figure":      {4, func(e *Entry) { e.Value = "" }, "value"},
		"unit":           {4, func(e *Entry) { e.Unit = "pct" }, "unit"},
		"no field":       {4, func(e *Entry) { e.Field = "" }, "field_id"},
		"the header":     {1, func(*Entry) {}, ""},
		"amid a note":    {3, func(*Entry) {}, ""},
		"an empty line":  {5, func(*Entry) {}, ""},
		"behind the end": {99, func(*Entry) {}, ""},
		"nowhere":        {-1, func(*Entry) {}, ""},
	} {
		e := good
		c.change(&e)
		var faults diag.List
		out, _, ok := Correct("record.csv", []byte(text), c.line, e, &faults)
		if ok || out != nil || faults.Faults() != 1 {
			t.Errorf("%s: not refused: %q %s", name, out, &faults)
			continue
		}
		if f := faults.Kept()[0]; f.Field != c.field || f.Line != c.line || f.Fix == "" {
			t.Errorf("%s: told %q in line %d, want %q in line %d, with a remedy: %v", name, f.Field, f.Line, c.field, c.line, f)
		}
		if _, ok := Remove("record.csv", []byte(text), c.line, &faults); ok != (c.field != "") {
			t.Errorf("%s: taken out: %v", name, ok)
		}
	}
}

// Whatever a file holds, one line of it changes and no other byte does.
func FuzzCorrect(f *testing.F) {
	for _, marked := range dresses {
		before, at, behind, line := parted(marked)
		f.Add(before+at+behind, line, "2028-03-18", "48", "dry, \"late\"")
	}
	f.Add("kind;field_id;date;note\r\ncut;a;2028-03-18;\"\r\nb\"\r", 2, "2028-03-18", "", "\n;")
	f.Fuzz(func(t *testing.T, text string, line int, day, value, note string) {
		was, raw, found := Find([]byte(text), line)
		var faults diag.List
		out, r, ok := Correct("record.csv", []byte(text), line, Entry{Field: "a", Day: day, Kind: "stems", Value: value, Unit: "per_ft2", Note: note}, &faults)
		if ok && !found || !ok && faults.Faults() == 0 {
			t.Fatalf("%q, line %d: %v without a word: %s", text, line, ok, &faults)
		}
		if !found {
			return
		}
		begin := offsetOf([]byte(text), line)
		before, behind := text[:begin], text[begin+len(raw):]
		if ok {
			now, line1, again := Find(out, line)
			if !again || !bytes.HasPrefix(out, []byte(before)) || !bytes.HasSuffix(out, []byte(behind)) || len(out) != len(before)+len(line1)+len(behind) || now.Note != r.Note || r.Line != line {
				t.Fatalf("%q (%+v) became %q", text, was, out)
			}
		}
		if out, ok := Remove("record.csv", []byte(text), line, &diag.List{}); ok && string(out) != before+behind {
			t.Fatalf("%q without line %d became %q", text, line, out)
		}
	})
}
