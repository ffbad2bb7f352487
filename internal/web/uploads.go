package web

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Limits of an upload. The boundaries of a state's largest farm fit many times over.
const (
	mostUpload  = 64 << 20
	mostFiles   = 16
	mostReading = time.Minute
	mostUploads = 4 // kept for screening, the oldest forgotten
)

// upload is what a page sent, read and waiting to be screened.
type upload struct {
	number  int
	name    string
	fields  []field.Field
	naming  *Naming // how the fields of a file were read; nil for what was drawn on the page
	tests   []Text
	mapping *Text
	labs    []string // names of the files that were read as a laboratory's, those of no use too
	inputs  []suitability.Input
}

type uploads struct {
	mu   sync.Mutex
	next int
	kept []*upload
}

func (u *uploads) add(x *upload) {
	u.mu.Lock()
	defer u.mu.Unlock()
	u.next++
	x.number = u.next
	u.kept = append(u.kept, x)
	if len(u.kept) > mostUploads {
		u.kept = u.kept[1:]
	}
}

func (u *uploads) get(number int) *upload {
	u.mu.Lock()
	defer u.mu.Unlock()
	for _, x := range u.kept {
		if x.number == number {
			return x
		}
	}
	return nil
}

// readBack tells a page what was found in its files.
type readBack struct {
	Upload int           `json:"upload"` // 0: nothing that could be screened
	Name   string        `json:"name"`
	What   string        `json:"what"` // in a sentence
	Fields []readField   `json:"fields"`
	Faults []fault       `json:"faults"`
	Error  string        `json:"error,omitempty"`
	Screen bool          `json:"screen"` // a survey is open
	Bound  *[4]float64   `json:"bound,omitempty"`
	Shapes []orb.Polygon `json:"shapes,omitempty"` // outlines to look at, not to compute with
	Naming *readNaming   `json:"naming,omitempty"` // with files of boundaries
	Lab    []readBackLab `json:"lab,omitempty"`
	Lime   *limeChoices  `json:"lime,omitempty"`  // with tests that can be screened
	Lacks  string        `json:"lacks,omitempty"` // what is missing to use the tests
	Again  string        `json:"again,omitempty"` // the command to use them without a page
	// Tests is what becomes of those of the run on the page, where boundaries came without any.
	Tests *readBackTests `json:"tests,omitempty"`
}

type readField struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Acres   string `json:"acres"`
	Trouble string `json:"trouble,omitempty"`
}

// mostOutlines is how many outlines a page is sent to look at.
const mostOutlines = 2000

// read reads a file that was dropped on the page or drawn there, and tells what is wrong with it in the words of the
// command line.
func (s *Server) read(w http.ResponseWriter, r *http.Request) {
	files, err := receive(w, r)
	if err != nil {
		status := http.StatusBadRequest
		if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
			status, err = http.StatusRequestEntityTooLarge, fmt.Errorf("that is more than %d MB; a page takes no more, the command line does", mostUpload>>20)
		}
		s.fail(w, r, status, err.Error())
		return
	}
	ctx, cancel := context.WithTimeout(r.Context(), mostReading)
	defer cancel()
	answer(w, http.StatusOK, s.readFiles(ctx, r, files))
}

// readFiles reads boundaries and laboratory files, in whatever mixture they come.
func (s *Server) readFiles(ctx context.Context, r *http.Request, files inMemory) readBack {
	back := readBack{Screen: s.screener != nil, Fields: []readField{}, Faults: []fault{}}
	var faults diag.List
	u := &upload{}
	back.readLabs(u, files, &faults)
	if names := files.mains(u); len(names) > 0 {
		s.readBounds(ctx, &back, u, names, files, r.URL.Query(), &faults)
	}
	for _, f := range faults.Kept() {
		back.Faults = append(back.Faults, fault{f.Severity.String(), f.String()})
	}
	if back.Name = u.name; len(u.fields)+len(u.tests) > 0 {
		s.uploads.add(u)
		back.Upload = u.number
	}
	switch run := r.URL.Query().Get("run"); {
	case len(u.tests) > 0:
		s.use(&back, u, run)
	case len(u.fields) > 0 && s.screener != nil:
		back.Tests = s.testsOf(run)
	}
	return back
}

// describe lists the fields, with their areas on the ellipsoid.
func (b *readBack) describe(fields []field.Field) {
	usable := 0
	var bound orb.Bound
	for i := range fields {
		f := &fields[i]
		x := readField{ID: f.ID, Name: f.Name, Trouble: f.Trouble}
		if len(f.Shape) > 0 {
			if m2, ok := proj.GeodesicArea(f.Shape, proj.GeodesicOptions{}); ok {
				x.Acres = words.AcresAndHectares(unit.Area(m2))
			}
			if usable++; usable == 1 {
				bound = f.Shape.Bound()
			}
			bound = bound.Union(f.Shape.Bound())
		}
		b.Fields = append(b.Fields, x)
		for _, polygon := range f.Shape {
			if len(b.Shapes) < mostOutlines {
				b.Shapes = append(b.Shapes, polygon)
			}
		}
	}
	if usable > 0 {
		b.Bound = &[4]float64{bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1]}
	}
	if b.What != "" {
		b.What += "; "
	}
	b.What += words.Count(len(fields), "field", "fields") + " read"
	if usable < len(fields) {
		b.What += fmt.Sprintf(", %d of them cannot be used", len(fields)-usable)
	}
}

// receive takes the files of a form into memory. Names lose their folders: nothing here is a path.
func receive(w http.ResponseWriter, r *http.Request) (inMemory, error) {
	r.Body = http.MaxBytesReader(w, r.Body, mostUpload)
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, errors.New("the request holds no file")
	}
	files := inMemory{}
	for {
		part, err := parts.NextPart()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		if err := files.take(part); err != nil {
			return nil, err
		}
		if len(files) > mostFiles {
			return nil, fmt.Errorf("more than %d files at once; put them into a zip", mostFiles)
		}
	}
	if len(files) == 0 {
		return nil, errors.New("the request holds no file")
	}
	return files, nil
}

func (m inMemory) take(part *multipart.Part) error {
	name := part.FileName() // its last element alone
	if name == "" {
		return nil
	}
	text, err := io.ReadAll(part)
	if err != nil {
		return err
	}
	if name = path.Base(strings.ReplaceAll(name, `\`, "/")); name == "." || name == ".." || name == "/" {
		name = "file"
	}
	m[name] = text
	return nil
}

func (m inMemory) digest(name string) string {
	sum := sha256.Sum256(m[name])
	return hex.EncodeToString(sum[:])
}
