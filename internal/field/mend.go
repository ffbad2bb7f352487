package field

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/ordered"
	"rootworthy/soils/unit"
)

// step is the grid on which shapes are judged and mended, in degrees: about a tenth of a millimetre.
const step = 1e-9

// mended is the outcome of one repair.
type mended struct {
	shape  orb.MultiPolygon
	report arrange.Report
}

// mendAll makes the shapes of all fields valid and tells what was changed. The shapes of the drawings are gone after it.
func mendAll(ctx context.Context, fields []Field, drawn []drawing, workers int, faults *diag.List) error {
	out, err := ordered.Map(ctx, len(fields), workers, func(i int) (mended, error) {
		// Given up on reading or placing already: it has no shape to mend, and its trouble was told.
		if fields[i].Trouble != "" {
			return mended{}, nil
		}
		m := mend(drawn[i].shape)
		drawn[i].shape = nil // what a file drew need not stay beside what was made of it
		return m, nil
	})
	if err != nil {
		return err
	}
	// Told in the order of the fields and not by the workers, so that the same file is told in the same way each time.
	turned := map[string]int{} // by file
	for i := range fields {
		f := &fields[i]
		if f.Trouble != "" {
			continue
		}
		f.Shape, f.Report = out[i].shape, out[i].report
		f.Repairs = words(f.Report)
		f.tellRepair(faults)
		// Told by file and not by field: whole files are written the wrong way round by one program, and a thousand
		// notices would bury the others.
		if f.Report.WrongOrientation > 0 && f.Trouble == "" {
			turned[f.File]++
		}
	}
	tellTurned(fields, turned, faults)
	return nil
}

// mend repairs a shape. One that is sound keeps its coordinates bit for bit; only the direction of its rings may
// change.
func mend(shape orb.MultiPolygon) mended {
	valid, r := arrange.Repair(shape, step)
	// Not the shape of the repair, which lies on the grid: a sound boundary must come out as it was drawn, or it would
	// differ from the owner's other maps.
	if onlyTurned(r) {
		valid = turn(shape)
	}
	return mended{valid, r}
}

// onlyTurned tells whether nothing but directions was wrong.
func onlyTurned(r arrange.Report) bool {
	// Everything else in the report is then compared with its zero value, counts that are added later included.
	r.WrongOrientation, r.AreaBefore, r.AreaAfter = 0, 0, 0
	return r == arrange.Report{}
}

// turn returns the rings with outer ones counter-clockwise and holes clockwise.
func turn(shape orb.MultiPolygon) orb.MultiPolygon {
	// A copy: who gave the shape keeps it as it was.
	out := shape.Clone()
	for _, poly := range out {
		for i, ring := range poly {
			// RFC 7946, section 3.1.6: outer rings counter-clockwise, holes clockwise.
			if want := orb.CCW; (ring.Orientation() == want) != (i == 0) {
				ring.Reverse()
			}
		}
	}
	return out
}

// defect is one kind of fault of a boundary.
type defect struct {
	kind  string // groups notices
	count int
	one   string // in words
	many  string // in words, with %d
}

// defects lists what a report counts, gravest first: the first that applies names the notice.
func defects(r arrange.Report) []defect {
	// The report says only whether parts overlap, not how many.
	overlapping := 0
	if r.Overlapping {
		overlapping = 1
	}
	return []defect{
		{"no number", r.NotFinite, "a corner that is no number was left out", "%d corners that are no numbers were left out"},
		{"crossing", r.Crossings, "its lines cross in one place", "its lines cross in %d places"},
		{"self-touching", r.SelfTouching, "its lines touch in one place", "its lines touch in %d places"},
		{"overlapping parts", overlapping, "its parts overlap and were joined", ""},
		{"hole outside", r.HolesOutside, "a hole lies outside its outer line", "%d holes lie outside their outer lines"},
		{"nested hole", r.NestedHoles, "a hole lies inside another hole", "%d holes lie inside other holes"},
		{"ring twice", r.DuplicateRings, "a ring was drawn twice", "%d rings were drawn twice"},
		{"no area", r.ZeroArea, "a ring that surrounds nothing was dropped", "%d rings that surround nothing were dropped"},
		{"unclosed", r.Unclosed, "an open ring was closed", "%d open rings were closed"},
		{"spike", r.Spikes, "a corner of a spike was cut off", "%d corners of spikes were cut off"},
		{"repeated corner", r.Repeated, "a repeated corner was dropped", "%d repeated corners were dropped"},
	}
}

// words puts a report into words, directions included.
func words(r arrange.Report) []string {
	var out []string
	for _, d := range append(defects(r), defect{"direction", r.WrongOrientation, "a ring was turned the other way round", "%d rings were turned the other way round"}) {
		switch {
		case d.count == 1:
			out = append(out, d.one)
		case d.count > 1:
			out = append(out, fmt.Sprintf(d.many, d.count))
		}
	}
	return out
}

// tellRepair tells what was repaired, with the change of area, or that nothing is left.
func (f *Field) tellRepair(faults *diag.List) {
	// One notice a field, of the kind of the gravest defect: kinds are capped, and a field with four of them should not take
	// four places.
	all := defects(f.Report)
	at := slices.IndexFunc(all, func(d defect) bool { return d.count > 0 })
	switch {
	case f.Report.Tangled:
		// Thousands of crossings are no boundary but a track or a drawing gone wrong; a repair would be an invention.
		f.beyond("beyond repair", "its lines cross too often to be mended", "draw it again", faults)
	case len(f.Shape) == 0:
		f.beyond("beyond repair", "it surrounds no ground"+because(f.Repairs), "draw it again", faults)
	case at >= 0:
		// Directions are told for the file; here they would hide what did change the ground.
		said := slices.DeleteFunc(slices.Clone(f.Repairs), func(s string) bool { return strings.Contains(s, "other way round") })
		faults.Notice(f.fault(all[at].kind, strings.Join(said, "; ")+"; "+f.areaChange(), ""))
	}
}

// because puts repairs behind a verdict in brackets: they are mostly its cause.
func because(repairs []string) string {
	if len(repairs) == 0 {
		return ""
	}
	return " (" + strings.Join(repairs, "; ") + ")"
}

// areaChange says what a repair did to the area.
func (f *Field) areaChange() string {
	// The report has its areas in square degrees. Their ratio is that of the areas on the ground, near enough for a
	// field, and saves the shape from before the repair.
	m2, ok := proj.GeodesicArea(f.Shape, proj.GeodesicOptions{})
	// AreaAfter is not 0 here: a shape without area was given up above.
	before := m2 * f.Report.AreaBefore / f.Report.AreaAfter
	const same = 0.5 // m², far below what anyone plants by
	if diff := before - m2; !ok || -same < diff && diff < same {
		return "its area is unchanged"
	}
	return fmt.Sprintf("its area changes from %s to %s", area(unit.Area(before)), area(unit.Area(m2)))
}

// tellTurned tells once for each file how many of its fields had rings that ran the wrong way: no ground changes, and
// many programs write them so.
func tellTurned(fields []Field, turned map[string]int, faults *diag.List) {
	for _, f := range fields {
		if n := turned[f.File]; n > 0 {
			// In the order of the fields, each file at its first one: ranging over the map would tell them in another order each
			// time.
			delete(turned, f.File)
			faults.Notice(diag.Fault{File: f.File, Kind: "direction", What: "rings of " + fieldsOf(n) + " ran the wrong way and were turned; no ground changes"})
		}
	}
}

func fieldsOf(n int) string {
	if n == 1 {
		return "one field"
	}
	return fmt.Sprintf("%d fields", n)
}
