package mapdraw

import (
	"github.com/paulmach/orb"

	"rootworthy/export"
)

// Parts are what stands around the map itself.
type Parts uint8

// The parts, to be added up.
const (
	Head   Parts = 1 << iota // title and what is shown
	Legend                   // patches with area and share
	Foot                     // source and date of the data, date of the run, program, caution
	Whole  = Head | Legend | Foot
)

// Options say how to draw; the zero value is a bare map of classes for a screen.
type Options struct {
	Kind   Kind
	Style  Style   // zero means Screen()
	Width  float64 // units; 0 means 700
	Height float64 // of the map itself; 0 means what suits the field, between a half and the whole of the width
	Parts  Parts
	Bare   bool  // a small map: no ticks, no scale bar, labels only where they have room
	Shade  Shade // what to paint under the zones; nil means nothing
}

// Shade paints ground under the zones, such as a shaded relief: how light the ground is at a place, 0…1. Where it is not known,
// ok is false.
type Shade func(at orb.Point) (light float64, ok bool)

// defaultWidth is the width of a map where nobody says.
const defaultWidth = 700

// settled puts in what the zero values stand for.
func (o Options) settled() Options {
	if o.Style.zero() {
		o.Style = Screen()
	}
	if o.Width <= 0 {
		o.Width = defaultWidth
	}
	return o
}

// Row is one line of a legend.
type Row struct {
	Look
	Area  float64 // square metres
	Share float64 // of the whole, 0…1
}

// patch is one thing on a map: a zone, or a whole field.
// area is in square metres, as the run has it, not as drawn.
type patch struct {
	shape     orb.MultiPolygon
	row       int    // of the scheme; -1 outside the survey
	id, title string // for a page
	label     string // "" for none
	area      float64
}

// Rows returns the legend of the map that [Field] draws: rows that stand for nothing are left out.
func Rows(s *export.Sum, k Kind) []Row {
	rows, patches := fieldPatches(s, k)
	return legendRows(rows, patches, float64(s.Field.Area))
}

// legendRows adds up patches by row.
func legendRows(looks []Look, patches []patch, whole float64) []Row {
	areas := make([]float64, len(looks)+1)
	for _, p := range patches {
		i := p.row
		// Ground outside the survey has the last row, behind those of the scheme.
		if i < 0 {
			i = len(looks)
		}
		areas[i] += p.area
	}
	var out []Row
	for i, a := range areas {
		// What is not on the map is not in its legend.
		if a <= 0 {
			continue
		}
		r := Row{Look: OutsideLook(), Area: a}
		if i < len(looks) {
			r.Look = looks[i]
		}
		if whole > 0 {
			r.Share = min(a/whole, 1)
		}
		out = append(out, r)
	}
	return out
}

// fieldPatches returns what a map of one field shows.
func fieldPatches(s *export.Sum, k Kind) ([]Look, []patch) {
	scheme := schemeFor(k, s.Zones)
	var out []patch
	for _, z := range s.Zones {
		row, value := scheme.of(z)
		p := patch{shape: z.Shape, row: row, id: "zone" + zoneNumber(z), area: float64(z.Area), title: zoneTitle(z, scheme.rows[row], value)}
		p.label = zoneNumber(z) + " " + value
		// A class is a letter, "2 S"; beside a number a figure needs the colon, or "2 1.5" would be read as one.
		if k != Class && k != Today {
			p.label = zoneNumber(z) + ": " + value
		}
		out = append(out, p)
	}
	if len(s.Field.Outside) > 0 {
		out = append(out, patch{shape: s.Field.Outside, row: -1, id: "outside", area: float64(s.Field.Uncovered), title: OutsideLook().Word})
	}
	return scheme.rows, out
}
