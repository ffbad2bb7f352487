package web

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// keptByHand is a record as somebody keeps it by hand: CR LF, comments, quotation marks where none are needed, another program's column,
// lines that cannot be read.
const keptByHand = "\ufefffield_id,who,zone_id,date,kind,value,unit,note\r\n" +
	"# sown by the neighbour\r\n" +
	"F1,Ann,,2026-10-20,sown,,,\"drilled\"\r\n" +
	"\r\n" +
	"\"F1\",\"Ann, Bo\",F1/1,2027-03-18,stems,84,per_ft2,\r\n" +
	"F2,Ann,,2027-03-18,stems,50,per_ft2,\r\n" +
	"F1,Ann,F1/9,2027-13-01,cut,,,\r\n" +
	"F1,Ann,,2027-06-01,cut,,,\"first,\r\nlate\"\r\n"

var markField = regexp.MustCompile(`name="mark" value="([0-9a-f]+)"`)

// lineForm opens the page of a line and returns what its forms carry along.
func (s *site) lineForm(t *testing.T, path string) (url.Values, string) {
	t.Helper()
	code, page := s.get(path)
	m := markField.FindStringSubmatch(page)
	if code != 200 || m == nil {
		t.Fatalf("%s: %d, no form: %.300s", path, code, page)
	}
	return url.Values{"seen": {seenOn(t, page)}, "mark": {m[1]}}, page
}

// A line is corrected and taken out from the page; nothing else in the file changes by a byte.
func TestALineIsCorrectedAndTakenOut(t *testing.T) {
	p := &paper{text: []byte(keptByHand)}
	s := serveRecord(t, p)
	if _, page := s.get(recordPath); strings.Count(page, `class="fix" href="`+recordPath+`/`) != 4 {
		t.Errorf("the page does not lead to the four lines of the field, of which one cannot be read")
	}
	e, page := s.lineForm(t, recordPath+"/5")
	for _, want := range []string{`value="84"`, `value="2027-03-18"`, `" selected>Stems counted<`, `<option value="F1/1" selected>`, "holds: "} {
		if !strings.Contains(page, want) {
			t.Errorf("the form does not begin with %s", want)
		}
	}
	e["date"], e["kind"], e["zone"], e["value"], e["unit"], e["note"] = []string{"2027-03-18"}, []string{"stems"}, []string{"F1/1"}, []string{"48"}, []string{"per_ft2"}, []string{"counted again"}
	code, after := s.form(recordPath+"/5", e)
	want := strings.Replace(keptByHand, "\"F1\",\"Ann, Bo\",F1/1,2027-03-18,stems,84,per_ft2,\r\n", "F1,\"Ann, Bo\",F1/1,2027-03-18,stems,48,per_ft2,counted again\r\n", 1)
	if code != 200 || !strings.Contains(after, "Corrected in line 5 of record.csv: ") || string(p.text) != want {
		t.Fatalf("corrected: %d; the file is %q", code, p.text)
	}
	out, _ := s.lineForm(t, recordPath+"/8")
	if code, text := s.form(recordPath+"/8/out", out); code != 422 || !strings.Contains(text, `id="w-sure">Tick the box`) || string(p.text) != want {
		t.Errorf("taken out without the tick: %d; %q", code, p.text)
	}
	out.Set("sure", "yes")
	want = strings.Replace(want, "F1,Ann,,2027-06-01,cut,,,\"first,\r\nlate\"\r\n", "", 1)
	if code, text := s.form(recordPath+"/8/out", out); code != 200 || !strings.Contains(text, "Line 8 was taken out of record.csv") || string(p.text) != want {
		t.Errorf("taken out: %d; %q", code, p.text)
	}
}

// A line that no program could read can be mended in the page, and keeps a zone that the run does not have unless another is chosen.
func TestABadLineIsMended(t *testing.T) {
	p := &paper{text: []byte(keptByHand)}
	s := serveRecord(t, p)
	e, page := s.lineForm(t, recordPath+"/7")
	if !strings.Contains(page, "which cannot be read") || !strings.Contains(page, "zone F1/9, which this run does not have") {
		t.Error("the page does not say that the line cannot be read, or of which zone it is")
	}
	e["date"], e["kind"], e["zone"] = []string{"2027-12-01"}, []string{"cut"}, []string{"F1/9"}
	if code, _ := s.form(recordPath+"/7", e); code != 200 || string(p.text) != strings.Replace(keptByHand, "2027-13-01", "2027-12-01", 1) {
		t.Errorf("%d; the file is %q", code, p.text)
	}
}

// What cannot be meant is refused beside its field, and the file stays.
func TestCorrectionsThatAreRefused(t *testing.T) {
	p := &paper{text: []byte(keptByHand)}
	s := serveRecord(t, p)
	for name, c := range map[string]struct {
		field, value, says string
	}{
		"date":  {"date", "18 March", `id="w-date">&#34;18 March&#34; is not a date.`},
		"kind":  {"kind", "", `id="w-kind">`},
		"value": {"value", "four", `id="w-value">`},
		"zone":  {"zone", "F2/1", `id="w-zone">The field has no zone &#34;F2/1&#34;.`},
	} {
		e, _ := s.lineForm(t, recordPath+"/5")
		e["date"], e["kind"], e["value"], e["unit"] = []string{"2027-03-18"}, []string{"stems"}, []string{"48"}, []string{"per_ft2"}
		e.Set(c.field, c.value)
		code, text := s.form(recordPath+"/5", e)
		if code != 422 || !strings.Contains(text, c.says) || !strings.Contains(text, "Nothing was written.") || string(p.text) != keptByHand {
			t.Errorf("%s: %d, want 422 and %q; file %q", name, code, c.says, p.text)
		}
		if c.field != "value" && !strings.Contains(text, `value="48"`) {
			t.Errorf("%s: what was typed is gone", name)
		}
	}
	for path, want := range map[string]int{"/6": 404, "/1": 404, "/2": 404, "/99": 404, "/x": 404} { // line 6 is of another field, line 2 of none
		if code, text := s.get(recordPath + path); code != want || path != "/x" && !strings.Contains(text, "This line is not there.") {
			t.Errorf("line %s: %d", path, code)
		}
	}
	e, _ := s.lineForm(t, recordPath+"/5")
	e.Set("sure", "yes")
	if code, _ := s.form(recordPath+"/6/out", e); code < 400 || string(p.text) != keptByHand {
		t.Errorf("a line of another field: %d", code)
	}
	e.Del("token")
	if code, _, _ := s.ask(http.MethodPost, recordPath+"/5/out", strings.NewReader(e.Encode()), nil); code != http.StatusForbidden || string(p.text) != keptByHand {
		t.Errorf("without the token: %d", code)
	}
}

// A change from outside is seen: nothing is written at first, and what is then written goes to the line that was meant, wherever it is now.
func TestALineThatMoved(t *testing.T) {
	p := &paper{text: []byte(keptByHand)}
	s := serveRecord(t, p)
	outside := func(old, new string) {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.text = []byte(strings.Replace(string(p.text), old, new, 1))
	}
	e, _ := s.lineForm(t, recordPath+"/5")
	e["date"], e["kind"], e["zone"], e["value"], e["unit"] = []string{"2027-03-18"}, []string{"stems"}, []string{"F1/1"}, []string{"48"}, []string{"per_ft2"}
	outside("# sown", "F1,Bo,,2026-09-01,lime,,,\r\n# sown")
	before := string(p.text)
	code, text := s.form(recordPath+"/5", e)
	if code != http.StatusConflict || string(p.text) != before || !strings.Contains(text, "Line 6 of record.csv holds: ") || !strings.Contains(text, `value="48"`) || !strings.Contains(text, "changed by another program") {
		t.Fatalf("%d; file %q", code, p.text)
	}
	e.Set("seen", seenOn(t, text)) // pressed again on the page that tells
	if code, _ := s.form(recordPath+"/6", e); code != 200 || string(p.text) != strings.Replace(before, "\"F1\",\"Ann, Bo\",F1/1,2027-03-18,stems,84", "F1,\"Ann, Bo\",F1/1,2027-03-18,stems,48", 1) {
		t.Errorf("the second time: %d; file %q", code, p.text)
	}
	out, _ := s.lineForm(t, recordPath+"/9")
	out.Set("sure", "yes")
	outside("\"first,", "\"second,")
	before = string(p.text)
	if code, text := s.form(recordPath+"/9/out", out); code != http.StatusConflict || string(p.text) != before || !strings.Contains(text, "no longer stands there as this page showed it") || !strings.Contains(text, "Year by year") {
		t.Errorf("a line that was changed itself: %d", code)
	}
}
