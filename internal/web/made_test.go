package web

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/internal/run"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
	"rootworthy/testdata/demo"

	"github.com/paulmach/orb"
)

// opened is the demonstration survey.
type opened struct {
	export *ssurgo.Export
	survey *soils.Survey
}

func (o opened) Survey() *soils.Survey { return o.survey }

func (o opened) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return o.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}

// screenDemo screens boundaries on a survey folder; the demonstration's where dir is empty.
func screenDemo(t testing.TB, fields []field.Field) *suitability.Result {
	t.Helper()
	ctx := context.Background()
	var faults diag.List
	if fields == nil {
		var err error
		if fields, err = field.Read(ctx, []field.Source{{Name: "fields.geojson", Files: demo.Files, Path: "fields.geojson"}}, field.Options{Farm: "farm"}, &faults); err != nil {
			t.Fatal(err)
		}
	}
	e, err := ssurgo.Open(ctx, "survey", os.DirFS("../../testdata/demo/survey"), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(ctx)
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Screen(ctx, fields, opened{e, s}, job.Options{}, &faults)
	if err != nil {
		t.Fatal(err)
	}
	r.Faults = faults.Kept()
	r.Provenance.Program = "rootworthy test"
	return r
}

// site is a server that listens.
type site struct {
	t      testing.TB
	server *Server
	base   string
	close  context.CancelFunc
}

// serve starts a server on the demonstration, with a screener where one is given.
func serve(t testing.TB, screener *Screener) *site {
	t.Helper()
	dir := t.TempDir()
	r := screenDemo(t, nil)
	if err := run.Write(dir, r); err != nil {
		t.Fatal(err)
	}
	s, err := New(Config{Program: "rootworthy test", Runs: []Source{{Name: "demo run", Files: os.DirFS(dir)}}, Screener: screener})
	if err != nil {
		t.Fatal(err)
	}
	return start(t, s)
}

func start(t testing.TB, s *Server) *site {
	t.Helper()
	l, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l...) }()
	t.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("Serve: %v", err)
		}
	})
	return &site{t, s, "http://" + l[0].Addr().(*net.TCPAddr).String(), cancel}
}

// ask sends a request; change may alter it first.
func (s *site) ask(method, path string, body io.Reader, change func(*http.Request)) (int, http.Header, string) {
	s.t.Helper()
	r, err := http.NewRequest(method, s.base+path, body)
	if err != nil {
		s.t.Fatal(err)
	}
	if change != nil {
		change(r)
	}
	a, err := http.DefaultClient.Do(r)
	if err != nil {
		s.t.Fatal(err)
	}
	defer a.Body.Close()
	text, err := io.ReadAll(a.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return a.StatusCode, a.Header, string(text)
}

func (s *site) get(path string) (int, string) {
	code, _, text := s.ask(http.MethodGet, path, nil, nil)
	return code, text
}

// post sends a change with the token of the page.
func (s *site) post(path, kind string, body io.Reader) (int, string) {
	code, _, text := s.ask(http.MethodPost, path, body, func(r *http.Request) {
		r.Header.Set(tokenHeader, s.server.token)
		r.Header.Set("Content-Type", kind)
	})
	return code, text
}

// upload sends files to be read; more is asked for besides, "&id=tract".
func (s *site) upload(files map[string]string, more ...string) (int, readBack) {
	s.t.Helper()
	var b bytes.Buffer
	m := multipart.NewWriter(&b)
	for name, text := range files {
		w, err := m.CreateFormFile("file", name)
		if err != nil {
			s.t.Fatal(err)
		}
		io.Copy(w, strings.NewReader(text))
	}
	m.Close()
	code, text := s.post("/read?run=1"+strings.Join(more, ""), m.FormDataContentType(), &b)
	var back readBack
	if err := json.Unmarshal([]byte(text), &back); err != nil {
		s.t.Fatalf("%d %s: %v", code, text, err)
	}
	return code, back
}
