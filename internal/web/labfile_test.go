package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

const labFile = "field_id,sample_id,top_cm,bottom_cm,date,ph_water\nF1,7,0,15,2026-01-14,5.4\nF2,8,0,15,2026-01-14,64\n"

// A laboratory's file is told part by part, with its faults; without a survey the page says what is lacking and which
// command uses it.
func TestLaboratoryFileIsTold(t *testing.T) {
	s := serve(t, nil)
	_, back := s.upload(map[string]string{"lab.csv": labFile})
	if len(back.Lab) != 1 || back.Lab[0].Samples != 1 || len(back.Faults) == 0 || !strings.Contains(back.Faults[0].Text, `"64"`) {
		t.Fatalf("%+v", back)
	}
	var headings []string
	for _, p := range back.Lab[0].Parts {
		headings = append(headings, p.Heading)
		if p.Heading == "Columns" && len(p.Lines) != 6 {
			t.Errorf("columns: %q", p.Lines)
		}
	}
	if !slices.Contains(headings, "Columns") || !slices.Contains(headings, "Layers") || len(headings) < 4 {
		t.Errorf("parts: %q", headings)
	}
	if back.Upload == 0 || back.Lime != nil || !strings.Contains(back.Lacks, "survey") || !strings.HasPrefix(back.Again, "rootworthy screen ") {
		t.Errorf("without a survey: %+v", back)
	}
}

// The command that the page names is the one that made the run, with the tests besides.
func TestScreenAgain(t *testing.T) {
	p := &suitability.Provenance{Inputs: []suitability.Input{{Role: "fields", Name: "north fields.geojson"}, {Role: "survey", Name: "AR017"}, {Role: "tests", Name: "old.csv"}},
		Options: []suitability.Option{{Name: "lime-unsuited", Value: "true"}, {Name: "region", Value: "coastal plain"}, {Name: "survey", Value: "AR017, AR041"}, {Name: "tests", Value: "old.csv"}}}
	want := `rootworthy screen "north fields.geojson" --lime-unsuited --region "coastal plain" --survey AR017 --survey AR041 --tests lab.csv --out DIR`
	if got := screenAgain(p, []string{"lab.csv"}); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := screenAgain(&suitability.Provenance{}, []string{"$x.csv"}); got != `rootworthy screen FIELDS --survey PATH --tests "\$x.csv" --out DIR` {
		t.Errorf("of nothing: %s", got)
	}
}

// asked starts a screening of an upload and returns what the screener was asked for.
func asked(t *testing.T, s *site, orders chan Order, body string) (Order, progress) {
	t.Helper()
	code, text := s.post("/screen", "application/json", strings.NewReader(body))
	var started struct{ Task int }
	if err := json.Unmarshal([]byte(text), &started); err != nil || code != 202 {
		t.Fatalf("screen: %d %s", code, text)
	}
	p := s.wait(started.Task)
	return <-orders, p
}

// Tests go to the screener with the fields of the run and the way to work out lime; the new run stands beside the one
// it came from; a boundary that is corrected on it keeps its tests.
func TestTestsAreScreened(t *testing.T) {
	orders := make(chan Order, 9)
	sc := screening(t, nil)
	screen := sc.Screen
	sc.Screen = func(ctx context.Context, o Order, p job.Progress, f *diag.List) (*suitability.Result, error) {
		orders <- o
		return screen(ctx, o, p, f)
	}
	sc.Lime = LimeOrder{State: "ga"}
	sc.Check = func(o Order) error {
		if o.Lime.TargetPH == 9 {
			return errors.New("--target-ph: a target pH of 9 is not possible")
		}
		return nil
	}
	s := serve(t, sc)
	l, err := s.server.shelf.open(s.server.shelf.get(1))
	if err != nil {
		t.Fatal(err)
	}
	l.result.Provenance.Inputs = []suitability.Input{{Role: roleFields, Name: "fields.geojson"}, {Role: "survey", Name: "survey"}}
	_, back := s.upload(map[string]string{"lab.csv": labFile, "lab.toml": ""})
	if back.Lime == nil || len(back.Lime.Methods) < 4 || back.Lime.Usual.State != "ga" {
		t.Fatalf("%+v", back)
	}
	if back.Lime.Usual.Method != "georgia-lbc" {
		t.Errorf("in Georgia the method is %q", back.Lime.Usual.Method)
	}
	if code, text := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d,"run":1,"target":9}`, back.Upload))); code != 400 || !strings.Contains(text, "target pH of 9") {
		t.Errorf("a target that cannot be: %d %s", code, text)
	}
	if code, _ := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d,"run":0}`, back.Upload))); code != 400 {
		t.Errorf("tests without fields: %d", code)
	}
	o, p := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":1,"with":1,"method":"nc-mehlich","target":6.2}`, back.Upload))
	if len(o.Fields) != 7 || len(o.Tests) != 1 || o.Tests[0].Name != "lab.csv" || o.Lime.Method != "nc-mehlich" || o.Lime.TargetPH != 6.2 {
		t.Errorf("ordered %d fields, %d tests, %+v", len(o.Fields), len(o.Tests), o.Lime)
	}
	if roles := inputRoles(o); roles != "mapping lab.toml, tests lab.csv, fields fields.geojson" {
		t.Errorf("inputs: %s", roles)
	}
	if p.State != done || s.server.shelf.get(p.Run).Before.Number != 1 {
		t.Fatalf("%+v", p)
	}
	if _, text := s.get(fmt.Sprintf("/run/%d/", p.Run)); !strings.Contains(text, fmt.Sprintf("/compare?a=1&amp;b=%d", p.Run)) {
		t.Error("the page does not lead to the comparison with the run before")
	}
	_, drawn := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")})
	o, _ = asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":%d}`, drawn.Upload, p.Run))
	if len(o.Tests) != 1 || o.Lime.Method != "nc-mehlich" || inputRoles(o) != "fields drawn.geojson, fields fields.geojson, mapping lab.toml, tests lab.csv" {
		t.Errorf("corrected: %d tests, %+v, %s", len(o.Tests), o.Lime, inputRoles(o))
	}
}

func inputRoles(o Order) string {
	var out []string
	for _, in := range o.Inputs {
		out = append(out, in.Role+" "+in.Name)
	}
	return strings.Join(out, ", ")
}

// Boundaries and tests that are dropped together are both read.
func TestBoundariesAndTestsTogether(t *testing.T) {
	s := serve(t, screening(t, nil))
	_, back := s.upload(map[string]string{"a.csv": labFile, "drawn.geojson": fmt.Sprintf(square, "Try"), "other.geojson": fmt.Sprintf(square, "Two")})
	if len(back.Fields) != 2 || len(back.Lab) != 1 || back.What != "1 soil sample read; 2 fields read" {
		t.Errorf("%+v", back)
	}
	if _, back := s.upload(map[string]string{"lab.csv": labFile, "lab.toml": "[[["}); len(back.Lab) != 2 || back.Lab[0].Error == "" {
		t.Errorf("a broken mapping: %+v", back.Lab)
	}
	if _, back := s.upload(map[string]string{"lab.toml": ""}); len(back.Lab) != 1 || !strings.Contains(back.Lab[0].Error, "together with") || back.Upload != 0 {
		t.Errorf("a mapping alone: %+v", back)
	}
}
