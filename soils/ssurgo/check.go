package ssurgo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"rootworthy/internal/diag"
	"rootworthy/soils"
)

// Summary says what an export is and how much it holds.
type Summary struct {
	Kind                                              string       // in words, such as "soil survey areas"
	Formats                                           []string     // of version.txt, e.g. "2.3.3"; sorted, each once
	Areas                                             []soils.Area // by symbol
	Folders                                           []string     // of the tables, as the user would look for them
	Polygons                                          int
	Units, Components, Horizons, Restrictions, Months int
	UnitsWithoutPolygon                               int // zero when there is no map at all
	PolygonsWithoutUnit                               int
}

// Check reads everything, polygons included, and sums it up; what is wrong goes to the faults given to [Open].
func (e *Export) Check(ctx context.Context) (Summary, error) {
	survey, err := e.Survey(ctx)
	if err != nil {
		return Summary{}, err
	}
	// what Survey keeps: of an area that stands in two copies, one
	s := Summary{Kind: e.kind(survey), Areas: survey.Areas}
	for _, a := range e.areas {
		// a map alone, or tables of a database, which has no folder to name
		if a.files == nil {
			continue
		}
		s.Folders = append(s.Folders, join(a.export, a.tabular))
		version, err := a.version(ctx)
		if err != nil {
			return Summary{}, err
		}
		if version != "" {
			s.Formats = append(s.Formats, version)
		}
	}
	slices.Sort(s.Formats)
	s.Formats = slices.Compact(s.Formats)
	s.count(survey)
	return s, e.checkMap(ctx, survey, &s)
}

// kind says in words what the export is as a whole.
func (e *Export) kind(survey *soils.Survey) string {
	// A general map among detailed surveys is named as well, because its caution must not get lost.
	general := 0
	for _, a := range survey.Areas {
		if a.General {
			general++
		}
	}
	switch {
	case general > 0 && general == len(survey.Areas):
		return "general soil map"
	case general > 0:
		return "soil survey areas, and the general soil map"
	}
	whole, cut := false, false
	for _, a := range e.areas {
		cut = cut || a.partial()
		whole = whole || !a.partial()
	}
	switch {
	// asked before the map, since without tables nothing can be rated whatever is drawn
	case len(survey.Units) == 0:
		return "map units without tables"
	case cut && whole:
		return "soil survey areas, in part areas of interest"
	case cut:
		return "area of interest"
	}
	return "soil survey areas"
}

// count counts what the tables describe, whether a polygon shows it or not.
func (s *Summary) count(survey *soils.Survey) {
	s.Units = len(survey.Units)
	for i := range survey.Units {
		for _, c := range survey.Units[i].Components {
			s.Components++
			s.Horizons += len(c.Horizons)
			s.Restrictions += len(c.Restrictions)
			s.Months += len(c.Months)
		}
	}
}

// checkMap counts polygons and compares their keys with the map units.
func (e *Export) checkMap(ctx context.Context, survey *soils.Survey, s *Summary) error {
	known := make(map[string]bool, len(survey.Units))
	for _, u := range survey.Units {
		// false until a polygon of it comes by
		known[u.Key] = false
	}
	// the shapes are not kept, so that a country may be checked in the memory of a county
	err := e.Polygons(ctx, func(p Polygon) error {
		s.Polygons++
		if _, ok := known[p.Unit]; !ok {
			s.PolygonsWithoutUnit++
			return nil
		}
		known[p.Unit] = true
		return nil
	})
	if err != nil {
		return err
	}
	if s.PolygonsWithoutUnit > 0 && len(known) > 0 { // without tables nothing can fit
		e.faults.Add(diag.Fault{File: e.Name, Field: "MUKEY", Kind: "polygon without unit",
			What: fmt.Sprintf("%d polygons have a map unit key that the tables do not have", s.PolygonsWithoutUnit),
			Fix:  "tables and map are of different versions; take a fresh copy of the export"})
	}
	// Without a map every unit lacks a polygon, which says nothing: that the map is missing was told.
	if s.Polygons == 0 {
		return nil
	}
	for _, drawn := range known {
		if !drawn {
			s.UnitsWithoutPolygon++
		}
	}
	return nil
}

// version returns the content of version.txt, empty when there is none.
func (a *area) version(ctx context.Context) (string, error) {
	var version string
	// one line with one field; not in the schema, because nothing is joined to it
	l := layout{table: "version", file: "version", width: 1, columns: map[string]column{"version": {at: 0}}}
	err := a.read(ctx, &l, func(r *record) { version = a.intern(r.text("version")) })
	// an export may come without it
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	return version, err
}
