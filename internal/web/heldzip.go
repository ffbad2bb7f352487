package web

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"

	"rootworthy/suitability"
)

// mostHeld bounds the laboratory files that are held for a run: some hundred thousand samples. What is larger makes its run, and
// has to be brought again for the next one.
const mostHeld = 16 << 20

// MostHeld bounds the zip that Source.Held reads: what packs badly takes a little more room than the files themselves.
const MostHeld = mostHeld + 1<<20

// packTests puts the laboratory files of an order into a zip, to be kept beside the run that is made of it: with their bytes as they were
// brought, so that anybody can take them out again. nil where there is none, or too much.
func packTests(o *Order) ([]byte, error) {
	if o == nil || len(o.Tests) == 0 {
		return nil, nil
	}
	files := slices.Clone(o.Tests)
	for _, t := range []*Text{o.Mapping, o.Table} {
		if t != nil {
			files = append(files, *t)
		}
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

// unpackTests takes out of a zip what the record of a run names, and nothing that differs from it by a byte. A lime table of the command line was
// never in it: that is looked for.
func (src *Source) unpackTests(text []byte, p *suitability.Provenance) (*held, error) {
	z, err := zip.NewReader(bytes.NewReader(text), int64(len(text)))
	if err != nil {
		return nil, fmt.Errorf("the laboratory files kept beside the run cannot be read: %w", err)
	}
	h, left := heldOf(p), int64(mostHeld)
	for _, in := range p.Inputs {
		if !ofTests(in) {
			continue
		}
		got, err := takeOut(z, in, &left)
		if got == nil && err == nil && in.Role == roleTable && src.Find != nil {
			if got, err = src.Find(in); err == nil && got == nil {
				err = fmt.Errorf("the lime table %s is not to be found", in.Name)
			}
		}
		switch {
		case err != nil:
			return nil, err
		case got == nil:
			return nil, errOtherFiles
		}
		h.put(in, got)
	}
	if len(h.tests) == 0 {
		return nil, nil
	}
	return h, nil
}

// takeOut returns the file of a zip that has the name and the digest of an input; nil where there is none. Several may have one name: they
// stood in several folders. left is how many bytes may still be unpacked, whatever sizes the zip claims.
func takeOut(z *zip.Reader, in suitability.Input, left *int64) ([]byte, error) {
	for _, x := range z.File {
		if x.Name != in.Name {
			continue
		}
		f, err := x.Open()
		if err != nil {
			return nil, err
		}
		got, err := io.ReadAll(io.LimitReader(f, *left+1))
		f.Close()
		if *left -= int64(len(got)); *left < 0 || err != nil {
			return nil, errors.Join(errOtherFiles, err)
		}
		if in.Is(got) {
			return got, nil
		}
	}
	return nil, nil
}
