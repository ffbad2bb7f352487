package web

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"rootworthy/export/changes"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// groundRow is a piece of ground that differs.
type groundRow struct {
	Field, Acres string
	A, B         side
}

// side is what a run makes of the ground; Missing says why it is no zone of the run.
type side struct {
	Run              string // its name, which stands before the cell on a phone
	Missing          string
	Zone, Soil, Part string // the zone and its map unit, and how much of the zone this ground is
	Class            mark
	Today, Why, Lime string
	PH               string
	Address          string
	ClassDiff        bool
	LimeDiff, PHDiff bool
}

// ground lists the pieces of ground that differ, those with the most of it first.
func (p *comparePage) ground(scenes [2]*scene, c *change.Comparison) {
	type piece struct {
		change.Pair
		fields *change.Fields
	}
	var list []piece
	for i := range c.Fields {
		for _, x := range c.Fields[i].Pairs {
			if x.Area > x.Small && c.Differs(x) {
				list = append(list, piece{x, &c.Fields[i]})
			}
		}
	}
	// Stable, so that of equal pieces the field that comes first in the run comes first here.
	slices.SortStableFunc(list, func(x, y piece) int { return cmp.Compare(y.Area-y.Small, x.Area-x.Small) })
	// Both by address: a zone of a scene is that of its run, since nothing is moved here.
	places := [2]map[*suitability.Zone]int{scenes[0].places(), scenes[1].places()}
	var more unit.Area
	for i, x := range list {
		if i >= mostGround {
			p.More++
			more += x.Area - x.Small
			continue
		}
		row := groundRow{Field: changes.Names(c, x.fields), Acres: words.Acres(x.Area - x.Small), A: scenes[0].side(x.A, x.Area, p.A, places[0]), B: scenes[1].side(x.B, x.Area, p.B, places[1])}
		if a, b := x.A.Zone(c.A), x.B.Zone(c.B); a != nil && b != nil {
			d := change.DifferenceOf(a, b)
			row.B.ClassDiff, row.B.LimeDiff, row.B.PHDiff = d.Class, d.Lime, d.Surface || d.Subsoil
		}
		p.Ground = append(p.Ground, row)
	}
	p.MoreArea = words.Acres(more)
}

// places says where zones stand in the list of a run.
func (s *scene) places() map[*suitability.Zone]int {
	out := make(map[*suitability.Zone]int, len(s.zones))
	for i, z := range s.zones {
		out[z] = i
	}
	return out
}

// side puts the ground of a pair into words, as one of the runs has it.
func (s *scene) side(g change.Ground, area unit.Area, run *book, places map[*suitability.Zone]int) side {
	z := g.Zone(s.result)
	switch {
	case g == change.Outside:
		return side{Run: run.Name, Missing: "outside the survey"}
	case z == nil:
		return side{Run: run.Name, Missing: "in no field"}
	}
	i := places[z]
	r := s.row(i)
	return side{Run: run.Name, Zone: z.ID, Soil: r.Soil, Part: partOf(area, z.Area), Class: r.Class, Today: r.Today, Why: r.Why, Lime: r.Lime, PH: phOf(&z.Rating.Values),
		Address: "/run/" + strconv.Itoa(run.Number) + "/zone/" + strconv.Itoa(i)}
}

// wholeZone is from which share on a piece of ground is called all of a zone: what is lacking would print as less than a whole percent.
const wholeZone = 0.995

func partOf(area, zone unit.Area) string {
	share := float64(area / zone)
	if zone <= 0 || share >= wholeZone {
		return "all of it"
	}
	return fmt.Sprintf("%s of its %s acres", shareOf(area, zone), words.Acres(zone))
}

// phOf prints the pH of a zone, top and below.
func phOf(v *suitability.Values) string {
	say := func(x unit.Opt[unit.PH]) string {
		if p, ok := x.Get(); ok {
			return words.PH(p)
		}
		return "–"
	}
	return say(v.PHSurface) + "; " + say(v.PHSubsoil)
}
