package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"rootworthy/internal/diag"
	"rootworthy/internal/soilmap"
	"rootworthy/soils/lab"
)

// mapped is a survey with its ground.
// Its box stands for it: the question is only whether a study is worth a try.
type mapped struct {
	name  string
	bound orb.Bound
	any   bool // polygons
}

// inventory says which laboratory files of a folder of data sets lie on which survey, and how far the others are from one.
func inventory(ctx context.Context, out io.Writer, folder string) error {
	surveys, err := surveysIn(ctx, folder)
	if err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(folder, "soiltest-*", "*"))
	if err != nil {
		return err
	}
	fmt.Fprintln(out, "| tests | samples | pH in water, or \"pH\" | with coordinates | nearest survey with polygons | km |")
	fmt.Fprintln(out, "| --- | --- | --- | --- | --- | --- |")
	meet := 0
	// Everything beside the laboratories' files (a readme, a licence) is passed over without a word.
	for _, path := range files {
		line, on, ok := testsIn(path, surveys)
		if ok {
			fmt.Fprintln(out, line)
			meet += on
		}
	}
	fmt.Fprintf(out, "\n%d surveys with polygons. ", len(surveys))
	if meet == 0 {
		fmt.Fprintln(out, "No test lies on one of them, so survey pH cannot be held against laboratory pH with these data sets.")
		return nil
	}
	fmt.Fprintf(out, "%d tests lie in the box around a survey: run the study on them with -survey and -tests.\n", meet)
	return nil
}

// surveysIn opens every survey export of a folder that has polygons.
func surveysIn(ctx context.Context, folder string) (out []mapped, err error) {
	paths, err := filepath.Glob(filepath.Join(folder, "ssurgo-*"))
	if err == nil && len(paths) == 0 {
		err = fmt.Errorf("%s: holds no survey (folders ssurgo-…)", folder)
	}
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		var faults diag.List
		m := mapped{name: filepath.Base(path)}
		// Faults are not printed: this is a look at many folders, and the study itself tells them.
		s, err := soilmap.Open(ctx, []soilmap.Source{{Name: m.name, Files: os.DirFS(path), Path: "."}}, soilmap.Options{}, &faults)
		if err != nil {
			continue // tables of an old form, without a map
		}
		err = s.Polygons(ctx, func(_, _ string, shape orb.MultiPolygon) error {
			if b := shape.Bound(); m.any {
				m.bound = m.bound.Union(b)
			} else {
				m.bound, m.any = b, true
			}
			return nil
		})
		if err = errors.Join(err, s.Close()); err == nil && m.any {
			out = append(out, m)
		}
	}
	return out, nil
}

// testsIn looks into a file; ok is false for what is no laboratory's file.
func testsIn(path string, surveys []mapped) (line string, on int, ok bool) {
	f, err := os.Open(path)
	if err != nil {
		return "", 0, false
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil || st.IsDir() {
		return "", 0, false
	}
	var faults diag.List
	r, err := lab.Read(filepath.Base(path), f, st.Size(), nil, &faults)
	if err != nil || len(r.Samples) == 0 {
		return "", 0, false
	}
	ph, points := 0, 0
	nearest, far := "–", math.Inf(1)
	for _, s := range r.Samples {
		if s.PH.Has() {
			ph++
		}
		p, ok := s.Place.Point.Get()
		if !ok {
			continue
		}
		points++
		// The least distance of this sample; nearest and far are of the file.
		here := math.Inf(1)
		for _, m := range surveys {
			// To the box and not to the polygons: 0 says that the study is worth a try, no more.
			d := geo.Distance(p, nearestOf(m.bound, p)) / 1000
			here = min(here, d)
			if d < far {
				nearest, far = m.name, d
			}
		}
		if here == 0 {
			on++
		}
	}
	km := "–"
	if points > 0 {
		km = fmt.Sprintf("%.0f", far)
	}
	name := filepath.Join(filepath.Base(filepath.Dir(path)), filepath.Base(path))
	return "| " + strings.Join([]string{name, fmt.Sprint(len(r.Samples)), fmt.Sprint(ph), fmt.Sprint(points), nearest, km}, " | ") + " |", on, true
}

// nearestOf is the point of a box that lies nearest to another.
func nearestOf(b orb.Bound, p orb.Point) orb.Point {
	return orb.Point{min(max(p[0], b.Min[0]), b.Max[0]), min(max(p[1], b.Min[1]), b.Max[1])}
}
