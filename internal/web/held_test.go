package web

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// digest is a file as the record of a run lists it.
func digest(role, name, text string) suitability.Input {
	sum := sha256.Sum256([]byte(text))
	return suitability.Input{Role: role, Name: name, SHA256: hex.EncodeToString(sum[:])}
}

// earlier serves a run that was made with tests in an earlier start of the program, with what is kept beside its folder. Orders that
// are screened come out of the channel.
func earlier(t *testing.T, held func() ([]byte, error)) (*site, chan Order) {
	t.Helper()
	return earlierFound(t, held, nil)
}

// earlierFound is earlier where files of the run may also be found elsewhere.
func earlierFound(t *testing.T, held func() ([]byte, error), find func(suitability.Input) ([]byte, error)) (*site, chan Order) {
	t.Helper()
	r := screenDemo(t, nil)
	r.Provenance.Inputs = []suitability.Input{digest(roleFields, "fields.geojson", ""), digest("survey", "survey", ""), digest(roleMapping, "lab.toml", "[columns]\n"), digest(roleTests, "lab.csv", labFile)}
	r.Provenance.Options = []suitability.Option{{Name: "interpolate", Value: "kriging"}, {Name: "lime-method", Value: "georgia-lbc"}, {Name: "state", Value: "GA"}, {Name: "target-ph", Value: "6.2"}}
	dir := t.TempDir()
	if err := run.Write(dir, r); err != nil {
		t.Fatal(err)
	}
	orders := make(chan Order, 9)
	sc := screening(t, nil)
	sc.TestOptions = []string{"lime-method", "state", "interpolate"}
	screen := sc.Screen
	sc.Screen = func(ctx context.Context, o Order, p job.Progress, f *diag.List) (*suitability.Result, error) {
		orders <- o
		return screen(ctx, o, p, f)
	}
	s, err := New(Config{Program: "rootworthy test", Runs: []Source{{Name: "run-1", Files: os.DirFS(dir), Held: held, Find: find}}, Screener: sc})
	if err != nil {
		t.Fatal(err)
	}
	return start(t, s), orders
}

// kept is what Screener.Keep gets of tests.
func kept(t *testing.T, tests, mapping string) []byte {
	t.Helper()
	b, err := packTests(&Order{Tests: []Text{{"lab.csv", []byte(tests)}}, Mapping: &Text{"lab.toml", []byte(mapping)}})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The tests of a run go along when a boundary of it is corrected, after the program was started anew too: alone or among the fields,
// with lime as in the run; and they stay away where that is wanted.
func TestTestsGoAlongWithABoundary(t *testing.T) {
	zipped := kept(t, labFile, "[columns]\n")
	s, orders := earlier(t, func() ([]byte, error) { return zipped, nil })
	_, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")})
	if back.Tests == nil || !back.Tests.Held || back.Tests.Names != "lab.csv, lab.toml" {
		t.Fatalf("the page is told %+v", back.Tests)
	}
	for name, c := range map[string]struct {
		body, inputs string
		fields       int
	}{
		"among the fields": {`{"upload":%d,"run":1,"with":1}`, "fields drawn.geojson, fields fields.geojson, mapping lab.toml, tests lab.csv", 7},
		"alone":            {`{"upload":%d,"run":0,"with":1}`, "fields drawn.geojson, mapping lab.toml, tests lab.csv", 1},
		"left away":        {`{"upload":%d,"run":1,"with":1,"leave":true}`, "fields drawn.geojson, fields fields.geojson", 7},
	} {
		o, p := asked(t, s, orders, fmt.Sprintf(c.body, back.Upload))
		if p.State != done || inputRoles(o) != c.inputs || len(o.Fields) != c.fields {
			t.Errorf("%s: %+v; %s, %d fields; want %s, %d", name, p, inputRoles(o), len(o.Fields), c.inputs, c.fields)
		}
		want := LimeOrder{"georgia-lbc", "GA", 6.2, "kriging"}
		if name == "left away" {
			if len(o.Tests) > 0 || o.Mapping != nil || o.Lime != (LimeOrder{}) {
				t.Errorf("%s: %d tests, %+v", name, len(o.Tests), o.Lime)
			}
		} else if len(o.Tests) != 1 || string(o.Tests[0].Bytes) != labFile || string(o.Mapping.Bytes) != "[columns]\n" || o.Lime != want {
			t.Errorf("%s: %d tests, %+v", name, len(o.Tests), o.Lime)
		}
	}
	_, other := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "New")})
	if o, _ := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":0,"with":1}`, other.Upload)); len(o.Tests) != 0 {
		t.Error("a field that the run does not have got its tests")
	}
	_, both := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1"), "new.csv": labFile})
	if o, _ := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":1,"with":1}`, both.Upload)); both.Tests != nil || len(o.Tests) != 1 || o.Tests[0].Name != "new.csv" || o.Mapping != nil {
		t.Errorf("new tests do not take the place of the old ones: %+v", o.Tests)
	}
}

// Files that are not those of the run, or are none, are not used: the page says so before anything is screened, and nothing is screened
// that would silently have no tests.
func TestTestsThatAreNotHeld(t *testing.T) {
	good := kept(t, labFile, "[columns]\n")
	for name, c := range map[string]struct {
		held func() ([]byte, error)
		says string
		code int
	}{
		"none kept":     {func() ([]byte, error) { return nil, nil }, "which this page does not hold", 202},
		"nowhere":       {nil, "which this page does not hold", 202},
		"other tests":   {func() ([]byte, error) { return kept(t, labFile+" ", "[columns]\n"), nil }, "not those that it was made with", 422},
		"one missing":   {func() ([]byte, error) { return packTests(&Order{Tests: []Text{{"lab.csv", []byte(labFile)}}}) }, "not those that it was made with", 422},
		"half a file":   {func() ([]byte, error) { return good[:len(good)/2], nil }, "cannot be read", 422},
		"a bomb":        {func() ([]byte, error) { return bomb(t), nil }, "not those that it was made with", 422},
		"a broken disk": {func() ([]byte, error) { return nil, os.ErrPermission }, "permission denied", 422},
	} {
		s, _ := earlier(t, c.held)
		_, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")})
		if back.Tests == nil || back.Tests.Held || !strings.Contains(back.Tests.Say, c.says) {
			t.Errorf("%s: the page is told %+v", name, back.Tests)
		}
		code, text := s.post("/screen", "application/json", strings.NewReader(fmt.Sprintf(`{"upload":%d,"run":1,"with":1}`, back.Upload)))
		if code != c.code || code != 202 && !strings.Contains(text, c.says) {
			t.Errorf("%s: %d %s", name, code, text)
		}
	}
}

// Files of a run of the command line are taken from where the user has them, with all options of that run; those of a zip that are not in it too.
// Where one was changed or is gone, the page says so and asks for it.
func TestTestsThatAreFound(t *testing.T) {
	zipped := kept(t, labFile, "[columns]\n")
	files := map[string]string{"lab.csv": labFile, "lab.toml": "[columns]\n"}
	there := func(in suitability.Input) ([]byte, error) {
		if in != digest(in.Role, in.Name, files[in.Name]) {
			t.Errorf("looks for %+v", in)
		}
		return []byte(files[in.Name]), nil
	}
	for name, c := range map[string]struct {
		held  func() ([]byte, error)
		find  func(suitability.Input) ([]byte, error)
		says  string // beginning
		taken bool
	}{
		"where they were": {nil, there, "They are used as in this run: --interpolate kriging, --lime-method georgia-lbc, --state GA.", true},
		"in the zip":      {func() ([]byte, error) { return zipped, nil }, func(suitability.Input) ([]byte, error) { t.Error("looked for"); return nil, nil }, "They are used", true},
		"no zip":          {func() ([]byte, error) { return nil, nil }, there, "They are used", true},
		"gone":            {nil, func(suitability.Input) ([]byte, error) { return nil, nil }, "This run was made with the laboratory tests of lab.csv, which this page does not hold and which are no longer beside the run", false},
		"changed":         {nil, func(suitability.Input) ([]byte, error) { return nil, errors.New("lab.csv was changed") }, "This run was made with laboratory tests, but lab.csv was changed. Drop them", false},
	} {
		s, orders := earlierFound(t, c.held, c.find)
		_, back := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")})
		if back.Tests == nil || back.Tests.Held != c.taken || !strings.HasPrefix(back.Tests.Say, c.says) {
			t.Errorf("%s: the page is told %+v", name, back.Tests)
		}
		o, p := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":1,"with":1}`, back.Upload))
		if p.State != done || (len(o.Tests) == 1) != c.taken || c.taken != (len(o.Like) == 4) {
			t.Errorf("%s: %+v; %d tests, like %v", name, p, len(o.Tests), o.Like)
		}
	}
}

// bomb is a zip of a file that is larger than what is held.
func bomb(t *testing.T) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("lab.toml")
	if err == nil {
		_, err = w.Write(make([]byte, mostHeld+1))
	}
	if err != nil || z.Close() != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// What is kept is the same for the same files, and is nothing where there are none or too many.
func TestPackedTests(t *testing.T) {
	a, b := kept(t, labFile, "x"), kept(t, labFile, "x")
	if len(a) == 0 || !bytes.Equal(a, b) {
		t.Error("equal files give unequal bytes")
	}
	for name, o := range map[string]*Order{"the command line": nil, "no tests": {}, "too large": {Tests: []Text{{"lab.csv", make([]byte, mostHeld+1)}}}} {
		if b, err := packTests(o); b != nil || err != nil {
			t.Errorf("%s: %d bytes, %v", name, len(b), err)
		}
	}
}
