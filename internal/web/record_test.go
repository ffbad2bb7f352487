package web

import (
	"bytes"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/run"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// paper is a record in memory.
type paper struct {
	mu   sync.Mutex
	text []byte
}

func (p *paper) file() *RecordFile {
	return &RecordFile{Name: "record.csv", Read: func() ([]byte, error) { p.mu.Lock(); defer p.mu.Unlock(); return bytes.Clone(p.text), nil },
		Write: func(was, text []byte) error {
			p.mu.Lock()
			defer p.mu.Unlock()
			if !bytes.Equal(was, p.text) {
				return ErrChanged
			}
			p.text = bytes.Clone(text)
			return nil
		}}
}

// serveRecord starts a server on the demonstration with a record.
func serveRecord(t *testing.T, p *paper) *site {
	t.Helper()
	dir := t.TempDir()
	if err := run.Write(dir, screenDemo(t, nil)); err != nil {
		t.Fatal(err)
	}
	c := Config{Program: "rootworthy test", Runs: []Source{{Name: "demo run", Files: os.DirFS(dir)}}}
	if p != nil {
		c.Record = p.file()
	}
	s, err := New(c)
	if err != nil {
		t.Fatal(err)
	}
	return start(t, s)
}

// form posts an entry as a browser without a script does, and returns the page that follows.
func (s *site) form(path string, values url.Values) (int, string) {
	values.Set("token", s.server.token)
	code, _, text := s.ask(http.MethodPost, path, strings.NewReader(values.Encode()), func(r *http.Request) {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", s.base)
	})
	return code, text
}

const recordPath = "/run/1/field/0/record"

var seenField = regexp.MustCompile(`name="seen" value="([0-9a-f]+)"`)

func seenOn(t *testing.T, page string) string {
	t.Helper()
	m := seenField.FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("the page has no form: %.300s", page)
	}
	return m[1]
}

// An entry begins the file, the next one comes behind it, and both stand on the page.
func TestEntriesAreWrittenBehindWhatStands(t *testing.T) {
	p := &paper{}
	s := serveRecord(t, p)
	_, page := s.get(recordPath)
	entries := []url.Values{
		{"date": {"2026-10-20"}, "kind": {"sown"}},
		{"date": {"2027-03-18"}, "kind": {"stems"}, "zone": {"F1/1"}, "value": {"48"}, "unit": {"per_ft2"}, "note": {`north end "thin"`}},
		{"date": {"2027-03-20"}, "kind": {"soil_ph"}, "value": {"5.9"}, "unit": {"ph"}},
	}
	for i, e := range entries {
		e.Set("seen", seenOn(t, page))
		before := string(p.text)
		code, after := s.form(recordPath, e)
		if code != 200 || !strings.Contains(after, "Written in line") || !strings.HasPrefix(string(p.text), before) {
			t.Fatalf("entry %d: %d; file %q", i, code, p.text)
		}
		page = after
	}
	var faults diag.List
	records, err := stand.Read("record.csv", bytes.NewReader(p.text), &faults)
	if err != nil || faults.Faults() > 0 || len(records) != 3 || records[1].String() != "F1 2027-03-18 stems 48 per_ft2" || records[1].Note != `north end "thin"` {
		t.Errorf("the file holds %v %s: %q", records, &faults, p.text)
	}
	for _, want := range []string{"keep, yield falls", "2027, year 1", "2033, year 7", "Hall, Penn State", "<svg", "Nothing is written down.", "Under 6.5, the pH that the run limes to"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if _, list := s.get("/run/1/record"); !strings.Contains(list, "keep, yield falls") || !strings.Contains(list, "October 20, 2026") {
		t.Error("the list of the fields does not sum up the record")
	}
}

// A line of the whole field stands once in its year, however many zones count; zones that were sown apart keep their own years.
func TestYearsShowEachLineOnce(t *testing.T) {
	var faults diag.List
	records, err := stand.Read("record.csv", strings.NewReader(`field_id,zone_id,date,kind,value,unit,note
F1,,2027-06-01,cut,,,
F1,F1/1,2026-10-20,sown,,,
F1,F1/2,2028-10-20,sown,,,
F1,F1/1,2029-03-18,stems,58,per_ft2,
F1,F1/2,2029-03-18,stems,30,per_ft2,
F1,F1/1,2040-03-18,stems,30,per_ft2,
`), &faults)
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, &faults)
	}
	years, later := yearsOf(stand.History(records), suitability.Target{})
	lines, verdicts := map[int]int{}, ""
	for _, y := range years {
		for _, g := range y.Groups {
			for _, l := range g.Lines {
				lines[l.Line]++
			}
		}
		for _, v := range y.Verdicts {
			verdicts += y.Title + ": " + v.Where + " " + v.Action + "; "
		}
	}
	// The cutting of 2027 belongs to year 1 of the first zone and to what came before the sowing of the second.
	if lines[2] != 2 || lines[5] != 1 || lines[6] != 1 || lines[7] != 0 || !strings.HasPrefix(later, "1 line lies beyond year 7") {
		t.Errorf("lines stand so often: %v; %q", lines, later)
	}
	if want := "2029, year 1: Zone F1/2 thicken; 2029, year 3: Zone F1/1 keep; "; verdicts != want {
		t.Errorf("verdicts %q, want %q", verdicts, want)
	}
}

// Without a day of sowing counts stand under their calendar years, and the page says how they were judged.
func TestCountsWithoutSowing(t *testing.T) {
	s := serveRecord(t, &paper{text: []byte("field_id,zone_id,date,kind,value,unit,note\nF1,F1/1,2028-03-18,stems,58,per_ft2,\nF1,F1/1,2029-03-18,stems,30,per_ft2,\n")})
	_, page := s.get(recordPath)
	for _, want := range []string{"<h3>2028</h3>", "<h3>2029</h3>", "judged as those of an old one", "<strong>give up</strong>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// What cannot be meant is refused with words beside its field, what was typed is kept, and the file stays as it was.
func TestEntriesThatAreRefused(t *testing.T) {
	p := &paper{text: []byte("field_id,zone_id,date,kind,value,unit,note\nF1,,2026-10-20,sown,,,\n")}
	s := serveRecord(t, p)
	_, page := s.get(recordPath)
	good := url.Values{"date": {"2027-03-18"}, "kind": {"stems"}, "value": {"48"}, "unit": {"per_ft2"}, "seen": {seenOn(t, page)}}
	for name, c := range map[string]struct{ field, value, code, says string }{
		"date":    {"date", "18 March", "422", `id="w-date">&#34;18 March&#34; is not a date.`},
		"kind":    {"kind", "steams", "422", `id="w-kind">&#34;steams&#34; is nothing the record keeps.`},
		"value":   {"value", "four", "422", `id="w-value">&#34;four&#34; is not a number from 0 to 5000.`},
		"unit":    {"unit", "pct", "422", `id="w-unit">&#34;pct&#34; is no unit of stems.`},
		"zone":    {"zone", "F2/1", "422", `id="w-zone">The field has no zone &#34;F2/1&#34;.`},
		"changed": {"seen", "00", "409", "it was changed by another program or page"},
	} {
		e := url.Values{}
		for k, v := range good {
			e[k] = v
		}
		e.Set(c.field, c.value)
		before := string(p.text)
		code, text := s.form(recordPath, e)
		if string(p.text) != before {
			t.Errorf("%s: the file was changed: %q", name, p.text)
		}
		if want := map[string]int{"422": 422, "409": 409}[c.code]; code != want || !strings.Contains(text, c.says) || !strings.Contains(text, "Nothing was written.") {
			t.Errorf("%s: %d, want %d and %q", name, code, want, c.says)
		}
		if c.field != "value" && !strings.Contains(text, `value="48"`) || !strings.Contains(text, "record.csv:") && c.code == "422" && c.field != "zone" {
			t.Errorf("%s: what was typed is gone, or the place of the fault", name)
		}
	}
	if code, _ := s.form("/run/1/field/99/record", good); code != 404 {
		t.Errorf("a field that is not there: %d", code)
	}
}

// A change from outside is seen though the page was made before it, and what it wrote stays.
func TestAnOutsideChangeIsKept(t *testing.T) {
	p := &paper{text: []byte("field_id,zone_id,date,kind,value,unit,note\nF1,,2026-10-20,sown,,,\n")}
	s := serveRecord(t, p)
	_, page := s.get(recordPath)
	p.mu.Lock()
	p.text = append(p.text, "F1,,2027-03-01,grazed,,,by hand\n"...)
	p.mu.Unlock()
	e := url.Values{"date": {"2027-03-18"}, "kind": {"cut"}, "seen": {seenOn(t, page)}}
	code, text := s.form(recordPath, e)
	if code != http.StatusConflict || strings.Contains(string(p.text), "cut") || !strings.Contains(text, "by hand") {
		t.Fatalf("%d; file %q", code, p.text)
	}
	e.Set("seen", seenOn(t, text)) // pressed again on the page that tells
	if code, _ := s.form(recordPath, e); code != 200 || !strings.HasSuffix(string(p.text), "by hand\nF1,,2027-03-18,cut,,,\n") {
		t.Errorf("the second time: %d; file %q", code, p.text)
	}
}

// Nobody writes without the token of the page, and none who comes from another site.
func TestEntriesNeedTheToken(t *testing.T) {
	p := &paper{}
	s := serveRecord(t, p)
	for name, change := range map[string]func(*http.Request, url.Values){
		"no token":     func(_ *http.Request, v url.Values) { v.Del("token") },
		"wrong token":  func(_ *http.Request, v url.Values) { v.Set("token", "x") },
		"other origin": func(r *http.Request, _ url.Values) { r.Header.Set("Origin", "http://example.org") },
		"no origin":    func(r *http.Request, _ url.Values) { r.Header.Set("Origin", "null") },
		"a large form": func(_ *http.Request, v url.Values) { v.Set("note", strings.Repeat("x", mostForm)) },
		"another kind": func(r *http.Request, _ url.Values) { r.Header.Set("Content-Type", "text/plain") },
		"a put":        func(r *http.Request, _ url.Values) { r.Method = http.MethodPut },
	} {
		v := url.Values{"token": {s.server.token}, "date": {"2027-03-18"}, "kind": {"cut"}, "seen": {seenOn(t, second(s.get(recordPath)))}}
		var later *http.Request
		code, _, _ := s.ask(http.MethodPost, recordPath, nil, func(r *http.Request) {
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			change(r, v)
			body := strings.NewReader(v.Encode())
			r.Body, r.ContentLength = readCloser{body}, int64(body.Len())
			later = r
		})
		if code < 400 || len(p.text) > 0 {
			t.Errorf("%s (%s): %d, file %q", name, later.Method, code, p.text)
		}
	}
}

type readCloser struct{ *strings.Reader }

func (readCloser) Close() error { return nil }

// Without a record the page says how to begin one, and takes nothing.
func TestNoRecord(t *testing.T) {
	s := serveRecord(t, nil)
	for _, path := range []string{recordPath, "/run/1/record"} {
		if code, text := s.get(path); code != 200 || !strings.Contains(text, "rootworthy view RUN --record record.csv") || strings.Contains(text, "<form") {
			t.Errorf("%s: %d", path, code)
		}
	}
	if code, _ := s.form(recordPath, url.Values{"date": {"2027-03-18"}, "kind": {"cut"}}); code != http.StatusConflict {
		t.Errorf("an entry without a record: %d", code)
	}
}

// One record may serve several runs: a field that this run does not have is told once, however many lines it has.
func TestFieldsOfOtherRuns(t *testing.T) {
	s := serveRecord(t, &paper{text: []byte("field_id,zone_id,date,kind,value,unit,note\nX,,2026-10-20,sown,,,\nF1,,2026-10-20,sown,,,\nX,,2027-06-01,cut,,,\nY,,2027-06-01,cut,,,\n")})
	_, page := s.get("/run/1/record")
	for _, want := range []string{"record.csv:2: field_id: the run has no field &#34;X&#34; (2 lines)", "record.csv:5: field_id: the run has no field &#34;Y&#34; (1 line)"} {
		if strings.Count(page, want) != 1 {
			t.Errorf("the page does not say once %q", want)
		}
	}
	if strings.Count(page, "the run has no field") != 2 {
		t.Error("a field is told more than once")
	}
}
