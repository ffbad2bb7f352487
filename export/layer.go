package export

import (
	"io"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// Layer is a table of things on the map, with values reckoned once, so that every format that is written from it holds
// the same ones.
type Layer struct {
	Name    string // plain letters, "zones"
	Title   string // for people
	Columns []Column
	Rows    []LayerRow
}

// LayerRow is one thing on the map.
type LayerRow struct {
	ID     string
	Shape  orb.MultiPolygon // tidy; nil when nothing of it is left at seven decimals
	Values []Value          // in the order of the columns
}

// ZoneLayer returns the zones in the order of every file: the zone table, then what is spread on each, as in the lime
// list.
func ZoneLayer(r *suitability.Result, words Sentences) Layer {
	entries := concat(zoneEntries(), spreadEntries())
	l := Layer{Name: "zones", Title: "Zones by soil, rated for alfalfa", Columns: columns(entries)}
	for _, z := range Zones(r) {
		l.Rows = append(l.Rows, LayerRow{z.ID, Tidy(z.Shape), row(entries, sayable{z, words})})
	}
	return l
}

// FieldLayer returns the fields in the order of the result, also those without an answer.
func FieldLayer(r *suitability.Result) Layer {
	entries := fieldEntries()
	l := Layer{Name: "fields", Title: "Fields as used", Columns: columns(entries)}
	sums := Sums(r)
	for i := range sums {
		l.Rows = append(l.Rows, LayerRow{sums[i].Field.ID, Tidy(sums[i].Field.Shape), row(entries, &sums[i])})
	}
	return l
}

// Bound returns the box of all shapes; ok is false when there is none.
func (l Layer) Bound() (box orb.Bound, ok bool) {
	box = noBox()
	for _, r := range l.Rows {
		widen(&box, r.Shape)
	}
	return box, box.Min[0] <= box.Max[0]
}

// WriteGeoJSON writes the layer as RFC 7946 has it, with the run, its sources and cautions as foreign members.
func (l Layer) WriteGeoJSON(w io.Writer, r *suitability.Result, words Sentences) error {
	box, _ := l.Bound()
	c := startCollection(w, l.Title, box, r, words)
	var properties []byte
	for _, r := range l.Rows {
		properties = appendObject(properties[:0], l.Columns, r.Values)
		c.feature(r.ID, r.Shape, properties, nil)
	}
	return c.close()
}

// WriteCSV writes the layer without its shapes (RFC 4180), text guarded against running as a formula.
func (l Layer) WriteCSV(w io.Writer) error {
	t := newListing(w, l.Columns)
	for _, r := range l.Rows {
		t.row(r.Values)
	}
	return t.Close()
}
