package job

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/internal/geo/index"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// testGround answers where a sample lies: by the zones as they are written. On a shared line the first zone counts, in
// the order of fields and numbers.
func (s *screening) testGround() lab.Ground {
	// Looked up for every sample, so by map and by tree and never by a walk over all zones.
	fields := map[string]bool{}
	var names [][2]string
	zoneField := map[string]string{}
	byUnit := map[string][]*suitability.Zone{}
	var boxes []geo.Box
	var parts []part
	for i := range s.done {
		d := &s.done[i]
		fields[d.field.ID] = true
		names = append(names, [2]string{d.field.ID, d.field.Name})
		for j := range d.zones {
			z := &d.zones[j]
			// Zone ids begin with the id of the field, but a field's id may hold a slash itself; so the pair is kept and not taken
			// apart.
			zoneField[z.ID] = z.FieldID
			byUnit[z.MapUnitKey] = append(byUnit[z.MapUnitKey], z)
			parts, boxes = append(parts, part{z.FieldID, z.ID, z.Shape}), append(boxes, boxOf(z.Shape))
		}
		// behind its zones, so that a point on a zone is found there first
		parts, boxes = append(parts, part{d.field.ID, "", d.field.Shape}), append(boxes, boxOf(d.field.Shape))
	}
	tree := index.Build(boxes)
	return lab.Ground{
		At:          func(p orb.Point) (field, zone string, ok bool) { return at(tree, parts, p) },
		HasField:    func(id string) bool { return fields[id] },
		FieldsNamed: lab.FieldsNamed(names),
		FieldOfZone: func(id string) (string, bool) { f, ok := zoneField[id]; return f, ok },
		ZonesOfUnit: func(unit, field string) []string {
			var out []string
			for _, z := range byUnit[unit] {
				if field == "" || field == z.FieldID {
					out = append(out, z.ID)
				}
			}
			return out
		},
	}
}

// part is a zone, or the whole of a field behind its zones: that part of it which no zone covers.
type part struct {
	field, zone string
	shape       orb.MultiPolygon
}

// boxOf is the box around a shape on the writing grid; a shape without points holds nothing.
func boxOf(shape orb.MultiPolygon) geo.Box {
	box := geo.NoBox()
	for _, polygon := range shape {
		// The outer ring alone: holes lie within it.
		for _, p := range polygon[0] {
			x, okX := geo.Snap(p[0], 1/writeStep)
			y, okY := geo.Snap(p[1], 1/writeStep)
			// A shape of this job is always finite; a sample's point may be anything.
			if okX && okY {
				box.Grow(geo.Box{X0: x, Y0: y, X1: x, Y1: y})
			}
		}
	}
	return box
}

// at finds the first part that holds a point, its line included.
func at(tree *index.Tree, parts []part, p orb.Point) (field, zone string, ok bool) {
	// by boxes, then by shape: a run may have a hundred thousand zones
	near := tree.Search(boxOf(orb.MultiPolygon{{{p}}}), nil)
	// The tree answers in no order that means anything; parts are in the order in which ground is claimed.
	slices.Sort(near)
	for _, i := range near {
		if planar.MultiPolygonContains(parts[i].shape, p) {
			return parts[i].field, parts[i].zone, true
		}
	}
	return "", "", false
}

// tellPlaces tells of points in a part of a field where there is no zone: they speak for none.
func (s *screening) tellPlaces(located []lab.Located) {
	for i, l := range located {
		if l.Basis == lab.ByPoint && len(l.Zones) == 0 {
			x := &s.opt.Tests.Samples[i]
			s.faults.Notice(diag.Fault{File: x.File, Line: x.Line, Feature: x.ID, Ground: l.Field, Field: "lon, lat", Kind: "no zone",
				What: "the point lies in field " + l.Field + " where the survey has no zone, so it changes nothing", Fix: "check the coordinates"})
		}
	}
}
