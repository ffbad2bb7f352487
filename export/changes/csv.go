package changes

import (
	"io"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// columns of the table; those of a zone come twice, with _before and _after behind their names, which are those of the zone files.
func columns() (ground, zone []string) {
	return []string{"field_id_before", "field_id_after", "acres", "hectares", "small_acres", "change"},
		[]string{"zone_id", "mukey", "musym", "class", "class_today", "limiting", "limiting_today", "ph_surface", "ph_subsoil", "lime_st_ac", "lime_basis"}
}

// WriteCSV writes a row for all ground that is one zone in the first run and one in the second, also where nothing changed, in the order of
// the fields: so each zone stands there with every zone of the other run that it lies on, and how much. small_acres is how much of acres lies in parts
// that are not told as changed. Acres of a zone add up to those of the zone as its run holds it, to what rounding leaves: ground that would
// print as no acres at all is left out.
func WriteCSV(w io.Writer, c *change.Comparison) error {
	ground, zone := columns()
	heads := ground
	for _, end := range []string{"_before", "_after"} {
		for _, n := range zone {
			heads = append(heads, n+end)
		}
	}
	t := export.NewTable(w, heads...)
	for i := range c.Fields {
		f := &c.Fields[i]
		for _, p := range f.Pairs {
			// Four decimals are 0.4 m²; what is less comes of corners rounded to a centimetre, and there is a strip of it along every line.
			acres := export.Digits(p.Area.Acres(), 4)
			if acres == "0" {
				continue
			}
			a, b := p.A.Zone(c.A), p.B.Zone(c.B)
			row := []string{fieldOf(c.A, f.A, p.A, a), fieldOf(c.B, f.B, p.B, b), acres, export.Digits(p.Area.Hectares(), 5), export.Digits(p.Small.Acres(), 4), Word(c, p)}
			t.Row(append(append(row, cells(p.A, a)...), cells(p.B, b)...)...)
		}
	}
	return t.Close()
}

// fieldOf is the id of the field that ground of a run lies in; of several, where it lies outside the survey, all.
func fieldOf(r *suitability.Result, fields []int, g change.Ground, z *suitability.Zone) string {
	switch {
	case z != nil:
		return z.FieldID
	case g == change.Nowhere:
		return ""
	}
	return IDs(r, fields)
}

// IDs lists the ids of fields, with plus signs.
func IDs(r *suitability.Result, fields []int) string {
	var ids []string
	for _, i := range fields {
		ids = append(ids, r.Fields[i].ID)
	}
	return strings.Join(ids, " + ")
}

// Word says in short in what a pair differs: "none", "class", "limiting", "ph", "lime", several with plus signs; of ground that one of the runs
// has alone "only before", "only after"; "survey" where one of the surveys does not cover it; "small" where it differs, but all of it lies in parts
// that are not told as changed.
func Word(c *change.Comparison, p change.Pair) string {
	a, b := p.A.Zone(c.A), p.B.Zone(c.B)
	switch {
	// First, so that a sum over a word counts what a reader is told, and no slivers.
	case p.Area <= p.Small && c.Differs(p):
		return "small"
	case p.B == change.Nowhere:
		return "only before"
	case p.A == change.Nowhere:
		return "only after"
	case a == nil && b == nil:
		return "none"
	case a == nil || b == nil:
		return "survey"
	}
	d := change.DifferenceOf(a, b)
	var out []string
	for _, x := range []struct {
		is   bool
		word string
	}{{d.Class, "class"}, {d.Limiting, "limiting"}, {d.Surface || d.Subsoil, "ph"}, {d.Lime, "lime"}} {
		if x.is {
			out = append(out, x.word)
		}
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, "+")
}

// cells of a zone; ground that is none says so in the place of a class.
func cells(g change.Ground, z *suitability.Zone) []string {
	_, zone := columns()
	out := make([]string, len(zone)) // blank: a blank cell is not known, and never zero
	switch {
	case z != nil:
		r := &z.Rating
		out = []string{z.ID, z.MapUnitKey, z.Symbol, r.Class.String(), r.ClassToday.String(), string(r.Limiting), string(r.LimitingToday),
			number(r.Values.PHSurface), number(r.Values.PHSubsoil), "", z.Lime.Basis}
		if x, ok := z.Lime.Likely.Get(); ok {
			out[9] = export.Digits(x.ShortTonsPerAcre(), 4)
		}
	case g == change.Outside:
		out[3] = "outside the survey"
	}
	return out
}

func number(x unit.Opt[unit.PH]) string {
	if v, ok := x.Get(); ok {
		return export.Digits(float64(v), 2)
	}
	return ""
}
