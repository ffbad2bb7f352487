package soilmap

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/soils/ssurgo"
)

// Options tunes [Open]; the zero value opens all ground there is.
type Options struct {
	// Around is the ground that matters, a box (degrees) a field: rasters are read there and nowhere else. Nil means all
	// of them. Polygons are handed on whole, wherever they lie.
	Around []orb.Bound
	// UnitsKey names the column with the key of the map unit in polygon files; empty means mukey.
	UnitsKey string
	// Geodatabase opens a file geodatabase by its path; unitsKey is that of polygons. Nil refuses them.
	Geodatabase func(ctx context.Context, path, unitsKey string, faults *diag.List) (*ssurgo.Export, func() error, error)
}

// Open opens all sources as one survey. Name and place of what is wrong go to faults; the error says which source is no
// survey, and what to give instead. The survey must be closed, and its sources stay open until then.
func Open(ctx context.Context, sources []Source, opt Options, faults *diag.List) (*Survey, error) {
	if opt.UnitsKey == "" {
		opt.UnitsKey = "mukey"
	}
	o := &opening{opt: opt, faults: faults, out: &Survey{faults: faults, named: map[string][2]string{}}}
	for _, s := range sources {
		if err := o.open(ctx, s); err != nil {
			o.out.Close()
			return nil, err
		}
	}
	if err := o.finish(ctx); err != nil {
		o.out.Close()
		return nil, err
	}
	return o.out, nil
}

// opening is one call of Open at work.
type opening struct {
	opt     Options
	faults  *diag.List
	out     *Survey
	exports []*ssurgo.Export
	layers  []gridLayer // of a stack of properties, from any source
}

// open opens one source.
func (o *opening) open(ctx context.Context, s Source) error {
	// a file geodatabase is a folder that is opened as a file
	if s.Path == "." && !strings.EqualFold(path.Ext(s.Name), ".gdb") {
		return o.folder(ctx, s)
	}
	k, err := s.recognise()
	if err != nil {
		return err
	}
	return o.file(ctx, s, k)
}

// file opens one file of a known kind.
func (o *opening) file(ctx context.Context, s Source, k kind) error {
	var e *ssurgo.Export
	var err error
	switch k {
	case kindGeodatabase:
		e, err = o.geodatabase(ctx, s)
	case kindDatabase:
		e, err = o.database(ctx, s)
	case kindRaster:
		e, err = o.raster(ctx, s)
	default:
		e, err = o.polygons(ctx, s, k)
	}
	// nil without an error is a layer of a stack, which waits for the others
	if err != nil || e == nil {
		return err
	}
	o.add(s, e)
	return nil
}

// add keeps an opened survey. One given for its tables loses its map, or its ground would be covered twice.
func (o *opening) add(s Source, e *ssurgo.Export) {
	if s.Tables {
		e = e.WithoutMap()
	}
	o.exports = append(o.exports, e)
}

// found notes what a source is, in the order in which sources are opened.
func (o *opening) found(name, what string) { o.out.Found = append(o.out.Found, name+": "+what) }

// geodatabase opens a file geodatabase where the program was built with a reader of them.
func (o *opening) geodatabase(ctx context.Context, s Source) (*ssurgo.Export, error) {
	if o.opt.Geodatabase == nil {
		return nil, fmt.Errorf("%s: file geodatabases are not read here; convert it to GeoPackage", s.Name)
	}
	e, closeIt, err := o.opt.Geodatabase(ctx, s.Name, o.opt.UnitsKey, o.faults)
	if err != nil {
		return nil, err
	}
	o.out.closing = append(o.out.closing, closeIt)
	o.found(s.Name, "file geodatabase")
	return e, nil
}

// folder opens a folder as a survey export or, when it is none, every file in it that can be part of a survey.
func (o *opening) folder(ctx context.Context, s Source) error {
	e, err := ssurgo.Open(ctx, s.Name, s.Files, o.faults)
	if err == nil {
		o.found(s.Name, "survey export")
		o.add(s, e)
		return nil
	}
	// an export that is damaged is told as such, and not searched for other files
	if !errors.Is(err, ssurgo.ErrNone) {
		return err
	}
	// asked only where there is no export, as an export may hold any file
	if _, isRun := fs.Stat(s.Files, "run.json"); isRun == nil {
		return err // a result of this program: its zones carry keys, but they are no survey
	}
	files, ferr := o.list(ctx, s)
	if ferr != nil {
		return ferr
	}
	var none error
	opened := 0
	for _, f := range files {
		switch err := o.open(ctx, f); {
		// roads, springs and field boundaries beside the survey, of which the agency itself ships some; an error only if nothing else is there
		case errors.Is(err, errNoKey), errors.Is(err, shapefile.ErrNotPolygons):
			// Kept in case nothing else is found: then the file without keys is what the user meant, and its message helps most.
			none = err
		case err != nil:
			return err
		default:
			opened++
		}
	}
	switch {
	// One survey in a folder is enough; what else lies in it is not the user's question.
	case opened > 0:
		return nil
	case none != nil:
		return none
	}
	return err
}

// maxFiles bounds the search of a folder that is no export.
const maxFiles = 10_000

// list returns the files of a folder that can be part of a survey, sorted.
func (o *opening) list(ctx context.Context, s Source) ([]Source, error) {
	var out []Source
	seen := 0
	err := fs.WalkDir(s.Files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || ctx.Err() != nil {
			return errors.Join(err, context.Cause(ctx))
		}
		if seen++; seen > maxFiles {
			return fmt.Errorf("more than %d files; name the survey itself", maxFiles)
		}
		// Side files that one operating system puts into folders and zips; their names end as those of real data do.
		if p != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "__MACOSX") {
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if !d.IsDir() && endings[strings.ToLower(path.Ext(p))] {
			out = append(out, Source{Name: strings.TrimSuffix(s.Name, "/") + "/" + p, Files: s.Files, Path: p, Tables: s.Tables})
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, cause(err))
	}
	// by path, so that faults and notices come in one order on every system
	slices.SortFunc(out, func(a, b Source) int { return strings.Compare(a.Path, b.Path) })
	return out, nil
}

// finish puts everything together.
func (o *opening) finish(ctx context.Context) error {
	// Also with no exports at all, as for a stack: then it is a survey of nothing, and stands for one until the stack
	// replaces it.
	o.out.Export = ssurgo.Combine(o.faults, o.exports...)
	// read now: what is wrong with the tables is told before a field is cut
	survey, err := o.out.Export.Survey(ctx)
	if err != nil {
		return err
	}
	if len(o.layers) > 0 {
		// Which of the two should win where both have ground, nobody could tell from the map.
		if len(o.exports) > 0 {
			return fmt.Errorf("%s: modelled soil properties are a stand-in for ground that no survey covers; give them without another survey", o.layers[0].name)
		}
		if o.out.stack, err = openStack(ctx, o.layers, o.opt.Around, o.faults); err != nil {
			return err
		}
		o.found(o.layers[0].name, fmt.Sprintf("modelled soil properties, %d layers: a stand-in for a survey", len(o.layers)))
		survey = o.out.stack.survey()
	}
	o.out.survey = survey
	o.tell()
	return nil
}

// tell says what the survey as a whole cannot answer.
func (o *opening) tell() {
	if len(o.out.survey.Units) == 0 && len(o.exports) > 0 {
		o.faults.Notice(diag.Fault{File: o.out.Export.Name, Kind: "no tables", What: "there are map units on the map, but no tables that describe them: zones are cut and measured, and none is rated",
			Fix: "give the survey's tables with --tables"})
	}
	for _, a := range o.out.survey.Areas {
		switch {
		case o.out.stack != nil:
			o.faults.Notice(diag.Fault{File: o.layers[0].name, Kind: "modelled soil", What: "soil properties are modelled, cell by cell, and nobody looked at the ground; drainage and depth to rock are not among them, so most ground cannot be rated",
				Fix: "take it as a hint and dig"})
		case a.General:
			o.faults.Notice(diag.Fault{File: o.out.Export.Name, Feature: "area " + a.Symbol, Kind: "general soil map", What: "it is drawn for whole states (1:250,000), and a map unit in it holds many soils: for screening only, confidence is low",
				Fix: "use the detailed survey of the county where there is one"})
		}
	}
}
