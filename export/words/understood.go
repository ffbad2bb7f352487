package words

import (
	"fmt"
	"io"

	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/suitability/limeplan"
)

// Part is a heading and what stands under it, a line each.
type Part struct {
	Heading string
	Lines   []string
}

// Understood prints what a laboratory's file was taken for: column by column, then the layers, how the samples say where they
// come from, and which lime methods have what they need. Lines are at most 80 columns.
func Understood(w io.Writer, name string, r lab.Results) error {
	p := &page{w: w, width: defaultWidth}
	head, parts := UnderstoodParts(name, r)
	p.text("", "  ", printable(head))
	for _, part := range parts {
		if part.Heading != "" {
			p.line("")
			p.line(part.Heading)
		}
		for _, l := range part.Lines {
			p.text("  ", "    ", printable(l))
		}
	}
	return p.err
}

// UnderstoodParts returns the same for a page: the head, and parts of which the first may have no heading.
func UnderstoodParts(name string, r lab.Results) (head string, parts []Part) {
	u := r.Understood
	var columns []string
	for _, c := range u.Columns {
		columns = append(columns, c.String())
	}
	if len(u.Notes) > 0 {
		parts = append(parts, Part{"", u.Notes})
	}
	return fmt.Sprintf("%s: %s, %s", name, u.Format, count(len(r.Samples), "sample", "samples")), append(parts,
		Part{"Columns", columns}, Part{"Layers", u.Layers}, Part{"Where the samples say they come from", places(r.Samples)},
		Part{"Lime methods, and how many of the samples under pH 6.5 have what they need", askable(r.Samples)})
}

// places counts the samples by the surest that they say of their place.
func places(samples []lab.Sample) []string {
	const nowhere = "" // by nothing
	n := map[string]int{}
	for _, s := range samples {
		switch {
		// The surest first, in the order in which a screening asks: a zone that was written on the bag goes before a point.
		case s.Place.Zone != "":
			n[lab.ByZone.String()]++
		case s.Place.Point.Has():
			n[lab.ByPoint.String()]++
		case s.Place.MapUnit != "":
			n[lab.ByMapUnit.String()]++
		case s.Place.Field != "":
			n[lab.ByField.String()]++
		default:
			n[nowhere]++
		}
	}
	var out []string
	for _, by := range []string{lab.ByZone.String(), lab.ByPoint.String(), lab.ByMapUnit.String(), lab.ByField.String(), nowhere} {
		switch {
		case n[by] > 0 && by == nowhere:
			out = append(out, count(n[by], "sample does", "samples do")+" not say; a screening needs field_id, zone_id, or lon and lat")
		case n[by] > 0:
			out = append(out, count(n[by], "sample", "samples")+" by "+by)
		}
	}
	return out
}

// askable says for how many of the samples under a pH of 6.5 each method has a figure, and what it needs.
func askable(samples []lab.Sample) []string {
	// The built-in target, only to see who can answer; the rate itself is not shown here.
	ask := lime.Ask{Target: 6.5}
	var acid []*lab.Sample
	for i := range samples {
		// Samples without a pH count as acid: they show which methods cannot do without one.
		if s := &samples[i]; !(s.PH.Or(0) >= ask.Target) {
			acid = append(acid, s)
		}
	}
	var out []string
	for _, m := range limeplan.Askable(ask) {
		n := 0
		for _, s := range acid {
			if limeplan.Ask(s, m, ask).Refusal == nil {
				n++
			}
		}
		out = append(out, fmt.Sprintf("%s: %d of %s (needs %s)", m.Name, n, number(len(acid)), m.Needs))
	}
	return out
}
