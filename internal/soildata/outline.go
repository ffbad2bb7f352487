package soildata

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/arrange"
)

// outlineStep is the grid on which outlines are joined and sent, in degrees: about a centimetre.
const outlineStep = 1e-7

// How many fields go into one question: a farm, not a country, since the service finds polygons by the box around.
const (
	maxGroupFields = 50
	maxGroupPoints = 10_000
	maxGroupSpan   = 0.2 // degrees
)

// group is fields that are asked for together.
// points and bound are kept up while fields are added.
type group struct {
	fields []Outline
	// around all of them, degrees
	bound  orb.Bound
	points int
}

// grouped puts fields that follow each other and lie near each other into groups. Fields that cannot lie on earth are
// told and left out.
func grouped(fields []Outline, faults *diag.List) []group {
	var out []group
	for _, f := range fields {
		bound, points := f.Shape.Bound(), countPoints(f.Shape)
		if points == 0 {
			continue // a field in trouble, which its reader told
		}
		if !onEarth(bound) {
			faults.Add(diag.Fault{Feature: "field " + f.ID, Kind: "off the earth", What: "its corners are no longitude and latitude",
				Fix: "it is left out; check its coordinate system"})
			continue
		}
		// Only the last group is tried: fields of a farm follow each other in a file, and the groups then depend on the file
		// alone.
		if n := len(out) - 1; n >= 0 && out[n].takes(bound, points) {
			g := &out[n]
			g.fields, g.bound, g.points = append(g.fields, f), g.bound.Union(bound), g.points+points
			continue
		}
		out = append(out, group{[]Outline{f}, bound, points})
	}
	return out
}

// takes says whether a field still fits into the group.
func (g group) takes(bound orb.Bound, points int) bool {
	// by the box and not by distance: the service looks polygons up by the box around the question
	all := g.bound.Union(bound)
	return len(g.fields) < maxGroupFields && g.points+points <= maxGroupPoints &&
		all.Max[0]-all.Min[0] <= maxGroupSpan && all.Max[1]-all.Min[1] <= maxGroupSpan
}

// halves splits a group of more than one field.
func (g group) halves() (a, b group) {
	n := len(g.fields) / 2
	return regroup(g.fields[:n]), regroup(g.fields[n:])
}

// regroup makes a group of some fields of another.
func regroup(fields []Outline) group {
	g := group{fields: fields, bound: fields[0].Shape.Bound()}
	for _, f := range fields {
		g.bound, g.points = g.bound.Union(f.Shape.Bound()), g.points+countPoints(f.Shape)
	}
	return g
}

// text returns the ground of the fields as one well-known text, valid and on the grid. Where the lines are too many or
// too tangled it is the box around: polygons that are not needed then come too, and do no harm.
func (g group) text(most int) string {
	var parts []arrange.Polygon
	ok := true
	for _, f := range g.fields {
		// Rounded to a centimetre: finer digits of a boundary are nobody's business.
		p, on := arrange.FromOrb(f.Shape, outlineStep)
		parts, ok = append(parts, p...), ok && on
	}
	if ok {
		// joined and made valid here, since the service refuses, or misreads, rings that cross
		parts, ok = arrange.MakeValid(parts)
	}
	if ok && len(parts) > 0 {
		if b := appendWKT(nil, arrange.ToOrb(parts, outlineStep)); len(b) <= most {
			return string(b)
		}
	}
	// The box names more ground than the fields and less about their shape, so nothing is sent that was not announced.
	return string(appendWKT(nil, orb.MultiPolygon{g.bound.ToPolygon()}))
}

// ids lists the fields for a message.
func (g group) ids() string {
	const most = 8
	var ids []string
	for _, f := range g.fields[:min(most, len(g.fields))] {
		ids = append(ids, f.ID)
	}
	if len(g.fields) > most {
		ids = append(ids, "…")
	}
	return strings.Join(ids, ", ")
}

// fingerprint names a set of groups by what would be sent for them.
func fingerprint(groups []group, l limits) string {
	h := sha256.New()
	for _, g := range groups {
		// Joined outlines on the grid of a centimetre: the same fields in another file, with other names, give the same
		// fingerprint.
		h.Write([]byte(g.text(l.text) + "\n"))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// countPoints counts corners, which is what a question is long by.
func countPoints(shape orb.MultiPolygon) int {
	n := 0
	for _, part := range shape {
		for _, ring := range part {
			n += len(ring)
		}
	}
	return n
}

// onEarth also refuses NaN, which no comparison holds for.
func onEarth(b orb.Bound) bool {
	return b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90
}
