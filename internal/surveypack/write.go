package surveypack

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"io"

	"github.com/paulmach/orb"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils"
)

// Survey is a survey to be packed.
type Survey interface {
	Survey() *soils.Survey
	// It is called twice, and must emit the same both times.
	Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error
}

// entry says where a map unit stands in units.jsonl.
type entry struct {
	Key    string `json:"key"`
	Symbol string `json:"symbol"`
	Name   string `json:"name"`
	Kind   string `json:"kind,omitempty"`
	Area   string `json:"area"`
	At     int64  `json:"at"`
	Length int    `json:"length"`
	// CRC-32C of the line, its line end included
	CRC  uint32 `json:"crc"`
	Bare bool   `json:"bare,omitempty"` // on the map only: the tables do not have it
}

// Castagnoli's polynomial, for which processors have an instruction.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// Check says whether Write would accept a folder: absent, empty or an earlier pack.
func Check(dir string) error { return folder(dir).Check() }

// folder describes a pack's folder. A pack of any schema may be replaced, since an old one must be made again in its
// place.
func folder(dir string) atomicfile.Folder {
	return atomicfile.Folder{Dir: dir, Files: Files(), Marked: func(r io.Reader) error {
		var m struct {
			Kind string `json:"rootworthy"`
		}
		if err := json.NewDecoder(r).Decode(&m); err != nil || m.Kind != kind {
			return fmt.Errorf("%s is not of a survey pack", manifestFile)
		}
		return nil
	}}
}

// Write packs a survey into a folder, whole or not at all. Made, Program and Sources of info are the caller's; the rest
// is filled in and returned. Polygons that have no place in the plane are left out, as faults.
func Write(ctx context.Context, dir string, s Survey, info Info, faults *diag.List) (Info, error) {
	p := &packer{survey: s, faults: faults, info: info, number: map[string]uint32{}}
	// First a pass over the whole map, since its middle decides the plane; nothing of a polygon but its box is kept.
	if err := p.measure(ctx); err != nil {
		return info, err
	}
	index, err := p.index()
	if err != nil {
		return info, err
	}
	p.info.Index = crc32.Checksum(index, castagnoli)
	done := make(chan struct{}) // the manifest waits for the map, whose keys it counts
	err = folder(dir).Write(func(name string, w io.Writer) error {
		switch name {
		// Closed also on an error, or the manifest would wait for ever; the folder is then not put in place.
		case mapFile:
			defer close(done)
			return p.writeMap(ctx, w)
		case unitsFile:
			return p.writeUnits(w)
		case indexFile:
			_, err := w.Write(index)
			return err
		}
		// The manifest is filled side by side with the other files, and needs the number of polygons.
		<-done
		return p.writeManifest(w)
	})
	return p.info, err
}

// packer makes one pack. Lines of map units are held in memory, polygons never.
type packer struct {
	survey  Survey
	faults  *diag.List
	info    Info
	plane   proj.Plane
	lines   [][]byte // of units.jsonl
	entries []entry
	number  map[string]uint32
}

// measure finds the extent of the map, and with it the plane, and puts the map units into lines.
func (p *packer) measure(ctx context.Context) error {
	s := p.survey.Survey()
	for i := range s.Units {
		if err := p.add(&s.Units[i], false); err != nil {
			return err
		}
	}
	n := 0
	err := p.survey.Polygons(ctx, func(area, key string, shape orb.MultiPolygon) error {
		box := shape.Bound()
		// A box of nothing would hold 0, 0.
		if n == 0 {
			p.info.Extent = box
		}
		n++
		p.info.Extent = p.info.Extent.Union(box)
		if _, known := p.number[key]; known {
			return nil
		}
		// Ground that was drawn and not described keeps its place and key, as in a survey that is not packed.
		return p.add(&soils.MapUnit{Key: key, Area: area, Undescribed: true}, true)
	})
	p.plane = proj.PlaneFor(p.info.Extent)
	p.info.Kind, p.info.Schema, p.info.Plane, p.info.Areas, p.info.Units = kind, Schema, p.plane.String(), s.Areas, len(s.Units)
	return err
}

// add makes the line and the index entry of a map unit, and numbers it; bare says that the map alone has it.
func (p *packer) add(u *soils.MapUnit, bare bool) error {
	line, err := json.Marshal(u)
	if err != nil {
		return fmt.Errorf("map unit %s: %w", u.Key, err)
	}
	// With the line end, so that the file is lines of text for whoever opens it.
	line = append(line, '\n')
	e := entry{Key: u.Key, Symbol: u.Symbol, Name: u.Name, Kind: u.Kind, Area: u.Area, Length: len(line), CRC: crc32.Checksum(line, castagnoli), Bare: bare}
	if n := len(p.entries); n > 0 {
		// Places follow from the lengths before; units.jsonl is then written in one go.
		e.At = p.entries[n-1].At + int64(p.entries[n-1].Length)
	}
	p.number[u.Key] = uint32(len(p.entries))
	p.entries, p.lines = append(p.entries, e), append(p.lines, line)
	return nil
}

// writeMap writes the blocks; it is the second pass over the polygons.
func (p *packer) writeMap(ctx context.Context, out io.Writer) error {
	w, err := overlay.NewWriter(out, []byte(p.info.Plane))
	if err != nil {
		return err
	}
	// Projected now, with corners added to long edges, so that opening a pack needs neither.
	err = p.survey.Polygons(ctx, func(_, key string, shape orb.MultiPolygon) error {
		flat, err := p.plane.ForwardMultiPolygon(shape, true)
		if err != nil {
			p.faults.Add(diag.Fault{Kind: "survey polygon", Feature: "map unit " + key, What: err.Error(), Fix: "get the survey again; the polygon was left out"})
			return nil
		}
		// Only of those that were taken.
		p.info.Polygons++
		return w.Add(p.number[key], flat)
	})
	if err != nil {
		return err
	}
	return w.Close()
}

// writeUnits writes the lines at the places that add has reckoned.
func (p *packer) writeUnits(out io.Writer) error {
	for _, line := range p.lines {
		if _, err := out.Write(line); err != nil {
			return err
		}
	}
	return nil
}

// index is the text of units.index: a line an entry, in the order of the numbers in the map.
func (p *packer) index() ([]byte, error) {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	for _, e := range p.entries {
		if err := enc.Encode(e); err != nil {
			return nil, err
		}
	}
	return text.Bytes(), nil
}

// writeManifest writes pack.json on many lines: people look into it.
func (p *packer) writeManifest(out io.Writer) error {
	enc := json.NewEncoder(out)
	enc.SetIndent("", " ")
	return enc.Encode(p.info)
}
