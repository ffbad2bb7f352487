package exchange

import (
	"context"
	"image/color"
	"io"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/kml"
	"rootworthy/suitability"
)

// seeThrough is how much of the picture below a fill covers: 80 %, so that roads and trees still show.
const seeThrough = 0xcc

// writeKML writes a folder for each field with a placemark for each zone.
func (s *Set) writeKML(_ context.Context, w io.Writer) error { return kml.Write(w, s.document()) }

// writeKMZ writes the same into a zip, under the fixed time stamp of that codec.
func (s *Set) writeKMZ(_ context.Context, w io.Writer) error { return kml.WriteZip(w, s.document()) }

// document lays the zones out by field: on a globe people open and shut fields, not classes.
func (s *Set) document() kml.Document {
	d := kml.Document{Name: s.zones.Title, About: strings.Join(s.about(), "\n\n"), Styles: styles()}
	p := newPlacemarks(s.zones.Columns)
	columns := make([]feature.Column, len(s.zones.Columns))
	for i, c := range s.zones.Columns {
		columns[i].Name = c.Name // no titles: they would stand in every placemark
	}
	for _, rows := range p.byField(s.zones.Rows) {
		d.Layers = append(d.Layers, kml.Layer{Name: p.fieldName(rows[0]), Columns: columns, Rows: textRows(rows),
			Label: p.label, Style: p.style, About: p.about})
	}
	return d
}

// textRows yields all values as text, as they stand in the file anyway, and missing ones as empty: a program that takes
// a folder for a table then finds every column in each.
func textRows(rows []export.LayerRow) feature.Rows {
	return func(yield func(orb.MultiPolygon, []any) bool) {
		for _, r := range rows {
			values := make([]any, len(r.Values))
			for i, v := range r.Values {
				values[i] = v.Text()
				// Plain decimals: a program for looking at maps shows an exponent as it stands.
				if x, ok := v.Float(); ok {
					values[i] = strconv.FormatFloat(x, 'f', -1, 64)
				}
			}
			if !yield(r.Shape, values) {
				return
			}
		}
	}
}

// styles are the colours of the maps; a globe has no patterns, so the class stands in the name too.
func styles() []kml.Style {
	var out []kml.Style
	for _, c := range suitability.Classes() {
		fill := mapdraw.ClassLook(c).Fill
		out = append(out, kml.Style{ID: styleID(c.String()), Fill: color.NRGBA{fill.R, fill.G, fill.B, seeThrough},
			Line: color.NRGBA{0x1a, 0x1a, 0x1a, 0xff}, Width: 1.5})
	}
	return out
}

// styleID is the class as a name that XML may have, without a blank.
func styleID(class string) string { return strings.ReplaceAll(class, " ", "-") }

// placemarks words the zones of a table. Its numbers are places of columns.
type placemarks struct {
	field, name, zone, class, today, reason, acres, low, likely, high, bound, basis int
}

// newPlacemarks finds the columns that the words need, once for all rows.
func newPlacemarks(columns []export.Column) placemarks {
	at := func(name string) int { return columnIndex(columns, name) }
	return placemarks{at("field_id"), at("field_name"), at("zone"), at("class"), at("class_today"), at("reason"), at("area_ac"),
		at("lime_low_st_ac"), at("lime_st_ac"), at("lime_high_st_ac"), at("lime_bound"), at("lime_basis")}
}

// byField cuts the rows where the field changes.
// Rows of a field stand together in the table.
func (p placemarks) byField(rows []export.LayerRow) [][]export.LayerRow {
	var out [][]export.LayerRow
	start := 0
	for i := range rows {
		if i > 0 && rows[i].Values[p.field] != rows[start].Values[p.field] {
			out = append(out, rows[start:i])
			start = i
		}
	}
	if len(rows) > 0 {
		out = append(out, rows[start:])
	}
	return out
}

// fieldName is the id with the name behind it, so that folders sort by id.
func (p placemarks) fieldName(r export.LayerRow) string {
	return strings.TrimSpace(r.Values[p.field].Text() + " " + r.Values[p.name].Text())
}

// label names a zone: "Z2 Marginal, 1.5 short tons/ac", with "budget" behind a figure of the survey.
func (p placemarks) label(values []any) string {
	class := word(values[p.class])
	name := "Z" + word(values[p.zone]) + " " + strings.ToUpper(class[:min(1, len(class))]) + class[min(1, len(class)):]
	lime, ok := figure(values[p.likely])
	switch {
	case !ok:
		return name
	case lime == 0:
		return name + ", no lime"
	}
	if b := word(values[p.bound]); b != "" {
		name += ", " + b
	} else {
		name += ","
	}
	name += " " + tons(lime) + " short tons/ac"
	// On a map a figure stands without its column beside it; so the word that it is no rate goes with it.
	if !isTested(word(values[p.basis])) {
		name += " (budget)"
	}
	return name
}

// style names the colours of a placemark by its class.
func (p placemarks) style(values []any) string { return styleID(word(values[p.class])) }

// about is the text of the balloon: plain, one line a fact.
func (p placemarks) about(values []any) string {
	var lines []string
	if r := word(values[p.reason]); r != "" {
		lines = append(lines, r)
	}
	class := "Class: " + word(values[p.class])
	if today := word(values[p.today]); today != word(values[p.class]) {
		class += " once corrected; today " + today
	}
	lines = append(lines, class+".")
	if a, ok := figure(values[p.acres]); ok {
		lines = append(lines, "Area: "+strconv.FormatFloat(a, 'f', 1, 64)+" acres.")
	}
	if text := p.lime(values); text != "" {
		lines = append(lines, text)
	}
	return strings.Join(lines, "\n")
}

// lime words the figure with its range and its worth.
func (p placemarks) lime(values []any) string {
	likely, ok := figure(values[p.likely])
	if !ok || likely == 0 {
		return ""
	}
	text := "Lime: " + strings.TrimSpace(word(values[p.bound])+" "+tons(likely)) + " short tons per acre"
	low, hasLow := figure(values[p.low])
	if high, has := figure(values[p.high]); has && hasLow {
		text += ", from " + tons(low) + " to " + tons(high)
	}
	if basis := word(values[p.basis]); isTested(basis) {
		return text + ", by " + basis + "."
	}
	return text + ". From the soil survey alone: a budget, not a rate to spread. A soil test sets the rate."
}

// word reads a value that [textRows] made text.
func word(v any) string {
	s, _ := v.(string)
	return s
}

// figure reads a number back; ok is false for a missing one.
func figure(v any) (x float64, ok bool) {
	x, err := strconv.ParseFloat(word(v), 64)
	return x, err == nil
}

// tons prints tenths, or two decimals where a tenth would read as nothing.
func tons(x float64) string {
	if x < 0.1 {
		return strconv.FormatFloat(x, 'f', 2, 64)
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}
