package surveypack

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils"
)

// Pack is an opened survey pack. It may be read by several goroutines.
type Pack struct {
	Info   Info
	survey *soils.Survey
	// by key of the map unit
	entries map[string]entry
	ground  *overlay.Coverage
	// all that Close has to close
	files []fs.File
	units io.ReaderAt
}

// blockCache is how many bytes of blocks are kept: the ground around some thousand fields of one county. Fields that
// lie scattered over a state read blocks again, which costs time but no memory.
const blockCache = 64 << 20

// Is says whether a folder is a survey pack, whole or damaged.
func Is(fsys fs.FS) bool {
	_, err := fs.Stat(fsys, manifestFile)
	return err == nil
}

// Open opens a pack. Its files must allow reading at any place, as files on disk do. The error wraps [ErrDamaged] when
// the pack has to be made again. Close it when done.
func Open(fsys fs.FS) (*Pack, error) {
	p := &Pack{survey: &soils.Survey{}, entries: map[string]entry{}}
	var err error
	if p.Info, err = ReadInfo(fsys); err != nil {
		return nil, err
	}
	// Before any of the three files is opened: what is not a pack, or of another form, costs nothing more.
	p.survey.Areas = p.Info.Areas
	for _, step := range []func(fs.FS) error{p.openIndex, p.openUnits, p.openMap} {
		if err := step(fsys); err != nil {
			p.Close()
			return nil, err
		}
	}
	return p, nil
}

// ReadInfo reads what a pack is and where it came from, and no more.
// It opens no other file, so a damaged pack can still say what it was made from.
func ReadInfo(fsys fs.FS) (Info, error) {
	f, err := fsys.Open(manifestFile)
	if err != nil {
		return Info{}, err
	}
	defer f.Close()
	return readManifest(f)
}

// Close lets go of the files.
func (p *Pack) Close() {
	for _, f := range p.files {
		f.Close()
	}
}

// openIndex reads the list of map units; its order is that of the numbers in the map.
func (p *Pack) openIndex(fsys fs.FS) error {
	// Read whole, since every map unit needs its number: that of its line, which the blocks of the map name it by.
	text, err := fs.ReadFile(fsys, indexFile)
	if errors.Is(err, fs.ErrNotExist) {
		return missing(indexFile)
	}
	if err != nil {
		return err
	}
	// A name or an area that changed would still be JSON.
	if crc32.Checksum(text, castagnoli) != p.Info.Index {
		return fmt.Errorf("%s: %w", indexFile, ErrDamaged)
	}
	dec := json.NewDecoder(bytes.NewReader(text))
	for dec.More() {
		var e entry
		if err := dec.Decode(&e); err != nil {
			return fmt.Errorf("%s: %w: %w", indexFile, ErrDamaged, err)
		}
		p.entries[e.Key] = e
		p.survey.Units = append(p.survey.Units, soils.MapUnit{Key: e.Key, Symbol: e.Symbol, Name: e.Name, Kind: e.Kind, Area: e.Area, Undescribed: e.Bare})
	}
	return nil
}

// openUnits opens the file of map units, of which lines are read when they are asked for.
func (p *Pack) openUnits(fsys fs.FS) (err error) {
	p.units, _, err = p.openAt(fsys, unitsFile)
	return err
}

// openMap opens the map on its directory and checks that it stands in the plane that pack.json names.
func (p *Pack) openMap(fsys fs.FS) error {
	r, size, err := p.openAt(fsys, mapFile)
	if err != nil {
		return err
	}
	ground, plane, err := overlay.Open(r, size, blockCache)
	// The plane stands in both files: a map copied in from another pack would be sound by itself and lie elsewhere.
	if errors.Is(err, overlay.ErrDamaged) || err == nil && string(plane) != p.Info.Plane {
		return fmt.Errorf("%s: %w", mapFile, ErrDamaged)
	}
	p.ground = ground
	return err
}

// missing is the error of a file that is not there: pack.json was, so the pack has lost it.
func missing(name string) error { return fmt.Errorf("%s is missing: %w", name, ErrDamaged) }

// openAt opens a file for reading at any place.
func (p *Pack) openAt(fsys fs.FS, name string) (io.ReaderAt, int64, error) {
	f, err := fsys.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, 0, missing(name)
	}
	if err != nil {
		return nil, 0, err
	}
	p.files = append(p.files, f)
	st, err := f.Stat()
	if err != nil {
		return nil, 0, err
	}
	r, ok := f.(io.ReaderAt)
	if !ok {
		return nil, 0, fmt.Errorf("%s: can only be read from its beginning; unpack it onto a disk", name)
	}
	return r, st.Size(), nil
}

// Survey returns the areas and map units without their components; see [Pack.Unit].
func (p *Pack) Survey() *soils.Survey { return p.survey }

// Plane returns the plane of the ground.
func (p *Pack) Plane() proj.Plane { return proj.PlaneFor(p.Info.Extent) }

// Extent returns the box of the map in degrees.
func (p *Pack) Extent() orb.Bound { return p.Info.Extent }

// Ground returns the map in that plane; keys are indexes into Survey().Units.
func (p *Pack) Ground() *overlay.Coverage { return p.ground }

// Unit reads a map unit with its components.
func (p *Pack) Unit(key string) (soils.MapUnit, error) {
	var u soils.MapUnit
	e, ok := p.entries[key]
	if !ok {
		return u, fmt.Errorf("map unit %s is not in the survey pack", key)
	}
	// Before the memory is taken: a damaged index may ask for anything.
	if e.Length < 0 || e.Length > 1<<28 {
		return u, fmt.Errorf("%s: map unit %s: %w", indexFile, key, ErrDamaged)
	}
	line := make([]byte, e.Length)
	// The end of the file comes with the last line. If it comes too early the checksum finds it.
	if _, err := p.units.ReadAt(line, e.At); err != nil && !errors.Is(err, io.EOF) {
		return u, fmt.Errorf("%s: map unit %s: %w", unitsFile, key, err)
	}
	if crc32.Checksum(line, castagnoli) != e.CRC {
		return u, fmt.Errorf("%s: map unit %s at byte %d: %w", unitsFile, key, e.At, ErrDamaged)
	}
	if err := json.Unmarshal(line, &u); err != nil {
		return u, fmt.Errorf("%s: map unit %s: %w: %w", unitsFile, key, ErrDamaged, err)
	}
	return u, nil
}

// Verify reads every map unit and every block of the map; any damage is an error.
func (p *Pack) Verify(ctx context.Context) error {
	for _, u := range p.survey.Units {
		if _, err := p.Unit(u.Key); err != nil {
			return err
		}
	}
	return p.ground.Verify(ctx)
}
