package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"
)

// Only so many files are made at once; one more waits a while and is then asked to come again.
func TestFewFilesAreMadeAtOnce(t *testing.T) {
	s := serve(t, nil)
	begun, hold := make(chan bool, 9), make(chan bool)
	s.server.exporter.Report = func(ctx context.Context, o ReportOrder, w io.Writer) error {
		begun <- true
		<-hold
		_, err := io.WriteString(w, o.Reader)
		return err
	}
	s.server.making.wait = 50 * time.Millisecond
	answers := make(chan string, mostMaking)
	for range mostMaking {
		go func() { _, text := s.get("/run/1/report/landowner.pdf"); answers <- text }()
	}
	for range mostMaking {
		<-begun
	}
	code, head, text := s.ask(http.MethodGet, "/run/1/report/landowner.pdf", nil, nil)
	if code != http.StatusServiceUnavailable || head.Get("Retry-After") == "" || !strings.Contains(text, "try again") {
		t.Errorf("one more: %d %s", code, text)
	}
	close(hold)
	for range mostMaking {
		if text := <-answers; text != "landowner" {
			t.Errorf("got %q", text)
		}
	}
	if code, _ := s.get("/run/1/report/technician.html"); code != http.StatusOK {
		t.Errorf("once there is room: %d", code)
	}
}

// What fails before the first byte is told in words; what fails later is cut off, so that half is not taken for whole.
func TestAFileThatCannotBeMade(t *testing.T) {
	s := serve(t, nil)
	fail := errors.New("the pens have run dry")
	s.server.exporter.Report = func(context.Context, ReportOrder, io.Writer) error { return fail }
	code, head, text := s.ask(http.MethodGet, "/run/1/report/landowner.pdf", nil, nil)
	if code != http.StatusUnprocessableEntity || !strings.Contains(text, "run dry") || head.Get("Content-Disposition") != "" {
		t.Errorf("before the first byte: %d %v %s", code, head, text)
	}
	s.server.exporter.Report = func(_ context.Context, _ ReportOrder, w io.Writer) error {
		w.Write([]byte(strings.Repeat("half ", 1<<16)))
		return fail
	}
	a, err := http.Get(s.base + "/run/1/report/landowner.pdf")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if _, err := io.ReadAll(a.Body); err == nil {
		t.Error("half a file ends like a whole one")
	}
	if code, head, text := s.ask(http.MethodHead, "/run/1/report/landowner.pdf", nil, nil); code != http.StatusOK || text != "" || head.Get("Content-Type") != "application/pdf" {
		t.Errorf("HEAD: %d %v", code, head)
	}
}
