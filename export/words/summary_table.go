package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Columns of the table of fields after the name: the area, the four classes, the lime.
const (
	areaWidth  = 8
	classWidth = 9
	limeWidth  = 11
	besideName = 3*areaWidth + 2*classWidth + limeWidth
)

// fields prints a table, a line a field: all in the order of the input where they are few, else the best by rank.
func (s *summary) fields() {
	if len(s.sums) == 0 {
		return
	}
	rows := make([]*export.Sum, len(s.sums))
	for i := range s.sums {
		rows[i] = &s.sums[i]
	}
	if len(rows) > mostFields {
		slices.SortStableFunc(rows, func(a, b *export.Sum) int { return cmp.Compare(rankKey(a), rankKey(b)) })
		s.heading(fmt.Sprintf("The best %d of %s fields, acres", mostFields, number(len(rows))))
	} else {
		s.heading("Fields, acres")
	}
	name := s.width - besideName
	s.line(left("Field", name) + right("Area", areaWidth) + right("Suited", areaWidth) + right("Marginal", classWidth) + right("Unsuited", classWidth) + right("Unknown", areaWidth) + right("Lime, tons", limeWidth))
	for _, f := range rows[:min(len(rows), mostFields)] {
		s.fieldRow(f, name)
	}
	if len(rows) > mostFields {
		s.line(fmt.Sprintf("All %s are in fields.csv.", number(len(rows))))
	} else if len(rows) > 1 {
		s.totalRow(name)
	}
}

// rankKey sorts fields without an answer last.
func rankKey(f *export.Sum) int {
	if f.Rank == 0 {
		return int(^uint(0) >> 1)
	}
	return f.Rank
}

// fieldRow prints a field, or why it has no answer.
func (s *summary) fieldRow(f *export.Sum, name int) {
	label := left(printable(fieldLabel(f.Field)), name-1) + " "
	// A field without an answer keeps its line: left out, it would seem to have been forgotten.
	if f.Field.Trouble != "" {
		s.text(label+right(known(f.Field.Area), areaWidth)+"  ", strings.Repeat(" ", name+areaWidth+2), printable(Trouble(f.Field)))
		return
	}
	s.line(label + areas(f.Field.Area, f.ByClass, f.Field.Uncovered) + right(limeTons(f.HasLime, f.Likely), limeWidth))
}

// known prints an area that may not be known: a boundary beyond repair has none.
func known(a unit.Area) string {
	if a == 0 {
		return "-"
	}
	return acres(a)
}

// fieldLabel is the name with the id, or the id alone.
func fieldLabel(f *suitability.Field) string {
	if f.Name == "" || f.Name == f.ID {
		return f.ID
	}
	return f.ID + " " + f.Name
}

// areas prints the area and its parts; what was not rated and what lies outside are both unknown.
func areas(all unit.Area, by export.Areas, outside unit.Area) string {
	return right(acres(all), areaWidth) + right(acres(by.Of(suitability.Suited)), areaWidth) + right(acres(by.Of(suitability.Marginal)), classWidth) +
		right(acres(by.Of(suitability.Unsuited)), classWidth) + right(acres(by.Of(suitability.NotRated)+outside), areaWidth)
}

// limeTons prints lime, or a stroke where there is no figure, which is not zero.
func limeTons(has bool, m unit.Mass) string {
	if !has {
		return "-"
	}
	return tons(m.ShortTons())
}

// totalRow prints the sums of the unrounded figures; rounded rows may differ in the last digit, and then say so.
func (s *summary) totalRow(name int) {
	var all, outside unit.Area
	var by export.Areas
	var likely unit.Mass
	has := false
	for i := range s.sums {
		f := &s.sums[i]
		all, outside, likely, has = all+f.Field.Area, outside+f.Field.Uncovered, likely+f.Likely, has || f.HasLime
		for _, c := range suitability.Classes() {
			by[c] += f.ByClass.Of(c)
		}
	}
	s.line(left("Total", name) + areas(all, by, outside) + right(limeTons(has, likely), limeWidth))
	s.line("Rows are rounded, so their sum may differ from the total in the last digit.")
}

// zones prints every zone with its class, lime band and reason, where there are few.
func (s *summary) zones() {
	zones := export.Zones(s.r)
	if len(zones) == 0 {
		return
	}
	if len(zones) > mostZones {
		s.line("")
		s.text("", "", fmt.Sprintf("The %s zones are in zones.geojson and lime.csv, each with its reason.", number(len(zones))))
		return
	}
	if slices.ContainsFunc(zones, func(z *suitability.Zone) bool { return byTest(&z.Lime) }) {
		s.heading("Zones: class, lime in short tons/ac (low - likely - high; ± by test), reason")
	} else {
		s.heading("Zones: class, lime in short tons an acre (low - likely - high), reason")
	}
	for i := range s.sums {
		f := &s.sums[i]
		if len(f.Zones) > 0 {
			s.text("", "  ", printable(fieldLabel(f.Field)))
		}
		// A stream of neighbours with one reason would bury the others; the reason starts anew with each field.
		before := ""
		for _, z := range f.Zones {
			s.line(right(number(z.Number), 4) + right(acres(z.Area), 8) + " ac  " + left(classText(z), 20) + "  " + bandText(&z.Lime))
			why := zoneWhy(z)
			if why == before {
				s.line(zoneIndent + "For the same reason.")
				continue
			}
			s.text(zoneIndent, zoneIndent, why)
			before = why
		}
	}
}

const zoneIndent = "      "

// zoneWhy is the reason of a zone, with what would settle it.
func zoneWhy(z *suitability.Zone) string {
	why := Reason(z, Landowner)
	if len(z.Rating.HingesOn) > 0 {
		why += " It hinges on " + names(z.Rating.HingesOn) + ": " + ConfidenceReason(suitability.ReasonHinges, Landowner) + "."
	}
	return why
}

// classText prints the class with what must come first.
func classText(z *suitability.Zone) string {
	if z.LimeFirst() && z.Rating.LimitingToday == suitability.SurfacePH {
		return z.Rating.Class.String() + ", lime first"
	}
	return z.Rating.Class.String()
}

// bandText prints "lime 0.7 - 1.4 - 2.7", "no lime needed" or "no lime figure".
func bandText(l *suitability.Lime) string {
	likely, ok := l.Likely.Get()
	switch {
	case !ok:
		return "no lime figure"
	case likely == 0 && byTest(l):
		return "no lime needed by test"
	case likely == 0:
		return "no lime needed by the survey"
	case byTest(l):
		return rateText(l, likely)
	}
	s := fmt.Sprintf("lime %s - %s - %s", tons(l.Low.Or(likely).ShortTonsPerAcre()), tons(likely.ShortTonsPerAcre()), tons(l.High.Or(likely).ShortTonsPerAcre()))
	if b := Bound(l.Bound, Landowner); b != "" {
		s += " " + b
	}
	return s
}
