package web

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rootworthy/suitability"
)

// mostHeld bounds the laboratory files that are held for a run: some hundred thousand samples. What is larger makes its run, and
// has to be brought again for the next one.
const mostHeld = 16 << 20

// MostHeld bounds the zip that Source.Held reads: what packs badly takes a little more room than the files themselves.
const MostHeld = mostHeld + 1<<20

// held is the laboratory files that came in through the page and that a run was made with. The run folder has their names and digests
// alone, as that of the command line has; without the files a boundary could not be corrected and keep its tests.
type held struct {
	tests   []Text
	mapping *Text
	inputs  []suitability.Input // of both, as the run lists them
	lime    LimeOrder
}

// names are the files as the user knows them.
func (h *held) names() string {
	var out []string
	for _, t := range h.tests {
		out = append(out, t.Name)
	}
	if h.mapping != nil {
		out = append(out, h.mapping.Name)
	}
	return strings.Join(out, ", ")
}

// held returns the files of a run; nil where it was made without any, or they are not here.
func (s *Server) held(b *book) (*held, error) {
	switch {
	case b.order != nil && len(b.order.Tests) > 0:
		h := &held{tests: b.order.Tests, mapping: b.order.Mapping, lime: b.order.Lime}
		h.inputs = slices.DeleteFunc(slices.Clone(b.order.Inputs), func(in suitability.Input) bool { return !ofTests(in) })
		return h, nil
	case b.order != nil || b.source == nil || b.source.Held == nil:
		return nil, nil
	}
	pack, err := b.source.Held()
	if err != nil || pack == nil {
		return nil, err
	}
	return unpackTests(pack, &b.Head.Provenance)
}

// ofTests says whether a file of a run's record is a laboratory's, or says how to read one.
func ofTests(in suitability.Input) bool { return in.Role == roleTests || in.Role == roleMapping }

// packTests puts the laboratory files of an order into a zip, to be kept beside the run that is made of it: with their bytes as they were
// brought, so that anybody can take them out again. nil where there is none, or too much.
func packTests(o *Order) ([]byte, error) {
	if o == nil || len(o.Tests) == 0 {
		return nil, nil
	}
	files := slices.Clone(o.Tests)
	if o.Mapping != nil {
		files = append(files, *o.Mapping)
	}
	size := 0
	for _, f := range files {
		size += len(f.Bytes)
	}
	if size > mostHeld {
		return nil, nil
	}
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate}) // no time: equal files give equal bytes
		if err == nil {
			_, err = w.Write(f.Bytes)
		}
		if err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// errOtherFiles refuses files that are not those of the run: somebody put others in their place.
var errOtherFiles = errors.New("the laboratory files kept beside the run are not those that it was made with")

// unpackTests takes out of a zip what the record of a run names, and nothing that differs from it by a byte.
func unpackTests(text []byte, p *suitability.Provenance) (*held, error) {
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		return nil, fmt.Errorf("the laboratory files kept beside the run cannot be read: %w", err)
	}
	h, left := &held{lime: limeOf(p)}, int64(mostHeld)
	for _, in := range p.Inputs {
		if !ofTests(in) {
			continue
		}
		i := slices.IndexFunc(z.File, func(f *zip.File) bool { return f.Name == in.Name })
		if i < 0 {
			return nil, errOtherFiles
		}
		f, err := z.File[i].Open()
		if err != nil {
			return nil, err
		}
		got, err := io.ReadAll(io.LimitReader(f, left+1)) // whatever size the zip claims
		f.Close()
		if left -= int64(len(got)); left < 0 {
			return nil, errOtherFiles
		}
		if sum := sha256.Sum256(got); err != nil || hex.EncodeToString(sum[:]) != in.SHA256 {
			return nil, errors.Join(errOtherFiles, err)
		}
		h.inputs = append(h.inputs, in)
		if t := (Text{in.Name, got}); in.Role == roleMapping {
			h.mapping = &t
		} else {
			h.tests = append(h.tests, t)
		}
	}
	if len(h.tests) == 0 {
		return nil, nil
	}
	return h, nil
}

// limeOf is how a run worked out lime from its tests, by its record; what is not there was left at what is usual.
func limeOf(p *suitability.Provenance) (o LimeOrder) {
	for _, x := range p.Options {
		switch x.Name {
		case "lime-method":
			o.Method = x.Value
		case "state":
			o.State = x.Value
		case "target-ph":
			o.TargetPH, _ = strconv.ParseFloat(x.Value, 64)
		case "interpolate":
			o.Interpolate = x.Value
		}
	}
	return o
}

// readBackTests tells a page that brings boundaries what becomes of the laboratory files of the run on it.
type readBackTests struct {
	Names string `json:"names"`
	Held  bool   `json:"held"` // they can be taken along
	Say   string `json:"say,omitempty"`
}

// testsOf says what becomes of the laboratory files of a run where a boundary of it is corrected; nil where it has none.
func (s *Server) testsOf(run string) *readBackTests {
	n, err := strconv.Atoi(run)
	b := s.shelf.get(n)
	if err != nil || b == nil || b.Err != nil || b.order != nil && len(b.order.Tests) == 0 {
		return nil // tests of the command line are read anew for every run
	}
	h, err := s.held(b)
	if h != nil {
		return &readBackTests{Names: h.names(), Held: true}
	}
	var names []string
	for _, in := range b.Head.Provenance.Inputs {
		if in.Role == roleTests {
			names = append(names, in.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	t := &readBackTests{Names: strings.Join(names, ", ")}
	t.Say = fmt.Sprintf("This run was made with the laboratory tests of %s, which this page does not hold. Drop them together with the boundary if they are to count.", t.Names)
	if err != nil {
		t.Say = "This run was made with laboratory tests, but " + err.Error() + ". Drop them together with the boundary if they are to count."
	}
	return t
}

// takeAlong gives an order the laboratory files of a run, unless it brings some itself.
func (o *Order) takeAlong(h *held) {
	if h == nil || len(o.Tests) > 0 {
		return
	}
	o.Tests, o.Mapping, o.Lime = h.tests, h.mapping, h.lime
	at := slices.IndexFunc(o.Inputs, func(in suitability.Input) bool { return in.Role != roleFields })
	if at < 0 {
		at = len(o.Inputs)
	}
	o.Inputs = slices.Insert(o.Inputs, at, h.inputs...)
}
