package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/suitability"
	"rootworthy/testdata/demo"
)

// screening is a screener on the demonstration that can be held up.
func screening(t *testing.T, hold chan struct{}) *Screener {
	return &Screener{Survey: "demo", Screen: func(ctx context.Context, o Order, p job.Progress, _ *diag.List) (*suitability.Result, error) {
		p("reading the survey", 3, 10)
		if hold != nil {
			select {
			case <-hold:
			case <-ctx.Done():
				return nil, context.Cause(ctx)
			}
		}
		return screenDemo(t, o.Fields), nil
	}}
}

const square = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"id":%q},"geometry":{"type":"Polygon","coordinates":[[[-78.1905,32.6095],[-78.1805,32.6095],[-78.1805,32.6125],[-78.1905,32.6125],[-78.1905,32.6095]]]}}]}`

// begun uploads a field and asks for it to be screened.
func begun(t *testing.T, s *site, id string, among int) int {
	t.Helper()
	code, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, id)})
	if code != 200 || back.Upload == 0 || len(back.Fields) != 1 || !strings.Contains(back.Fields[0].Acres, "77.2 acres") {
		t.Fatalf("upload: %d %+v", code, back)
	}
	code, text := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d,"run":%d}`, back.Upload, among)))
	var started struct{ Task int }
	if err := json.Unmarshal([]byte(text), &started); err != nil || code != 202 {
		t.Fatalf("screen: %d %s", code, text)
	}
	return started.Task
}

// wait follows a task to its end.
func (s *site) wait(n int) progress {
	s.t.Helper()
	for range 6000 { // a minute, for a busy machine
		if p := s.server.tasks.get(n).tell(); p.State != working {
			return p
		}
		time.Sleep(10 * time.Millisecond)
	}
	s.t.Fatal("the task does not end")
	return progress{}
}

// A drawn field becomes a run on the shelf, alone or among the fields of another run, and can be compared.
func TestDrawnFieldIsScreened(t *testing.T) {
	s := serve(t, screening(t, nil))
	if p := s.wait(begun(t, s, "Try", 0)); p.State != done || p.Run != 2 {
		t.Fatalf("alone: %+v", p)
	}
	if _, text := s.get("/run/2/"); !strings.Contains(text, ">Try/1</a>") {
		t.Error("the drawn field is not on the page")
	}
	if p := s.wait(begun(t, s, "F1", 1)); p.State != done || p.Run != 3 {
		t.Fatalf("among the others: %+v", p)
	}
	_, text := s.get("/run/3/")
	for _, id := range []string{"F1/1", "F2/1", "F7/1"} {
		if !strings.Contains(text, ">"+id+"</a>") {
			t.Errorf("zone %s is not on the page", id)
		}
	}
	if _, text := s.get("/compare?a=1&b=3"); !strings.Contains(text, "Home Field (F1)") || strings.Contains(text, "Kiln Field (F2)") {
		t.Error("the comparison does not tell the field that was corrected from those that were not")
	}
}

// A screening tells how far it is, refuses a second beside it, and is cancelled without a trace.
func TestScreeningIsToldAndCancelled(t *testing.T) {
	hold := make(chan struct{})
	s := serve(t, screening(t, hold))
	n := begun(t, s, "Try", 0)
	for range 6000 { // until it has begun
		if s.server.tasks.get(n).tell().Stage == "reading the survey" {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if p := s.server.tasks.get(n).tell(); p.State != working || p.Stage != "reading the survey" || p.Done != 3 || p.Total != 10 {
		t.Errorf("at work: %+v", p)
	}
	if _, text := s.get(fmt.Sprintf("/task/%d", n)); !strings.Contains(text, "At work: reading the survey") {
		t.Error("the page of the task says nothing")
	}
	_, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "Two")})
	if code, text := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d}`, back.Upload))); code != 409 || !strings.Contains(text, "at work already") {
		t.Errorf("a second one: %d %s", code, text)
	}
	if code, _ := s.post(fmt.Sprintf("/task/%d/cancel", n), "application/json", nil); code != 200 {
		t.Errorf("cancel: %d", code)
	}
	if p := s.wait(n); p.State != cancelled || p.Run != 0 {
		t.Errorf("after cancelling: %+v", p)
	}
	if runs := s.server.shelf.list(); len(runs) != 1 {
		t.Errorf("%d runs on the shelf, want the first alone", len(runs))
	}
	close(hold)
	if p := s.wait(begun(t, s, "Try", 0)); p.State != done {
		t.Errorf("after a cancelled one: %+v", p)
	}
}

// Closing the program ends what is at work.
func TestClosingEndsTheWork(t *testing.T) {
	s := serve(t, screening(t, make(chan struct{})))
	n := begun(t, s, "Try", 0)
	s.close()
	if p := s.wait(n); p.State != cancelled {
		t.Errorf("%+v", p)
	}
	if _, err := s.server.begin("late", nil); err == nil {
		t.Error("work began in a closed program")
	}
}

// What is kept is told by its name there; what cannot be kept is no run.
func TestRunsAreKept(t *testing.T) {
	sc := screening(t, nil)
	fail := errors.New("the disk is full")
	sc.Keep = func(*suitability.Result, []byte) (string, error) { return "run-1", nil }
	s := serve(t, sc)
	if s.wait(begun(t, s, "Try", 0)); s.server.shelf.get(2).Name != "run-1" {
		t.Error("the run has not the name under which it is kept")
	}
	sc.Keep = func(*suitability.Result, []byte) (string, error) { return "", fail }
	if p := s.wait(begun(t, s, "Try", 0)); p.State != failed || !strings.Contains(p.Error, "disk is full") {
		t.Errorf("%+v", p)
	}
}

// A file on the page gets the faults of the command line, in the same words.
func TestFaultsInTheWordsOfTheCommandLine(t *testing.T) {
	s := serve(t, nil)
	text, err := demo.Files.ReadFile("fields.geojson")
	if err != nil {
		t.Fatal(err)
	}
	broken := strings.Replace(string(text), `"Polygon"`, `"Point"`, 1)
	var faults diag.List
	files := inMemory{"broken.geojson": []byte(broken)}
	if _, err := field.Read(context.Background(), []field.Source{{Name: "broken.geojson", Files: files, Path: "broken.geojson"}}, field.Options{}, &faults); err != nil {
		t.Fatal(err)
	}
	_, back := s.upload(map[string]string{"broken.geojson": broken})
	var got, want []string
	for _, f := range back.Faults {
		got = append(got, f.Text)
	}
	for _, f := range faults.Kept() {
		want = append(want, f.String())
	}
	if len(want) == 0 || strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if code, text := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d}`, back.Upload))); code != 409 || !strings.Contains(text, "--survey") {
		t.Errorf("screening without a survey: %d %s", code, text)
	}
}

// Whose a field is comes from the properties that the command line names; a drawn field has none, which is no fault of it.
func TestOwnersOfBoundaries(t *testing.T) {
	sc := screening(t, nil)
	sc.Bounds = field.Options{Customer: "who", Farm: "farm"}
	s := serve(t, sc)
	_, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")}, "&drawn=1")
	if len(back.Faults) != 0 || len(back.Fields) != 1 || back.Naming != nil {
		t.Errorf("a drawn field: %+v", back)
	}
	_, back = s.upload(map[string]string{"north.geojson": strings.Replace(fmt.Sprintf(square, "F1"), `{"id":"F1"}`, `{"id":"F1","who":"R. Alder"}`, 1)})
	if u := s.server.uploads.get(back.Upload); u.fields[0].Customer != "R. Alder" {
		t.Errorf("it is %q's", u.fields[0].Customer)
	}
}

// Hostile uploads end in an answer: too large, too many, no file, nonsense, names that look like paths.
func TestUploadsAreBounded(t *testing.T) {
	s := serve(t, nil)
	if code, back := s.upload(map[string]string{"big.geojson": strings.Repeat(" ", mostUpload+1)}); code != 413 || !strings.Contains(back.Error, "64 MB") {
		t.Errorf("too large: %d %+v", code, back)
	}
	many := map[string]string{}
	for i := range mostFiles + 1 {
		many[fmt.Sprintf("%d.shp", i)] = "x"
	}
	if code, _ := s.upload(many); code != 400 {
		t.Errorf("too many files: %d", code)
	}
	if code, _ := s.post("/read", "text/plain", strings.NewReader("x")); code != 400 {
		t.Errorf("no form: %d", code)
	}
	for name, text := range map[string]string{"../../etc/passwd": "x", `..\..\x.shp`: "\x00\x00\x27\x0a", "a.zip": "PK\x03\x04", "a.gpkg": "SQLite format 3\x00", "a.fgb": "fgb\x03", "a.geojson": "{", "a.xlsx": "PK\x03\x04", "a.csv": "\xff\xfe\x00", "a.kml": "<kml"} {
		if code, back := s.upload(map[string]string{name: text}); code != 200 || back.Error == "" && (len(back.Lab) == 0 || back.Lab[0].Error == "") && len(back.Faults) == 0 {
			t.Errorf("%s: %d %+v", name, code, back)
		} else if strings.ContainsAny(back.Name, `/\`) {
			t.Errorf("%s: the name is still a path: %q", name, back.Name)
		}
	}
	if code, _ := s.post("/screen", "application/json", strings.NewReader(`{"upload":`+strings.Repeat("1", 1<<17))); code < 400 {
		t.Errorf("an endless order: %d", code)
	}
}
