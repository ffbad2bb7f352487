package mapdraw

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Field draws the zones of one field. A field without a shape gives a sheet that says so.
func Field(r *suitability.Result, s *export.Sum, o Options) *Drawing {
	o = o.settled()
	looks, patches := fieldPatches(s, o.Kind)
	m := &sheet{o: o, d: &Drawing{Width: o.Width, Style: o.Style}, looks: looks, patches: patches,
		outlines: []orb.MultiPolygon{s.Field.Shape}, whole: float64(s.Field.Area), label: "Zones"}
	m.title, m.what = FieldName(s.Field), o.Kind.Title()
	if o.Kind == Lime && s.AsSold {
		m.what = "Lime, short tons an acre, pure or as sold"
	}
	m.d.Title = m.title + ": " + m.what
	m.d.Desc = describe(s, m.rows())
	m.foot = footLines(&r.Provenance, areasOf(s.Zones))
	return m.draw()
}

// sheet is a map in the making.
type sheet struct {
	o           Options
	d           *Drawing
	looks       []Look
	patches     []patch
	outlines    []orb.MultiPolygon
	whole       float64 // square metres that shares are of
	label       string  // what labels number: zones or fields
	far         bool    // many fields, each small: thin lines, no dot where a label points
	title, what string
	foot        []string
	y           float64 // where the next part begins
}

func (m *sheet) rows() []Row { return legendRows(m.looks, m.patches, m.whole) }

// draw puts the parts under one another.
func (m *sheet) draw() *Drawing {
	m.d.Notes = m.foot
	t, margin := m.o.Style.Text, 0.0
	// A picture that stands alone has a margin; within a page the page has one.
	if m.o.Parts == Whole {
		margin = t
		m.o.Width -= 2 * margin
	}
	if m.o.Parts&Head != 0 {
		m.lines(m.title, t*1.5, true, ink())
		m.lines(m.what, t*1.1, false, ink())
		m.y += t * 0.5
	}
	m.plot()
	if m.o.Parts&Legend != 0 {
		m.legend()
	}
	if m.o.Parts&Foot != 0 {
		m.y += t * 0.3
		for _, l := range m.foot {
			m.lines(l, t, false, grey())
		}
	}
	m.d.Height = m.y + 2*margin
	for i, x := range m.d.Items {
		m.d.Items[i] = moved(x, margin, margin)
	}
	// The sheet itself is painted first; how high it is is known only now.
	m.d.Items = append([]Item{Area{Rings: [][]Point{rectangle(0, 0, m.d.Width, m.d.Height)}, Fill: white()}}, m.d.Items...)
	return m.d
}

// lines writes wrapped text and moves on.
func (m *sheet) lines(s string, size float64, bold bool, c Color) {
	for _, l := range Wrap(s, m.o.Width, size, bold) {
		m.y += size * 1.3
		m.d.add(Text{At: Point{0, m.y - size*0.3}, Text: l, Size: size, Bold: bold, Color: c})
	}
}

// legend writes a line for each kind of ground: patch, letter, word, area, share.
func (m *sheet) legend() {
	t := m.o.Style.Text
	rows := m.rows()
	texts, widest := make([]string, len(rows)), 0.0
	for i, r := range rows {
		texts[i] = legendText(r)
		widest = max(widest, TextWidth(texts[i], t, false)+t*4.5)
	}
	columns := 1
	if widest < m.o.Width/2 {
		columns = 2
	}
	m.y += t * 0.2
	high := t * 1.75
	for i, r := range rows {
		x := float64(i%columns) * m.o.Width / float64(columns)
		y := m.y + float64(i/columns)*high
		m.d.box(x+1, y+t*0.15, t*2.6, t*1.4, r.Fill, r.Pattern, m.o.Style.Core)
		m.d.add(Text{At: Point{x + t*3.2, y + t*1.2}, Text: texts[i], Size: t, Color: ink()})
	}
	m.y += float64((len(rows)+columns-1)/columns) * high
}

// legendText is what stands beside a patch: letter, word, area, share.
func legendText(r Row) string {
	word := r.Word
	if r.Letter != "" {
		word = r.Letter + " · " + word
	}
	return fmt.Sprintf("%s: %s, %s", word, words.AcresAndHectares(unit.Area(r.Area)), Percent(r.Share))
}

// Percent prints a share; what is there never reads as nothing, and what is not all never reads as all.
func Percent(share float64) string {
	p := 100 * share
	switch {
	case p > 0 && p < 0.5:
		return "under 1 %"
	case p < 99.99 && p > 99.5: // what lacks less was lost in rounding
		return "over 99 %"
	}
	return words.Decimal(p, 0) + " %"
}

// FieldName is the name of a field, or its id; an id that is a number alone would not read as a field.
func FieldName(f *suitability.Field) string {
	switch {
	case f.Name != "" && f.Name != f.ID:
		return words.Shown(f.Name, mostName)
	case strings.Trim(f.ID, "0123456789") == "":
		return "Field " + words.Shown(f.ID, mostName)
	}
	return words.Shown(f.ID, mostName)
}

// How many letters of a name stand in a title, and of an id on a map.
const mostName, mostID = 60, 24

func zoneNumber(z *suitability.Zone) string { return strconv.Itoa(z.Number) }

// zoneTitle is what a page shows on pointing at a zone.
func zoneTitle(z *suitability.Zone, l Look, value string) string {
	s := fmt.Sprintf("Zone %d: %s", z.Number, l.Word)
	if l.Letter == "" {
		s = fmt.Sprintf("Zone %d: %s", z.Number, value)
	}
	return s + ", " + words.AcresAndHectares(z.Area)
}

// Swatch draws a patch of a legend alone.
func Swatch(l Look, s Style, w, h float64) *Drawing {
	d := &Drawing{Width: w, Height: h, Style: s, Title: l.Word, Desc: l.Word}
	d.box(1, 1, w-2, h-2, l.Fill, l.Pattern, s.Core)
	return d
}
