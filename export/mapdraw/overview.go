package mapdraw

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Overview draws the fields of a run: each by the class of its largest part, or by the mean of what the kind shows.
func Overview(r *suitability.Result, sums []export.Sum, o Options) *Drawing {
	o = o.settled()
	m := &sheet{o: o, d: &Drawing{Width: o.Width, Style: o.Style}, label: "Fields", far: true}
	m.looks, m.patches = overviewPatches(sums, o.Kind)
	var all []*suitability.Zone
	for i := range sums {
		m.outlines = append(m.outlines, sums[i].Field.Shape)
		m.whole += float64(sums[i].Field.Area)
		all = append(all, sums[i].Zones...)
	}
	m.title, m.what = "All fields", overviewTitle(o.Kind)
	m.d.Title = m.title + ": " + m.what
	m.d.Desc = fmt.Sprintf("Map of %s: %s.", words.Count(len(sums), "field", "fields"), listRows(m.rows()))
	m.foot = footLines(&r.Provenance, areasOf(all))
	return m.draw()
}

// overviewTitle says what an overview of a kind shows.
func overviewTitle(k Kind) string {
	switch k {
	case Class:
		return "Each field by what most of it can carry once limed"
	case Today:
		return "Each field by what most of it can carry as it is today"
	case Lime:
		return "Each field by its mean lime, short tons an acre"
	}
	return "Each field by its mean " + k.Title()
}

// OverviewRows returns the legend of the map that [Overview] draws.
func OverviewRows(sums []export.Sum, k Kind) []Row {
	whole := 0.0
	for i := range sums {
		whole += float64(sums[i].Field.Area)
	}
	looks, patches := overviewPatches(sums, k)
	return legendRows(looks, patches, whole)
}

// overviewPatches returns what a map of many fields shows.
func overviewPatches(sums []export.Sum, k Kind) ([]Look, []patch) {
	means := make([]*suitability.Zone, len(sums))
	for i := range sums {
		means[i] = meanZone(&sums[i])
	}
	scheme := schemeFor(k, means)
	// A whole field counts for its largest part: "Suited: 182 acres" beside a page that says 199 would read as a slip.
	if k == Class || k == Today {
		for i := range scheme.rows {
			scheme.rows[i].Word = "Mostly " + strings.ToLower(scheme.rows[i].Word)
		}
	}
	var out []patch
	for i := range sums {
		s := &sums[i]
		p := patch{shape: s.Field.Shape, row: -1, title: FieldName(s.Field), label: words.Shown(s.Field.ID, mostID), area: float64(s.Field.Area)}
		if s.Field.Trouble == "" && len(s.Zones) > 0 {
			row, value := scheme.of(means[i])
			p.row = row
			p.label += " " + value
			if k == Class || k == Today {
				value = scheme.rows[row].Word
			}
			p.title += ": " + value
		} else {
			p.label += " " + OutsideLook().Letter
		}
		out = append(out, p)
	}
	return scheme.rows, out
}

// meanZone is a field as if it were one zone: the class of its largest part, lime and pH as means by area over the zones
// that have a value. Each is missing where no zone has one.
// A zone so made is only good to choose a look by; the run never holds it.
func meanZone(s *export.Sum) *suitability.Zone {
	z := &suitability.Zone{}
	z.Rating.Class, z.Rating.ClassToday = s.Class(), largestOf(s.ByToday, s.Field.Uncovered)
	mean := func(of func(*suitability.Zone) (float64, bool)) unit.Opt[float64] {
		sum, area := 0.0, 0.0
		for _, x := range s.Zones {
			if v, ok := of(x); ok {
				sum, area = sum+v*float64(x.Area), area+float64(x.Area)
			}
		}
		if area == 0 {
			return unit.None[float64]()
		}
		return unit.Some(sum / area)
	}
	if v, ok := mean(func(x *suitability.Zone) (float64, bool) { v, ok := x.Lime.Likely.Get(); return float64(v), ok }).Get(); ok {
		z.Lime.Likely = unit.Some(unit.AreaRate(v))
	}
	if v, ok := mean(func(x *suitability.Zone) (float64, bool) {
		v, ok := x.Rating.Values.PHSurface.Get()
		return float64(v), ok
	}).Get(); ok {
		z.Rating.Values.PHSurface = unit.Some(unit.PH(v))
	}
	if v, ok := mean(func(x *suitability.Zone) (float64, bool) {
		v, ok := x.Rating.Values.PHSubsoil.Get()
		return float64(v), ok
	}).Get(); ok {
		z.Rating.Values.PHSubsoil = unit.Some(unit.PH(v))
	}
	return z
}

// largestOf returns the class of most area, ground outside the survey counted as not rated; of equals the worse.
func largestOf(by export.Areas, uncovered unit.Area) suitability.Class {
	f := suitability.Field{Uncovered: uncovered}
	return export.Sum{Field: &f, ByClass: by}.Class()
}
