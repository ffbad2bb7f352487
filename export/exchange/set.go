package exchange

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/export/marker"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// MarkFile stands beside the files and says what they are; it is written last.
const MarkFile = "convert.json"

// Options tunes a Set; the zero value writes all formats.
type Options struct {
	Formats  []string             // of FormatNames; none means all
	Cell     unit.Length          // side of a raster's cells; 0 means 10 m, or more where that would be too many cells
	ByteMark bool                 // begin the CSV with a byte order mark, by which some spreadsheets know UTF-8
	Version  string               // of this program
	Places   map[string]orb.Point // longitude and latitude of soil samples by their id; those of others are not known
}

// Set is a result made ready to be written in some formats. It is only read from then on, so several files may be
// written at once.
type Set struct {
	Notes []string // what the formats could not hold as it is, for people

	result  *suitability.Result
	words   export.Sentences
	options Options
	formats []Format

	zones, fields export.Layer
	samples       sampleLayer
	cells         *cells // nil without a raster
	when          time.Time
}

// New makes a result ready. The error names an unknown format, cells that are too small, or says that there is no zone.
func New(ctx context.Context, r *suitability.Result, words export.Sentences, o Options) (*Set, error) {
	formats, err := chosen(o.Formats)
	if err != nil {
		return nil, err
	}
	if len(r.Zones) == 0 {
		return nil, errors.New("the run has no zones, so there is nothing to convert")
	}
	s := &Set{result: r, words: words, options: o, formats: formats, when: dayOf(r.Provenance.Date)}
	s.zones, s.fields = export.ZoneLayer(r, words), export.FieldLayer(r)
	s.samples = samplesOf(r, o.Places)
	if text := s.samples.note(); text != "" {
		s.Notes = append(s.Notes, text)
	}
	// Rounded to seven decimals a sliver can fall to nothing. It keeps its row and its area.
	if n := len(s.zones.Rows) - len(s.shaped()); n > 0 {
		s.Notes = append(s.Notes, fmt.Sprintf("zones so small that no shape is left of them: %d; flatgeobuf leaves them out, the other formats keep their values", n))
	}
	// Cells are drawn once, here, and not in each of the rasters, which are written side by side.
	if slices.ContainsFunc(s.files(), func(f file) bool { return f.raster }) {
		if err := s.drawCells(ctx); err != nil {
			return nil, err
		}
	}
	return s, s.noteCuts()
}

// dayOf is the one time that files carry.
func dayOf(date string) time.Time {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil || t.Year() < 1980 || t.Year() > 2107 { // what the time stamp of a zip can hold
		return time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return t
}

// files are those of all formats, in their order.
func (s *Set) files() []file {
	var out []file
	for _, f := range s.formats {
		out = append(out, f.files...)
	}
	return out
}

// Files lists what is written, the mark last.
func (s *Set) Files() []string {
	var out []string
	for _, f := range s.files() {
		out = append(out, f.name)
	}
	return append(out, MarkFile)
}

// WriteFile writes one of Files. Nothing of it is of use after an error.
func (s *Set) WriteFile(ctx context.Context, name string, w io.Writer) error {
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	if name == MarkFile {
		return s.writeMark(w)
	}
	for _, f := range s.files() {
		if f.name == name {
			return f.write(s, ctx, w)
		}
	}
	return fmt.Errorf("%s is no file of these formats", name)
}

// mark is what MarkFile holds.
type mark struct {
	marker.Head
	Files []string `json:"files"`
	About []string `json:"about"`
}

// kind is what [Ours] knows the folder by.
func kind() marker.Kind { return marker.Kind{Word: "convert", What: "converted files"} }

// writeMark writes the list of files and what everybody must be told of them, for a folder that is passed on as it is.
// It does not name itself among the files.
func (s *Set) writeMark(w io.Writer) error {
	files := s.Files()
	return marker.Write(w, mark{kind().Head(s.result.Provenance.Program, s.result.Provenance.Date), files[:len(files)-1], s.about()})
}

// Ours says whether a mark is one of ours.
func Ours(r io.Reader) error { return kind().Ours(r) }

// MayBeOurs says whether an earlier call may have written a file of this name.
// Files of a format that is not asked for this time are then taken away, so that no old figure stands beside new ones.
func MayBeOurs(name string) bool {
	for _, f := range Formats() {
		if slices.ContainsFunc(f.files, func(f file) bool { return f.name == name }) {
			return true
		}
	}
	return false
}

// Zones returns how many zones there are.
func (s *Set) Zones() int { return len(s.zones.Rows) }

// Totals returns area and lime of the whole table, as every format holds them.
func (s *Set) Totals() (area unit.Area, lime unit.Mass) {
	for i := range s.result.Zones {
		z := &s.result.Zones[i]
		area += z.Area
		lime += z.Lime.Likely.Or(0).Over(z.Area)
	}
	return area, lime
}

// Untested returns how many zones have a lime figure above zero that rests on the survey alone, and how many have any above zero.
func (s *Set) Untested() (untested, all int) {
	for i := range s.result.Zones {
		if l := &s.result.Zones[i].Lime; l.Likely.Or(0) > 0 {
			all++
			if !isTested(l.Basis) {
				untested++
			}
		}
	}
	return untested, all
}

// isTested tells a figure by laboratory tests, whose basis begins so.
func isTested(basis string) bool { return strings.HasPrefix(basis, "test") }
