package field

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
)

// place brings all shapes of the layer to longitude and latitude. What the user says about the reference system wins
// over what the file says; with neither, coordinates that can be degrees are taken as such. The error names a system
// that is not known, or asks for one.
func (l *layer) place(crs string, faults *diag.List) error {
	// What the numbers can be is held against what is said of them: the commonest mistake by far is a file in feet
	// without a word of it.
	degrees := l.lookLikeDegrees()
	system, err := l.system(crs, degrees, faults)
	if err != nil {
		return err
	}
	// Zones are cut along these lines and spreaders driven by them: what the user says with --crs is asked as well.
	if err := system.FitForLines(); err != nil {
		return fmt.Errorf("%s: %w", l.name, err)
	}
	if note := system.Note(); note != "" {
		faults.Notice(diag.Fault{File: l.name, Kind: "reference system", What: note})
	}
	for i := range l.drawings {
		if d := &l.drawings[i]; d.Trouble == "" {
			d.place(system, faults)
		}
	}
	return nil
}

// system decides which reference system the coordinates are in.
func (l *layer) system(crs string, degrees extent, faults *diag.List) (proj.CRS, error) {
	// A statement that cannot be understood stops the file only when the user does not say better.
	system, stated, err := l.statedSystem()
	if crs == "" && err != nil {
		return system, fmt.Errorf("%s: %w", l.name, err)
	}
	if crs != "" {
		wanted, err := proj.FromName(crs)
		if err != nil {
			return system, fmt.Errorf("%s: --crs: %w", l.name, err)
		}
		// The user is followed, for files are often wrong about themselves; but told, for users are too. Two names of
		// one system are no contradiction.
		if stated && !l.sameIn(system, wanted) {
			faults.Notice(diag.Fault{File: l.name, Kind: "reference system", What: fmt.Sprintf("the file says %s, --crs says %s; --crs is followed", system, wanted)})
		}
		// Degrees read as metres lie at the origin of the system, thousands of kilometres from the farm.
		if !stated && degrees == fits && !wanted.Geographic() {
			faults.Notice(diag.Fault{File: l.name, Kind: "reference system", What: fmt.Sprintf("its coordinates are longitude and latitude already; --crs %s is not followed", wanted)})
			return proj.FromEPSG(4326)
		}
		system, stated = wanted, true
	}
	switch {
	// A farm in a projected system lies within 180 m of its origin nowhere; refused rather than guessed, since either of
	// the two is wrong.
	case stated && !system.Geographic() && degrees == fits:
		return system, fmt.Errorf("%s: its coordinates are degrees, not those of %s (%s); leave out --crs, or correct the file's own statement", l.name, system, system.Name())
	case stated && !system.Geographic():
		return system, nil
	// Latitude first is what people say; every format of ours has longitude first.
	case degrees == fitsSwapped:
		return system, fmt.Errorf("%s: its coordinates look like latitude, longitude; longitude must come first: export it again with x before y", l.name)
	case degrees == fitsNot && stated:
		return system, fmt.Errorf("%s: its coordinates cannot be degrees, but it says %s; name its reference system with --crs EPSG:n", l.name, system)
	case degrees == fitsNot:
		return system, fmt.Errorf("%s: its coordinates cannot be degrees, and %s says nothing of another reference system; name it with --crs EPSG:n", l.name, l.format)
	case stated:
		return system, nil
	}
	if l.isWKT {
		// GeoJSON and KML are in longitude and latitude by their standards; a shapefile says so in a .prj, which gets
		// lost in copying.
		faults.Notice(diag.Fault{File: l.name, Kind: "reference system", What: "there is no .prj beside it; its coordinates are taken as longitude and latitude (WGS 84)", Fix: "name another system with --crs EPSG:n"})
	}
	return proj.FromEPSG(4326)
}

// sameIn tells whether two systems put the first corner of the layer in the same place, to a centimetre.
// Shapes are still in the coordinates of the file here.
func (l *layer) sameIn(a, b proj.CRS) bool {
	const centimetre = 1e-7 // degrees
	for _, d := range l.drawings {
		box, ok := boundOf(d.shape)
		if !ok {
			continue
		}
		// One corner is enough: systems that agree there and not elsewhere are no two that anybody mixes up.
		p, okA := a.ToLonLat(box.Min)
		q, okB := b.ToLonLat(box.Min)
		return okA == okB && math.Abs(p[0]-q[0]) < centimetre && math.Abs(p[1]-q[1]) < centimetre
	}
	return true
}

// statedSystem is what the file itself says.
func (l *layer) statedSystem() (system proj.CRS, stated bool, err error) {
	switch {
	case l.own != nil:
		return l.own.crs, l.own.ok, l.own.err
	case l.stated == "":
		return proj.CRS{}, false, nil
	case l.isWKT:
		if system, err = proj.Parse(l.stated); err != nil {
			err = fmt.Errorf("its .prj says %q: %w", beginning(l.stated), err)
		}
	default:
		system, err = proj.FromName(l.stated)
	}
	return system, err == nil, err
}

// beginning returns enough of a text to recognise it by.
func beginning(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// extent tells what the coordinates of a layer can be.
type extent uint8

const (
	fits        extent = iota // longitude, latitude
	fitsSwapped               // latitude, longitude
	fitsNot                   // neither
)

// lookLikeDegrees judges a layer by the greater part of its shapes: one corner gone astray condemns its field, not the
// file.
func (l *layer) lookLikeDegrees() extent {
	var count [3]int
	for _, d := range l.drawings {
		if b, ok := boundOf(d.shape); ok {
			count[extentOf(b)]++
		}
	}
	switch {
	// Degrees in either order fit both boxes in much of the world; then they are taken as they should be, and
	// [CheckAgainst] looks again with the survey.
	case count[fits] >= count[fitsSwapped]+count[fitsNot]:
		return fits
	case count[fitsSwapped] >= count[fitsNot]:
		return fitsSwapped
	}
	return fitsNot
}

// extentOf tells what one box can be; degrees in their proper order come first where both orders are possible.
func extentOf(b orb.Bound) extent {
	within := func(v, most float64) bool { return math.Abs(v) <= most }
	switch {
	case within(b.Min[0], 180) && within(b.Max[0], 180) && within(b.Min[1], 90) && within(b.Max[1], 90):
		return fits
	case within(b.Min[0], 90) && within(b.Max[0], 90) && within(b.Min[1], 180) && within(b.Max[1], 180):
		return fitsSwapped
	}
	return fitsNot
}

// boundOf returns the box of all corners that are numbers.
func boundOf(mp orb.MultiPolygon) (b orb.Bound, ok bool) {
	b = orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
	for _, poly := range mp {
		for _, ring := range poly {
			for _, p := range ring {
				if finite(p) {
					b.Min = orb.Point{min(b.Min[0], p[0]), min(b.Min[1], p[1])}
					b.Max = orb.Point{max(b.Max[0], p[0]), max(b.Max[1], p[1])}
					ok = true
				}
			}
		}
	}
	return b, ok
}

// finite is false for NaN as well, which no comparison holds for.
func finite(p orb.Point) bool {
	return math.Abs(p[0]) <= math.MaxFloat64 && math.Abs(p[1]) <= math.MaxFloat64
}

// place brings one shape to longitude and latitude. Corners that are no numbers stay for the repair.
func (d *drawing) place(system proj.CRS, faults *diag.List) {
	// The file as a whole was in order; this one shape is not.
	if b, ok := boundOf(d.shape); ok && system.Geographic() && extentOf(b) == fitsSwapped {
		d.noPlace("its coordinates look like latitude, longitude", "export it again with longitude first", faults)
		return
	}
	for _, poly := range d.shape {
		for i, ring := range poly {
			out, at, ok := toLonLat(ring, system)
			if !ok {
				d.noPlace(fmt.Sprintf("its corner at %v, %v is no place in %s", at[0], at[1], system), "correct the corner, or name the right reference system with --crs EPSG:n", faults)
				return
			}
			if wraps(out) {
				d.noPlace("one of its edges runs half way round the globe", "if it lies across the 180° meridian, cut it there into two parts", faults)
				return
			}
			poly[i] = out
		}
	}
}

// wraps tells whether an edge spans more than 180° of longitude: a field across the 180° meridian, whose corners jump
// from one end of the scale to the other, would reach round the whole globe.
func wraps(ring orb.Ring) bool {
	for i := 1; i < len(ring); i++ {
		if math.Abs(ring[i][0]-ring[i-1][0]) > 180 { // false where one is no number
			return true
		}
	}
	return false
}

// noPlace gives the drawing up and tells why.
func (d *drawing) noPlace(why, fix string, faults *diag.List) {
	d.Trouble, d.shape = why, nil
	faults.Add(diag.Fault{File: d.File, Line: d.Line, Feature: d.label, Kind: "no place", What: why, Fix: fix})
}

// toLonLat converts a ring. Edges that are straight in a projected system bend in longitude and latitude: where the
// middle of an edge would be off by more than maxBend, a corner is put in, by a rule that looks at the edge alone, so
// that neighbours keep their common line.
func toLonLat(ring orb.Ring, system proj.CRS) (out orb.Ring, at orb.Point, ok bool) {
	out = make(orb.Ring, 0, len(ring))
	var before orb.Point // in the system's own coordinates; the one in out is its image
	for i, p := range ring {
		if !finite(p) {
			out = append(out, p)
			before = p
			continue
		}
		q, ok := system.ToLonLat(p)
		if !ok {
			return nil, p, false
		}
		if i > 0 && finite(before) && !system.Geographic() {
			// Geographic systems need none: their edges are straight in degrees as they are.
			out = bend(out, before, p, out[len(out)-1], q, system, maxBends)
		}
		out = append(out, q)
		before = p
	}
	return out, at, true
}

// maxBend is 1e-8 degrees, about a millimetre, as far as an edge may lie off the line that was drawn; maxBends bounds
// the halvings of one edge, so that an edge across a state gets at most 255 corners.
const (
	maxBend  = 1e-8
	maxBends = 8
)

// bend appends the corners that the edge from a to b needs between its images qa and qb.
func bend(out orb.Ring, a, b, qa, qb orb.Point, system proj.CRS, left int) orb.Ring {
	if left == 0 {
		return out
	}
	middle := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	m, ok := system.ToLonLat(middle)
	// The middle alone is looked at: over the length of a field's edge the bend of a projection has no second turn.
	if !ok || math.Abs(m[0]-(qa[0]+qb[0])/2) <= maxBend && math.Abs(m[1]-(qa[1]+qb[1])/2) <= maxBend {
		return out
	}
	out = bend(out, a, middle, qa, m, system, left-1)
	out = append(out, m)
	return bend(out, middle, b, m, qb, system, left-1)
}
