package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"time"

	"rootworthy/export/report"
	"rootworthy/export/taskdata"
	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// Exporter says how files are made of a run that the page itself does not know how to make.
type Exporter struct {
	Version string // of the program, as exchange files name it
	// Report writes one report; nil: none is offered.
	Report func(ctx context.Context, o ReportOrder, w io.Writer) error
	// Spread reads what a page says of a spreader; nil: every spreader is the usual one. Its error has a line for each fault, in the
	// words of the command line.
	Spread func([]Setting) (taskdata.Options, error)
}

// ReportOrder is a report that a page wants.
type ReportOrder struct {
	Run    *suitability.Result
	Files  []report.FileInfo // of the run
	Reader string            // landowner, consultant or technician
	PDF    bool              // else HTML
	Paper  report.Paper      // of the PDF
}

// Limits of files made on request. Each may take all memory that a run of a county needs, so only a few are made at once.
const (
	mostMaking = 2
	mostWait   = 20 * time.Second
)

// making is the seats of those who make files, and how long others wait for one.
type making struct {
	seats chan struct{}
	wait  time.Duration
}

func newMaking() making { return making{make(chan struct{}, mostMaking), mostWait} }

// errCrowded refuses to make one more file.
var errCrowded = errors.New("other files are being made; try again in a moment")

// seat waits for a seat and returns how to leave it.
func (m making) seat(ctx context.Context) (leave func(), err error) {
	patience := time.NewTimer(m.wait)
	defer patience.Stop()
	select {
	case m.seats <- struct{}{}:
		return func() { <-m.seats }, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	case <-patience.C:
		return nil, errCrowded
	}
}

// attachment sends what a function writes as a file to keep, as it is written. What fails before the first byte is told in
// words; later the connection is cut, so that a browser does not take half for whole.
func (s *Server) attachment(w http.ResponseWriter, r *http.Request, name, kind string, write func(context.Context, io.Writer) error) {
	leave, err := s.making.seat(r.Context())
	if err != nil {
		w.Header().Set("Retry-After", "10")
		s.fail(w, r, http.StatusServiceUnavailable, err.Error())
		return
	}
	defer leave()
	out := &firstByte{to: w, head: func() {
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	}}
	if r.Method == http.MethodHead {
		out.head()
		return
	}
	err = write(r.Context(), out)
	switch {
	case err == nil && !out.begun:
		out.head()
	case err != nil && out.begun:
		panic(http.ErrAbortHandler)
	case err != nil:
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
	}
}

// firstByte sets the head of an answer when its body begins, not before: until then it can still be a refusal.
type firstByte struct {
	to    io.Writer
	head  func()
	begun bool
}

func (f *firstByte) Write(p []byte) (int, error) {
	if !f.begun {
		f.begun = true
		f.head()
	}
	return f.to.Write(p)
}

// stamped returns a run as its folder holds it.
func stamped(r *suitability.Result) *suitability.Result {
	out := *r
	out.Provenance.Schema = run.Schema
	return &out
}

// filesOf tells of the files of a run: as they stand in its folder, or as they would.
func filesOf(b *book, r *suitability.Result) (out []report.FileInfo, err error) {
	for _, name := range run.Files() {
		h, size := sha256.New(), counter(0)
		w := io.MultiWriter(h, &size)
		if b.source == nil {
			err = run.WriteFile(w, name, r)
		} else {
			err = copyFile(w, b.source.Files, name)
		}
		if errors.Is(err, fs.ErrNotExist) {
			continue // the files for people are not needed to read a run
		}
		if err != nil {
			return nil, err
		}
		out = append(out, report.FileInfo{Name: name, What: run.Meaning(name), Size: int64(size), SHA256: hex.EncodeToString(h.Sum(nil))})
	}
	return out, nil
}

// counter counts bytes.
type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

func copyFile(w io.Writer, files fs.FS, name string) error {
	f, err := files.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(w, f)
	return err
}
