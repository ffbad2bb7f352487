package money

import (
	"slices"
	"strings"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// leftGround is the table of ground not worth sowing: zones without a figure of their own stand together by what keeps them out.
func (p *paper) leftGround() {
	t := report.Table{Caption: "Ground to leave in grass, or to test first", Columns: []report.Column{{Head: "Zones", Share: 0.24}, {Head: "Acres", Share: 0.1, Number: true}, {Head: "Class", Share: 0.12},
		{Head: "Worth of an acre alone: likely (low to high)", Share: 0.2, Number: true}, {Head: "Why", Share: 0.34}}}
	type group struct {
		why   string
		class suitability.Class
	}
	// Only to find a group's place in the list, which keeps the order of the run.
	at := map[group]int{}
	var groups []left
	var alone [][]string
	more := 0
	for i := range p.s.Zones {
		z, area := &p.s.Zones[i], p.b.Run.Zones[i].Area
		switch g := (group{z.Why, z.Class}); {
		case z.Sow:
		// A row each would be a long list that says one thing over and over.
		case !z.Value.Has():
			k, ok := at[g]
			if !ok {
				k = len(groups)
				at[g] = k
				groups = append(groups, left{why: z.Why, class: z.Class})
			}
			groups[k].zones, groups[k].area = append(groups[k].zones, shown(z.ID)), groups[k].area+area
		case len(alone) < mostZones:
			alone = append(alone, []string{shown(z.ID), acresText(area), z.Class.String(), cell(z.ValuePerArea()), words.Sentence(why(z.Why))})
		default:
			more++
		}
	}
	t.Rows = alone
	for _, g := range groups {
		t.Rows = append(t.Rows, []string{listed(g.zones), acresText(g.area), g.class.String(), dash, words.Sentence(why(g.why))})
	}
	if len(t.Rows) == 0 {
		return
	}
	if more > 0 {
		t.Note = words.Count(more, "more zone is", "more zones are") + " in the table of zones, money-zones.csv."
	}
	p.head("Ground not worth sowing", "left")
	p.add(t)
}

// left are zones that one thing keeps out.
type left struct {
	why   string
	class suitability.Class
	zones []string
	area  unit.Area
}

// mostNames is how many zones a cell names; the rest is counted.
const mostNames = 12

// listed names some zones and counts the others.
func listed(zones []string) string {
	if more := len(zones) - mostNames; more > 0 {
		zones = append(slices.Clone(zones[:mostNames]), words.Count(more, "more", "more"))
	}
	return strings.Join(zones, ", ")
}
