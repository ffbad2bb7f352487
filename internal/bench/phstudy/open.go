package main

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/internal/soilmap"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// input is what the study is made from.
type input struct {
	survey, fields, mapping string
	tests                   []string
	depth                   float64 // cm, of samples without one; 0 leaves them out
}

// open reads everything and pairs tests with the survey.
func (in input) open(ctx context.Context, faults *diag.List) (*study, error) {
	samples, err := in.samples(faults)
	if err != nil {
		return nil, err
	}
	// Without boundaries every sample is a field of its own, so that the usual job finds its map unit.
	boundaries := around(samples)
	if in.fields != "" {
		// A bare file name has the folder ".", which Clean makes of the added point.
		dir, base := filepath.Split(in.fields)
		boundaries, err = field.Read(ctx, []field.Source{{Name: in.fields, Files: os.DirFS(filepath.Clean(dir + ".")), Path: base}}, field.Options{}, faults)
		if err != nil {
			return nil, err
		}
	}
	// The report then says that nothing lies on the survey.
	if len(boundaries) == 0 {
		return &study{samples: samples}, nil
	}
	files, err := filesOf(in.survey)
	if err != nil {
		return nil, err
	}
	survey, err := soilmap.Open(ctx, []soilmap.Source{{Name: in.survey, Files: files, Path: "."}}, soilmap.Options{}, faults)
	if err != nil {
		return nil, err
	}
	defer survey.Close()
	var own diag.List // places outside the survey are counted, not told one by one
	r, err := job.Screen(ctx, boundaries, survey, job.Options{}, &own)
	if err != nil {
		return nil, err
	}
	return pairUp(samples, r, in, faults), nil
}

// samples reads the laboratory's files.
func (in input) samples(faults *diag.List) (out []lab.Sample, err error) {
	var m *lab.Mapping
	if in.mapping != "" {
		text, err := os.ReadFile(in.mapping)
		if err != nil {
			return nil, err
		}
		if m, err = lab.ReadMapping(in.mapping, bytes.NewReader(text), faults); err != nil {
			return nil, err
		}
	}
	for _, path := range in.tests {
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		r, err := lab.Read(path, bytes.NewReader(text), int64(len(text)), m, faults)
		if err != nil {
			return nil, err
		}
		out = append(out, r.Samples...)
	}
	return out, nil
}

// filesOf opens a survey's folder or zip.
func filesOf(path string) (fs.FS, error) {
	if strings.EqualFold(filepath.Ext(path), ".zip") {
		return zip.OpenReader(path) // open to the end of the program
	}
	st, err := os.Stat(path)
	if err == nil && !st.IsDir() {
		err = fmt.Errorf("%s: is no folder and no zip", path)
	}
	return os.DirFS(path), err
}

// halfSide of the ground that stands for a point, in degrees: some 5 m, as a bag of cores around one.
const halfSide = 0.00005

// around makes a small field around every sample with coordinates, known by the sample's place in the list.
func around(samples []lab.Sample) (out []field.Field) {
	for i, s := range samples {
		if p, ok := s.Place.Point.Get(); ok {
			x, y := p[0], p[1]
			ring := orb.Ring{{x - halfSide, y - halfSide}, {x + halfSide, y - halfSide}, {x + halfSide, y + halfSide}, {x - halfSide, y + halfSide}, {x - halfSide, y - halfSide}}
			out = append(out, field.Field{ID: strconv.Itoa(i), Name: s.ID, Shape: orb.MultiPolygon{{ring}}})
		}
	}
	return out
}

// groundOf answers where a sample lies.
func groundOf(r *suitability.Result) lab.Ground {
	fieldOf := map[string]string{}
	units := map[string][]string{}
	for i := range r.Zones {
		z := &r.Zones[i]
		fieldOf[z.ID] = z.FieldID
		units[z.MapUnitKey] = append(units[z.MapUnitKey], z.ID)
	}
	fields := map[string]bool{}
	for _, f := range r.Fields {
		fields[f.ID] = true
	}
	return lab.Ground{
		At:          func(p orb.Point) (string, string, bool) { return at(r, p) },
		HasField:    func(id string) bool { return fields[id] },
		FieldOfZone: func(id string) (string, bool) { f, ok := fieldOf[id]; return f, ok },
		ZonesOfUnit: func(key, in string) (out []string) {
			for _, z := range units[key] {
				if in == "" || fieldOf[z] == in {
					out = append(out, z)
				}
			}
			return out
		},
	}
}
