package lab

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// Ground answers where samples lie. A nil function is asked nothing: samples that only it could place are told.
type Ground struct {
	// At returns the field and zone at a point (longitude, latitude); ok is false outside all fields. The zone is empty
	// where a field has none.
	At func(p orb.Point) (field, zone string, ok bool)
	// HasField says whether there is a field of that id.
	HasField func(field string) bool
	// FieldsNamed returns the fields that a text which is no id may mean; see [FieldsNamed].
	FieldsNamed func(text string) []string
	// FieldOfZone returns the field of a zone; ok is false when there is no such zone.
	FieldOfZone func(zone string) (field string, ok bool)
	// ZonesOfUnit returns the zones on a map unit in any field, or in one when field is not empty.
	ZonesOfUnit func(mapUnit, field string) []string
}

// Basis says how a sample found its place. The zero value is that it found none.
type Basis uint8

// The bases, the surest first where a sample has several.
const (
	NotPlaced Basis = iota
	ByZone          // it names its zone
	ByPoint         // its coordinates lie in the field and zone
	ByMapUnit       // it names the map unit, and speaks for all zones on it
	ByField         // it names only its field, and speaks for all of it
)

var bases = [...]string{NotPlaced: "not placed", ByZone: "zone id", ByPoint: "coordinates", ByMapUnit: "map unit", ByField: "field id"}

// String returns the basis in words.
func (b Basis) String() string { return bases[b] }

// Located is what a sample speaks for.
type Located struct {
	Sample int // index
	Basis  Basis
	Field  string   // empty with ByMapUnit where no field is named
	Zones  []string // empty means the whole field
}

// Locate says for each sample which field and zones it speaks for, in the order of the samples. A sample that cannot be
// placed, or whose coordinates lie in another field than the one it names, is NotPlaced and told: a wrong place is worse
// than none.
func Locate(samples []Sample, g Ground, faults *diag.List) []Located {
	out := make([]Located, len(samples))
	for i := range samples {
		out[i] = g.locate(&samples[i], faults)
		out[i].Sample = i
	}
	return out
}

// locate places one sample: ids first, then what the coordinates say against them. A point that lies in the field that the sample names
// makes it surer, not other: of both the point is the nearer.
func (g Ground) locate(s *Sample, faults *diag.List) Located {
	told := func(field, kind, what, fix string) Located {
		faults.Add(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Field: field, Kind: kind, What: what, Fix: fix})
		return Located{}
	}
	named, why := g.named(s, faults)
	if why != "" {
		return told("place", "unknown place", why, "correct the id, or leave it empty and give coordinates")
	}
	p, hasPoint := s.Place.Point.Get()
	// ids alone
	if !hasPoint || g.At == nil {
		if named.Basis == NotPlaced {
			return told("place", "no place", "the sample names no field, zone or map unit and has no coordinates", "add field_id, zone_id or lon and lat")
		}
		return named
	}
	field, zone, inside := g.At(p)
	switch {
	case !inside && named.Basis == NotPlaced:
		return told("lon, lat", "outside", "the point lies in no field", "check the coordinates, or give the field id")
	case !inside:
		faults.Notice(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Field: "lon, lat", Kind: "outside",
			What: "the point lies in no field; the sample is placed by its " + named.Basis.String(), Fix: "check the coordinates"})
		return named
	// Not settled in favour of either: a swapped id puts the lime of one farm on another.
	case named.Field != "" && named.Field != field:
		return told("lon, lat", "two places", "the sample names field "+quoted(named.Field)+" but its point lies in "+quoted(field), "correct the one that is wrong")
	case named.Basis == ByZone && zone != "" && named.Zones[0] != zone:
		faults.Notice(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Field: "lon, lat", Kind: "other zone",
			What: "the sample names zone " + quoted(named.Zones[0]) + " but its point lies in " + quoted(zone) + "; its zone id was followed", Fix: "check the coordinates"})
		return named
	// The bag says its zone; a GPS fix at the edge may lie metres off.
	case named.Basis == ByZone:
		return named
	// ground of the field where the survey has no zone
	case zone == "":
		return Located{Basis: ByPoint, Field: field}
	}
	return Located{Basis: ByPoint, Field: field, Zones: []string{zone}}
}

// named places a sample by the ids it gives; why says what is wrong with them.
func (g Ground) named(s *Sample, faults *diag.List) (l Located, why string) {
	field := s.Place.Field
	if g.HasField != nil && !g.HasField(field) && g.HasField(unguarded(field)) {
		// only where the id as written is unknown: a real id may begin with the mark
		field = unguarded(field)
	}
	if field != "" && g.HasField != nil && !g.HasField(field) {
		var meant []string
		if g.FieldsNamed != nil {
			meant = g.FieldsNamed(field)
		}
		switch {
		case len(meant) == 0:
			return l, "there is no field " + quoted(field)
		// Two fields may share a name; which of them the bag is from, nobody can know.
		case len(meant) > 1:
			return l, quoted(field) + " may be any of the fields " + strings.Join(meant, ", ")
		}
		faults.Notice(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Field: "place", Kind: "field by name",
			What: "no field has the id " + quoted(field) + "; the field " + quoted(meant[0]) + " is taken, whose id or name reads so but for capitals", Fix: "write the id if another is meant"})
		field = meant[0]
	}
	if z := s.Place.Zone; z != "" && g.FieldOfZone != nil {
		of, ok := g.FieldOfZone(z)
		if bare := unguarded(z); !ok && bare != z {
			of, ok = g.FieldOfZone(bare)
			z = bare
		}
		switch {
		case !ok:
			return l, "there is no zone " + quoted(z)
		case field != "" && field != of:
			return l, "zone " + quoted(z) + " is not in field " + quoted(field)
		}
		return Located{Basis: ByZone, Field: of, Zones: []string{z}}, ""
	}
	if u := s.Place.MapUnit; u != "" && g.ZonesOfUnit != nil {
		// the function may hand out a list of its own, which must not be sorted
		zones := slices.Clone(g.ZonesOfUnit(u, field))
		if len(zones) == 0 {
			return l, "no zone lies on map unit " + quoted(u)
		}
		slices.Sort(zones)
		return Located{Basis: ByMapUnit, Field: field, Zones: zones}, ""
	}
	// the farthest: it speaks for all of the field
	if field != "" {
		return Located{Basis: ByField, Field: field}, ""
	}
	return l, ""
}

// unguarded takes away the ' that tables put before an id that begins like a formula, as those of this program do, so
// that an id that was copied from one is found again.
func unguarded(id string) string {
	if len(id) > 1 && id[0] == '\'' && strings.IndexByte("=+-@", id[1]) >= 0 {
		return id[1:]
	}
	return id
}
