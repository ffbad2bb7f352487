package geotiff

import (
	"cmp"
	"fmt"
	"io"
	"slices"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
)

// File is a GeoTIFF whose structure was read. Cells are read by [Read]. Several may use it at once.
type File struct {
	name   string
	levels []*page // the raster itself, then overviews from large to small
	masks  []*page
	bands  []Band
	frame  raster.Frame
	place  error // why frame says nothing
	crs    proj.CRS
	crsErr error
	height float64 // metres of a unit of height; 0 when the file does not say
	faults *diag.List
}

// Open reads the structure of a file of a given size: its directories, but no cells. The first picture is the raster;
// overviews and a mask of it are used, further pictures are told of. The error means that there is no raster to read
// and names the tag and the byte. Where the cells lie, and in which system, are questions of their own: see [File.Frame]
// and [File.CRS].
func Open(name string, r io.ReaderAt, size int64, faults *diag.List) (*File, error) {
	s := &source{name: name, r: r, size: size}
	at, err := s.open()
	if err != nil {
		return nil, err
	}
	f := &File{name: name, faults: faults}
	if err := f.readPages(s, at); err != nil {
		return nil, err
	}
	// overviews inherit place and system; what their own directories say of them is not looked at
	main := f.levels[0]
	keys, err := main.geoKeys()
	if err != nil {
		f.crsErr = err
	} else if f.crs, err = keys.crs(); err != nil {
		f.crsErr = fmt.Errorf("%s: %w", name, err)
	}
	// A unit of height that is neither metre nor foot leaves height at 0, which is "does not say".
	if unit, ok := keys.number(keyVerticalUnit); ok {
		f.height, _ = lengthUnit(unit)
	}
	// Errors of place and system are kept and not returned: cells can be read without either.
	// keys may be empty after an error; cells then have a place and no system.
	f.frame, f.place = main.place(keys)
	if f.crsErr == nil {
		f.frame.CRS = f.crs
	}
	return f, f.readBands(main)
}

// readPages follows the chain of directories and sorts the pictures by what they are for.
func (f *File) readPages(s *source, at int64) error {
	queue, seen, further := []int64{at}, []int64{}, 0
	for len(queue) > 0 {
		at, queue = queue[0], queue[1:]
		// 0 ends the chain; a directory met before would make it a ring
		if at == 0 || slices.Contains(seen, at) {
			continue
		}
		if len(seen) == maxDirectories {
			f.notice(at, "directories", fmt.Sprintf("over %d pictures; the rest was not looked at", maxDirectories), "keep the raster in a file of its own")
			break
		}
		seen = append(seen, at)
		d, next, err := s.directory(at)
		// Damage before the raster itself is fatal; behind it only overviews are lost.
		if err != nil && len(f.levels) == 0 {
			return err
		}
		if err != nil {
			f.notice(at, "directories", err.Error(), "overviews from here on are not used")
			break
		}
		queue = append(queue, next)
		p, err := d.page()
		switch {
		case err != nil && len(f.levels) == 0:
			return err
		case err != nil:
			f.notice(at, "directories", err.Error(), "this picture is not used")
		case len(f.levels) == 0:
			f.levels = append(f.levels, p)
			sub, _ := d.all(tagSubIFDs) // overviews may hang here instead of in the chain
			for _, o := range sub[:min(len(sub), 32)] {
				queue = append(queue, int64(min(o, 1<<62)))
			}
		// a mask is a picture of its own, 0 where there is no value
		case p.masking && p.samples == 1:
			f.masks = append(f.masks, p)
		// both: some writers mark thumbnails of another kind as reduced
		case p.reduced && f.levels[0].overview(p):
			f.levels = append(f.levels, p)
		default:
			further++
		}
	}
	if len(f.levels) == 0 {
		return fmt.Errorf("%s: byte 4: no picture in the file; %s", s.name, damaged)
	}
	if further > 0 {
		f.notice(0, "pictures", fmt.Sprintf("%d further pictures in the file are not used", further), "keep each raster in a file of its own")
	}
	slices.SortStableFunc(f.levels[1:], func(a, b *page) int { return cmp.Compare(b.cols, a.cols) })
	return nil
}

// overview tells whether a picture is the same raster with fewer cells.
func (p *page) overview(o *page) bool {
	return o.cols <= p.cols && o.rows <= p.rows && o.samples == p.samples && o.sample == p.sample
}

// notice tells of what is left out of the file without harm to the raster.
func (f *File) notice(at int64, kind, what, fix string) {
	f.faults.Notice(diag.Fault{File: f.name, Offset: at, Kind: kind, What: what, Fix: fix})
}

// readBands reads what is said of each band.
func (f *File) readBands(p *page) error {
	none, err := p.text(tagNodata)
	if err != nil {
		return err
	}
	f.bands = make([]Band, p.samples)
	for i := range f.bands {
		// One no-data value for all bands: the tag has room for no more.
		f.bands[i] = Band{Type: p.sample, Scale: 1, Nodata: none}
	}
	// Refused rather than passed over: read as values, missing cells of -9999 would be the deepest holes of the country.
	if _, ok := parseNodata(none, p.sample); !ok {
		e, _ := p.find(tagNodata)
		return p.fault(tagNodata, e.at, "%.40q is not a number, so missing cells cannot be told; write the file again with its no-data value", none)
	}
	text, err := p.text(tagMetadata)
	if err != nil {
		return err
	}
	if describe(f.bands, text) {
		e, _ := p.find(tagMetadata)
		return p.fault(tagMetadata, e.at, "scale and offset of the bands cannot be read from this text; write the file again")
	}
	return nil
}

// Bands returns what the file says of its bands.
func (f *File) Bands() []Band { return slices.Clone(f.bands) }

// Frame returns where the cells lie. Its CRS is the zero value where [File.CRS] has an error. The error means that the
// file does not say where the cells lie, or that they do not stand square to the axes.
func (f *File) Frame() (raster.Frame, error) { return f.frame, f.place }

// CRS returns the coordinate system. The error says what the file names instead of one that can be used, and what to do;
// cells can be read all the same.
func (f *File) CRS() (proj.CRS, error) { return f.crs, f.crsErr }

// HeightUnit returns the metres in one unit of height, from the vertical system; ok is false when the file names none,
// as is usual.
func (f *File) HeightUnit() (metres float64, ok bool) { return f.height, f.height > 0 }

// Levels returns the frames of the raster (0) and of its overviews from large to small. Overviews cover the same ground;
// where cells do not divide evenly, the last ones reach a little beyond.
func (f *File) Levels() []raster.Frame {
	out := make([]raster.Frame, len(f.levels))
	for i, p := range f.levels {
		out[i] = f.frame
		out[i].Cols, out[i].Rows = p.cols, p.rows
		// from the ground and not by doubling: an odd column makes the last cell of an overview narrower than it is
		// drawn
		out[i].DX *= float64(f.frame.Cols) / float64(p.cols)
		out[i].DY *= float64(f.frame.Rows) / float64(p.rows)
	}
	return out
}
