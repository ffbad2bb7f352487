package web

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// patch is one kind of ground in the strip under the map: its legend, and how much of it there is.
type patch struct {
	mark
	Area, Share string
	Was         string // acres before a what-if; "" where it is the same
}

// strip sums up the ground of a set of zones as the map shows it. Ground outside the survey counts where every zone of
// its field is in the set.
func (s *scene) strip(zones []int, show string) []patch {
	outside := s.outside(zones)
	all := outside
	for _, i := range zones {
		all += s.zones[i].Area
	}
	var out []patch
	if show == "lime" {
		out = s.limeStrip(zones, all)
	} else {
		out = s.classStrip(zones, all, show == "today")
	}
	if outside > 0 {
		look := mapdraw.OutsideLook()
		out = append(out, patch{mark: mark{"outside", look.Letter, look.Word}, Area: words.AcresAndHectares(outside), Share: shareOf(outside, all)})
	}
	return out
}

// outside adds up what the survey does not cover.
func (s *scene) outside(zones []int) (a unit.Area) {
	count := make([]int, len(s.sums))
	for _, i := range zones {
		if f, ok := s.field[s.zones[i].FieldID]; ok {
			count[f]++
		}
	}
	for i := range s.sums {
		f := &s.sums[i]
		if count[i] == len(f.Zones) && (count[i] > 0 || len(zones) == len(s.zones)) {
			a += f.Field.Uncovered
		}
	}
	return a
}

// classStrip has a row for each class, also for one that is nowhere: the legend does not change under the reader.
func (s *scene) classStrip(zones []int, all unit.Area, today bool) []patch {
	var by, was export.Areas
	for _, i := range zones {
		now, before := &s.zones[i].Rating, &s.loaded.zones[i].Rating
		c, old := now.Class, before.Class
		if today {
			c, old = now.ClassToday, before.ClassToday
		}
		by[c] += s.zones[i].Area
		was[old] += s.zones[i].Area
	}
	var out []patch
	for _, c := range suitability.Classes() {
		p := patch{mark: markOf(c), Area: words.AcresAndHectares(by.Of(c)), Share: shareOf(by.Of(c), all)}
		if words.Acres(was.Of(c)) != words.Acres(by.Of(c)) {
			p.Was = words.Acres(was.Of(c))
		}
		out = append(out, p)
	}
	return out
}

// limeSteps are the shades of the lime map, a short ton an acre each.
var limeSteps = []string{"none", "up to 1 ton/ac", "1 to 2 tons/ac", "2 to 3 tons/ac", "3 to 4 tons/ac", "over 4 tons/ac"}

// limeStrip has a row for each shade that is there.
func (s *scene) limeStrip(zones []int, all unit.Area) []patch {
	by := map[byte]unit.Area{}
	for _, i := range zones {
		by[limeStep(s.zones[i].Lime.Likely)] += s.zones[i].Area
	}
	var out []patch
	for step := range limeSteps {
		if a := by['0'+byte(step)]; a > 0 {
			out = append(out, patch{mark: mark{fmt.Sprintf("lime%d", step), "", strings.ToUpper(limeSteps[step][:1]) + limeSteps[step][1:]}, Area: words.AcresAndHectares(a), Share: shareOf(a, all)})
		}
	}
	if a := by['-']; a > 0 {
		out = append(out, patch{mark: mark{"not-rated", "–", "No figure"}, Area: words.AcresAndHectares(a), Share: shareOf(a, all)})
	}
	return out
}

// shareOf prints a share of a whole.
func shareOf(a, all unit.Area) string {
	if all <= 0 {
		return mapdraw.Percent(0)
	}
	return mapdraw.Percent(float64(a / all))
}
