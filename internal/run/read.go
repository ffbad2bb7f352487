package run

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"

	"rootworthy/export"
	"rootworthy/suitability"
)

// Read reads a run folder back. The error names the file, the line or feature, and what to do. Files that do not
// belong together (a zone without a shape or a field) are refused: a run is whole or it is not used.
func Read(fsys fs.FS) (*suitability.Result, error) {
	r := &reader{fieldIndex: map[string]int{}, zoneIndex: map[string]int{}}
	// In this order: the manifest says how many to expect, zones need their fields, and shapes need their zones.
	for _, step := range []struct {
		name string
		read func(io.Reader) error
	}{{runFile, r.manifest}, {fieldsFile, r.fields}, {reasonsFile, r.reasons}, {zonesFile, r.zones}} {
		if err := readFile(fsys, step.name, step.read); err != nil {
			return nil, fmt.Errorf("%s: %w", step.name, err)
		}
	}
	return &r.result, nil
}

// readFile opens a file of the folder for one of the steps.
func readFile(fsys fs.FS, name string, read func(io.Reader) error) error {
	f, err := fsys.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("is missing; the folder is not a run, or not a whole one: run screen again")
	}
	if err != nil {
		return err
	}
	defer f.Close()
	// Large, for the files are read from end to end.
	return read(bufio.NewReaderSize(f, 1<<16))
}

// reader is a run being read.
type reader struct {
	result suitability.Result
	// what run.json promised; the counts are held against it
	want manifest
	// by id, the place in result.Fields and result.Zones
	fieldIndex, zoneIndex map[string]int
}

// manifest reads what the run was made from, and how many fields and zones to expect.
func (r *reader) manifest(in io.Reader) (err error) {
	if r.want, err = readManifest(in); err != nil {
		return err
	}
	r.result.Provenance, r.result.Profile, r.result.Faults = r.want.Provenance, r.want.Profile, r.want.faults()
	return nil
}

// fields reads every field but its zones.
func (r *reader) fields(in io.Reader) error {
	// One for the whole file: it knows which names are ours, and what an attribute was called that had to give way to one of
	// ours.
	names := export.NewAttributeNames()
	err := eachFeature(in, func(f feature) error {
		field, err := fieldOf(f, names)
		if err != nil {
			return err
		}
		// Ids are what the files are joined by; two alike would mix the zones of two fields.
		if _, twice := r.fieldIndex[field.ID]; twice {
			return fmt.Errorf("the field is there twice")
		}
		r.fieldIndex[field.ID] = len(r.result.Fields)
		r.result.Fields = append(r.result.Fields, field)
		return nil
	})
	// A file cut off between two lines is whole to its own format; the count finds it.
	if err == nil && len(r.result.Fields) != r.want.Fields {
		return fmt.Errorf("has %d fields, %s says %d; the files are not of one run: run screen again", len(r.result.Fields), runFile, r.want.Fields)
	}
	return err
}

// reasons reads every zone but its shape.
func (r *reader) reasons(in io.Reader) error {
	records := export.NewRecords(in)
	for n := 1; ; n++ {
		// Next returns io.EOF itself at the end and another error for a line that is cut off.
		record, err := records.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", n, err)
		}
		i, ok := r.fieldIndex[record.FieldID]
		if !ok {
			return fmt.Errorf("line %d: zone %q belongs to field %q, which %s does not have", n, record.ID, record.FieldID, fieldsFile)
		}
		if _, twice := r.zoneIndex[record.ID]; twice {
			return fmt.Errorf("line %d: zone %q is there twice", n, record.ID)
		}
		// Records come in the order of fields and numbers, as they were written, so that the zones of a field come in
		// theirs.
		r.zoneIndex[record.ID] = len(r.result.Zones)
		r.result.Fields[i].Zones = append(r.result.Fields[i].Zones, len(r.result.Zones))
		r.result.Zones = append(r.result.Zones, record.Zone())
	}
	if len(r.result.Zones) != r.want.Zones {
		return fmt.Errorf("has %d zones, %s says %d; the files are not of one run: run screen again", len(r.result.Zones), runFile, r.want.Zones)
	}
	return nil
}

// zones adds the shapes.
func (r *reader) zones(in io.Reader) error {
	// A zone without a shape could not be drawn, and its area would be believed all the same.
	seen := make([]bool, len(r.result.Zones))
	err := eachFeature(in, func(f feature) (err error) {
		// Matched by id and not by place: a map program that sorted the file anew and kept the ids has done no harm.
		i, ok := r.zoneIndex[f.ID]
		if !ok || seen[i] {
			return fmt.Errorf("the zone is not in %s, or is there twice", reasonsFile)
		}
		seen[i] = true
		r.result.Zones[i].Shape, err = f.Geometry.shape()
		return err
	})
	if err != nil {
		return err
	}
	// The count alone would not do: a zone twice and another one missing are the right number.
	for i, ok := range seen {
		if !ok {
			return fmt.Errorf("lacks zone %q of %s", r.result.Zones[i].ID, reasonsFile)
		}
	}
	return nil
}
