package words

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// sowing is ground that can be sown first in one window.
type sowing struct {
	window string
	passes int
	wait   string // how well the wait after lime is founded
	area   unit.Area
}

// calendar prints when which ground can be sown first, where the run knows dates.
func (s *summary) calendar() {
	// The key has no area yet; it is filled in below, for the list.
	groups := map[sowing]unit.Area{}
	for _, z := range export.Zones(s.r) {
		if z.Lime.Window == "" {
			continue
		}
		g := sowing{window: z.Lime.Window, passes: z.Lime.Passes}
		if g.passes > 0 {
			g.wait = "the wait is " + waitFounding(&z.Lime, s.r.Profile, Landowner)
		}
		// Ground with the same window, passes and wait is one line, whatever fields it lies in.
		groups[g] += z.Area
	}
	if len(groups) == 0 {
		return
	}
	list := make([]sowing, 0, len(groups))
	for g, area := range groups {
		g.area = area
		list = append(list, g)
	}
	slices.SortFunc(list, func(a, b sowing) int {
		return cmp.Or(cmp.Compare(a.window, b.window), cmp.Compare(a.passes, b.passes), cmp.Compare(a.wait, b.wait))
	})
	s.heading("Earliest sowing" + optionalText(", counted from ", Date(s.r.Provenance.Date)))
	for _, g := range list {
		after := "without lime"
		if g.passes > 0 {
			after = "after " + count(g.passes, "lime pass", "lime passes") + ", if the retest reads at least pH " + plain(sowFrom(s.r.Profile), 2) + "; " + g.wait
		}
		s.text("- ", "  ", fmt.Sprintf("%s: %s acres, %s", Window(g.window), acres(g.area), after))
	}
}

// FieldAnswer answers for one field in a few short sentences for the landowner: how much looks suited, how much of that
// only once limed, and what holds the rest back.
func FieldAnswer(f *export.Sum) string {
	if f.Field.Trouble != "" {
		return "No answer: the field " + Trouble(f.Field) + "."
	}
	suited := f.ByClass.Of(suitability.Suited)
	s := fmt.Sprintf("%s of %s acres look suited.", acres(suited), acres(f.Field.Area))
	switch {
	case suited == 0:
		s = fmt.Sprintf("None of the %s acres looks suited.", acres(f.Field.Area))
	case wholeOf(suited, f.Field.Area):
		s = fmt.Sprintf("All %s acres look suited.", acres(f.Field.Area))
	}
	switch once := suitedOnceLimed(f); {
	// "of them" would be said of all of them.
	case once > 0 && wholeOf(once, suited):
		s += " They need lime first."
	case once > 0:
		s += fmt.Sprintf(" %s of them need lime first.", acres(once))
	}
	for _, l := range f.Limits {
		s += fmt.Sprintf(" What holds back %s acres: %s.", acres(l.Area), Criterion(l.Code, Landowner))
	}
	if unrated := f.ByClass.Of(suitability.NotRated); unrated > 0 {
		s += fmt.Sprintf(" %s acres could not be rated.", acres(unrated))
	}
	if f.Field.Partly {
		s += fmt.Sprintf(" %s acres lie outside the survey.", acres(f.Field.Uncovered))
	}
	return s
}

// wholeOf says whether a part is all of an area, but for the last digits of a sum over zones.
func wholeOf(part, all unit.Area) bool { return part >= all*(1-1e-6) }
