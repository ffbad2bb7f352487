package main

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/gdal"
	"rootworthy/internal/soilmap"
	"rootworthy/internal/surveypack"
	"rootworthy/internal/unzip"
	"rootworthy/suitability"
)

// surveyInput is what the command line says of the survey.
type surveyInput struct {
	paths    []string
	tables   []string    // for their tables alone
	unitsKey string      // column of the key in polygons; "" for the usual one
	around   []orb.Bound // boxes of the fields; nil for all ground
}

// opened is a soil survey that stands open, put together from all sources.
type opened struct {
	soil    *soilmap.Survey
	pack    *surveypack.Pack // in place of soil
	name    string
	sources []*witness
	files   []io.Closer // zips, and the elevation raster
}

// openSurvey opens every path as a survey or part of one and reads the tables.
// On an error everything that was opened by then is closed again; on success it stays open until close, since polygons are read during the
// job.
func openSurvey(ctx context.Context, in surveyInput, faults *diag.List) (*opened, error) {
	// A pack needs no joining of tables and is opened by itself.
	o := &opened{name: strings.Join(in.paths, ", ")}
	if p, ok := packAmong(in.paths); ok {
		return o, o.openPack(ctx, p, in, faults)
	}
	var sources []soilmap.Source
	maps := unfolded(in.paths)
	for i, p := range append(maps, unfolded(in.tables)...) {
		s, err := o.source(p)
		if err != nil {
			o.close()
			return nil, err
		}
		// What --tables names is asked for its tables alone, also where it has polygons.
		s.Tables = i >= len(maps)
		sources = append(sources, s)
	}
	var err error
	o.soil, err = soilmap.Open(ctx, sources, soilmap.Options{Around: in.around, UnitsKey: in.unitsKey, Geodatabase: gdal.OpenSurvey}, faults)
	if err != nil {
		o.close()
		return nil, err
	}
	return o, nil
}

// packAmong returns the first path that is a survey pack.
func packAmong(paths []string) (string, bool) {
	for _, p := range paths {
		if surveypack.Is(os.DirFS(p)) {
			return p, true
		}
	}
	return "", false
}

// openPack opens a pack, which stands alone: what belongs together is packed together.
// Its witness is told of the manifest alone, the last of the pack's files: that holds the digests of what the pack was made from, so a run
// can say on what it rests without reading gigabytes again.
func (o *opened) openPack(ctx context.Context, path string, in surveyInput, faults *diag.List) (err error) {
	if len(in.paths)+len(in.tables) > 1 {
		return fmt.Errorf("%s: is a survey pack and cannot be joined with others; pack them together with survey pack", path)
	}
	o.sources = []*witness{{FS: os.DirFS(path), role: "survey", name: path, opened: map[string]bool{surveypack.Files()[len(surveypack.Files())-1]: true}}}
	o.pack, err = openPack(ctx, path, faults)
	return err
}

// source opens a path: a folder, a zip as a folder, or a file in its folder.
// Files stay relative to a file system, so that readers never see a path; the witness around it notes what they open.
func (o *opened) source(path string) (soilmap.Source, error) {
	f, err := os.Open(path)
	if err != nil {
		return soilmap.Source{}, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return soilmap.Source{}, err
	}
	w := &witness{role: "survey", name: path}
	o.sources = append(o.sources, w)
	if st.IsDir() {
		f.Close()
		w.FS = os.DirFS(path)
		// A file geodatabase is a folder that a library opens by itself, past the witness; so all its files count as read.
		if strings.EqualFold(filepath.Ext(path), ".gdb") {
			return soilmap.Source{Name: path, Files: w, Path: "."}, w.openAll()
		}
		return soilmap.Source{Name: path, Files: w, Path: "."}, nil
	}
	// What a file is, is told by its content: a zip may have any name.
	head := make([]byte, 4)
	// Every zip begins with the letters PK, an empty one too.
	if n, _ := f.ReadAt(head, 0); n < 4 || string(head[:2]) != "PK" {
		f.Close()
		w.FS = os.DirFS(dirOf(path))
		return soilmap.Source{Name: path, Files: w, Path: baseName(path)}, nil
	}
	z, err := unzip.Open(f, st.Size())
	if err != nil {
		f.Close()
		// A zip has its list of files at the end, so one whose download stopped begins as it should and lacks that list.
		if errors.Is(err, zip.ErrFormat) {
			err = errors.New("a zip that is cut off; download it again")
		}
		return soilmap.Source{}, fmt.Errorf("%s: %w", path, err)
	}
	o.files = append(o.files, f)
	w.FS = z
	return soilmap.Source{Name: path, Files: w, Path: "."}, nil
}

// close frees everything that is open.
func (o *opened) close() {
	if o.soil != nil {
		o.soil.Close()
	}
	if o.pack != nil {
		o.pack.Close()
	}
	for _, f := range o.files {
		f.Close()
	}
}

// inputs says what was read of each source.
func (o *opened) inputs() ([]suitability.Input, error) { return inputsOf(o.sources) }

// inputsOf says what was read of each source, in the order in which they were opened.
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
	// Not filepath.Base: a run made on Windows is read elsewhere, and the record must come out the same.
	path = strings.TrimRight(path, `/\`)
	return path[strings.LastIndexAny(path, `/\`)+1:]
}
