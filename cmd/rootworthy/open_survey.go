package main

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
)

// opened is a soil survey that stands open: one export or several put together.
type opened struct {
	export  *ssurgo.Export
	survey  *soils.Survey
	sources []*witness
	close   func()
}

// openSurvey opens every path as a survey export (folder or zip) and reads the tables.
func openSurvey(ctx context.Context, paths []string, faults *diag.List) (*opened, error) {
	o := &opened{close: func() {}}
	var exports []*ssurgo.Export
	for _, p := range paths {
		fsys, closeFile, err := surveyFS(p)
		if err != nil {
			o.close()
			return nil, err
		}
		before := o.close
		o.close = func() { closeFile(); before() }
		w := &witness{FS: fsys, role: "survey", name: p}
		e, err := ssurgo.Open(ctx, p, w, faults)
		if err != nil {
			o.close()
			return nil, err
		}
		o.sources, exports = append(o.sources, w), append(exports, e)
	}
	o.export = ssurgo.Combine(faults, exports...)
	var err error
	if o.survey, err = o.export.Survey(ctx); err != nil {
		o.close()
		return nil, err
	}
	return o, nil
}

// surveyFS opens a folder or a zip as a file system.
func surveyFS(path string) (fs.FS, func(), error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	if st.IsDir() {
		f.Close()
		return os.DirFS(path), func() {}, nil
	}
	z, err := zip.NewReader(f, st.Size())
	if err != nil {
		f.Close()
		if errors.Is(err, zip.ErrFormat) {
			return nil, nil, fmt.Errorf("%s: not a folder and not a zip (or one cut off); give the folder or the zip of a soil survey export", path)
		}
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return z, func() { f.Close() }, nil
}

// Survey returns the attribute side.
func (o *opened) Survey() *soils.Survey { return o.survey }

// Polygons hands every polygon to emit.
func (o *opened) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return o.export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}

// inputs says what was read of each source.
func (o *opened) inputs() ([]suitability.Input, error) { return inputsOf(o.sources) }

func inputsOf(sources []*witness) ([]suitability.Input, error) {
	var out []suitability.Input
	for _, w := range sources {
		in, err := w.input()
		if err != nil {
			return nil, err
		}
		out = append(out, in)
	}
	return out, nil
}

// baseName is the last part of a path as typed, on any system.
func baseName(path string) string {
	path = strings.TrimRight(path, `/\`)
	return path[strings.LastIndexAny(path, `/\`)+1:]
}
