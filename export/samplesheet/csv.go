package samplesheet

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/export"
	"rootworthy/suitability/sampling"
)

// writeBags writes the list of bags (RFC 4180), with the headers that a file of tests is read by: the laboratory's columns
// are put behind, or the file is filled in by hand.
func writeBags(w io.Writer, p *sampling.Plan) error {
	rows := [][]string{{"sample_id", "field_id", "zone_id", "lon", "lat", "depth", "cores", "date", "lab", "ph_water"}}
	for _, b := range p.Bags {
		// Depth in centimetres, with its unit: so the reader of tests takes it without asking what the laboratory's custom is. The place is the
		// middle of the cores, which stands in for all of them.
		rows = append(rows, []string{b.ID, b.Zone.FieldID, b.Zone.ID, degrees(b.Middle[0]), degrees(b.Middle[1]),
			// Date, laboratory and pH are for whoever digs and analyses.
			fmt.Sprintf("%g-%g cm", float64(b.From), float64(b.To)), strconv.Itoa(b.Cores), "", "", ""})
	}
	return writeRows(w, rows)
}

// writeStops writes a row for each core in the order of walking, for those who carry the plan into a program of their own.
func writeStops(w io.Writer, p *sampling.Plan) error {
	rows := [][]string{{"field_id", "stop", "lon", "lat", "zone_id", "bags", "deepest_in"}}
	for i := range p.Fields {
		f := &p.Fields[i]
		for _, s := range f.Stops {
			var bags []string
			// All bags that are filled at a stop are of one zone, so the last one's is that of all.
			zone, deep := "", 0.0
			for _, b := range s.Bags {
				bag := &p.Bags[b]
				bags, zone, deep = append(bags, bag.ID), bag.Zone.ID, max(deep, bag.To.Inches())
			}
			rows = append(rows, []string{f.Field.ID, strconv.Itoa(s.Number), degrees(s.At[0]), degrees(s.At[1]), zone, strings.Join(bags, " + "), fmt.Sprintf("%.0f", deep)})
		}
	}
	return writeRows(w, rows)
}

// writeRows writes a table, its headings in the first row.
func writeRows(w io.Writer, rows [][]string) error {
	t := export.NewTable(w, rows[0]...)
	for _, r := range rows[1:] {
		t.Row(r...)
	}
	return t.Close()
}
