package ssurgo

import (
	"archive/zip"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"

	"rootworthy/internal/diag"
	"rootworthy/internal/unzip"
	"rootworthy/soils"
)

// Export is one soil survey export or several put together, opened but not read. It is for one goroutine.
type Export struct {
	Name   string // as the user gave it; of several, the names in the order given
	areas  []*area
	faults *diag.List
	survey *soils.Survey // read once

	outdated map[claim]bool // areas whose polygons are left out, as a newer copy has them
	unused   map[claim]bool // areas whose tables are
}

// ErrNone says that there is no survey export in a folder.
var ErrNone = errors.New("no soil survey here")

// Open looks for survey areas in a folder or an opened zip. Name is what the user called it and stands in messages;
// faults takes what this and the other methods find wrong. The error says that nothing was found or that the
// file system refuses.
func Open(ctx context.Context, name string, fsys fs.FS, faults *diag.List) (*Export, error) {
	// no content is read yet: that an export was found at all is told at once, what is in it when it is asked for
	areas, err := findAreas(ctx, name, fsys, faults)
	if err != nil {
		return nil, err
	}
	// A table of map units is what makes a folder a survey; polygons alone are opened by their own names.
	if len(areas) == 0 {
		return nil, fmt.Errorf("%s: %w: no tabular/mapunit.txt in it or in a folder below; give the folder or zip of a SSURGO export", name, ErrNone)
	}
	for _, a := range areas {
		if err := a.list(); err != nil {
			return nil, err
		}
	}
	return &Export{Name: name, areas: areas, faults: faults}, nil
}

// OpenZip is [Open] for a zip of size bytes as it was downloaded.
func OpenZip(ctx context.Context, name string, r io.ReaderAt, size int64, faults *diag.List) (*Export, error) {
	z, err := unzip.Open(r, size)
	if errors.Is(err, zip.ErrFormat) {
		return nil, fmt.Errorf("%s: not a zip, or cut off; download it again", name)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return Open(ctx, name, z, faults)
}

// Combine puts exports together into one. Their order does not matter to what is read.
func Combine(faults *diag.List, exports ...*Export) *Export {
	all := &Export{faults: faults}
	for i, e := range exports {
		if i > 0 {
			all.Name += ", "
		}
		all.Name += e.Name
		all.areas = append(all.areas, e.areas...)
	}
	return all
}

// Survey reads the tables of all survey areas. Units come sorted by key, areas by symbol; a map unit that stands in
// two of them is taken once, from the newer. The error is of the file system or the context; wrong content goes to
// the faults given to Open. A second call returns the same survey; nobody may change it.
func (e *Export) Survey(ctx context.Context) (*soils.Survey, error) {
	if e.survey != nil {
		return e.survey, nil
	}
	all := &merger{faults: e.faults, unitAt: map[string]int{}, have: map[soils.Area]bool{}}
	joined := make([]*joiner, len(e.areas))
	for i, a := range e.areas {
		var err error
		// All are read before any is used: which of two copies is the newer stands in the tables.
		if joined[i], err = a.join(ctx); err != nil {
			return nil, err
		}
	}
	e.findOutdated(joined)
	for i, a := range e.areas {
		all.add(a, joined[i], e.unused)
	}
	e.survey = all.finish()
	return e.survey, nil
}

// merger puts the survey areas of an export together.
type merger struct {
	faults *diag.List
	survey soils.Survey
	unitAt map[string]int
	have   map[soils.Area]bool
	date   []string // of the survey area of each unit
}

// add takes the areas and units of one folder but for those that a newer copy has.
func (m *merger) add(a *area, j *joiner, unused map[claim]bool) {
	// of the areas of this folder, by symbol; a unit whose area is not known has the date "", which is older than any
	dates := map[string]string{}
	for _, s := range j.areas {
		dates[s.Symbol] = s.Date
		if !m.have[s] && !unused[claim{a, s.Symbol}] {
			m.have[s] = true
			m.survey.Areas = append(m.survey.Areas, s)
		}
	}
	for _, u := range j.units {
		// A folder may hold several areas, of which only one is outdated.
		if unused[claim{a, u.Area}] {
			continue
		}
		at, old := m.unitAt[u.Key]
		if !old {
			m.unitAt[u.Key] = len(m.survey.Units)
			m.survey.Units = append(m.survey.Units, u)
			m.date = append(m.date, dates[u.Area])
			continue
		}
		m.again(a, at, u, dates[u.Area])
	}
}

// again settles which of two units of one key is kept: the newer; of one date the one first by content.
func (m *merger) again(a *area, at int, u soils.MapUnit, date string) {
	old := &m.survey.Units[at]
	// dates are year, month, day, so that text compares as time does
	order := cmp.Or(-cmp.Compare(m.date[at], date), compareContent(old, &u))
	f := diag.Fault{File: a.path("mapunit"), Kind: "unit in two areas",
		What: fmt.Sprintf("map unit %s (%s) stands in two survey areas given", u.Symbol, u.Key), Fix: "the newer is taken; check whether a survey was given twice"}
	m.faults.Notice(f)
	// positive when the one kept so far is the older, or of one date comes later by content
	if order > 0 {
		*old, m.date[at] = u, date
	}
}

// compareContent orders two units by all they hold, keys of components and horizons left out.
func compareContent(a, b *soils.MapUnit) int { return cmp.Compare(contentOf(a), contentOf(b)) }

// finish sorts what was gathered, so that neither the order of folders nor that of rows decides anything.
func (m *merger) finish() *soils.Survey {
	slices.SortFunc(m.survey.Units, func(a, b soils.MapUnit) int { return soils.CompareKeys(a.Key, b.Key) })
	slices.SortFunc(m.survey.Areas, func(a, b soils.Area) int {
		return cmp.Or(cmp.Compare(a.Symbol, b.Symbol), cmp.Compare(a.Date, b.Date), cmp.Compare(fmt.Sprint(a), fmt.Sprint(b)))
	})
	return &m.survey
}
