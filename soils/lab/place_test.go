package lab

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// An invented farm: field "west" from longitude 0 to 1 with zones west/1 below latitude 1 and west/2 above, field "east"
// from 1 to 2 without zones drawn.
var farm = Ground{
	At: func(p orb.Point) (field, zone string, ok bool) {
		switch {
		case p[0] < 0 || p[0] > 2:
			return "", "", false
		case p[0] > 1:
			return "east", "", true
		case p[1] < 1:
			return "west", "west/1", true
		}
		return "west", "west/2", true
	},
	HasField:    func(f string) bool { return f == "west" || f == "east" },
	FieldsNamed: FieldsNamed([][2]string{{"west", "Home Field"}, {"east", "Back"}, {"north", "Back"}}),
	FieldOfZone: func(z string) (string, bool) {
		f, _, ok := strings.Cut(z, "/")
		return f, ok && f == "west"
	},
	ZonesOfUnit: func(u, field string) []string {
		if u == "123" {
			return []string{"west/2", "west/1"}
		}
		return nil
	},
}

// Where id and point agree the finer one counts; a point in another field is refused, one in another zone of the field told only.
func TestLocate(t *testing.T) {
	at := func(lon, lat float64) unit.Opt[orb.Point] { return unit.Some(orb.Point{lon, lat}) }
	for name, c := range map[string]struct {
		place Place
		want  Located
		kind  string // of what is told; empty for nothing
	}{
		"zone":                    {Place{Zone: "west/2"}, Located{Basis: ByZone, Field: "west", Zones: []string{"west/2"}}, ""},
		"zone and field":          {Place{Zone: "west/2", Field: "west"}, Located{Basis: ByZone, Field: "west", Zones: []string{"west/2"}}, ""},
		"zone of another field":   {Place{Zone: "west/2", Field: "east"}, Located{}, "unknown place"},
		"no such zone":            {Place{Zone: "north/2"}, Located{}, "unknown place"},
		"no such field":           {Place{Field: "south"}, Located{}, "unknown place"},
		"field by its name":       {Place{Field: "home  FIELD"}, Located{Basis: ByField, Field: "west"}, "field by name"},
		"id in capitals":          {Place{Field: "East"}, Located{Basis: ByField, Field: "east"}, "field by name"},
		"name of two fields":      {Place{Field: "Back"}, Located{}, "unknown place"},
		"field":                   {Place{Field: "east"}, Located{Basis: ByField, Field: "east"}, ""},
		"point":                   {Place{Point: at(0.5, 1.5)}, Located{Basis: ByPoint, Field: "west", Zones: []string{"west/2"}}, ""},
		"point in a field":        {Place{Point: at(1.5, 1.5)}, Located{Basis: ByPoint, Field: "east"}, ""},
		"point outside":           {Place{Point: at(5, 5)}, Located{}, "outside"},
		"point refines field":     {Place{Field: "west", Point: at(0.5, 0.5)}, Located{Basis: ByPoint, Field: "west", Zones: []string{"west/1"}}, ""},
		"point in another field":  {Place{Field: "east", Point: at(0.5, 0.5)}, Located{}, "two places"},
		"point outside, field":    {Place{Field: "west", Point: at(5, 5)}, Located{Basis: ByField, Field: "west"}, "outside"},
		"zone beats nearby point": {Place{Zone: "west/1", Point: at(0.5, 1.01)}, Located{Basis: ByZone, Field: "west", Zones: []string{"west/1"}}, "other zone"},
		"map unit":                {Place{MapUnit: "123"}, Located{Basis: ByMapUnit, Zones: []string{"west/1", "west/2"}}, ""},
		"map unit nowhere":        {Place{MapUnit: "9"}, Located{}, "unknown place"},
		"map unit with point":     {Place{MapUnit: "123", Point: at(0.5, 0.5)}, Located{Basis: ByPoint, Field: "west", Zones: []string{"west/1"}}, ""},
		"nothing":                 {Place{}, Located{}, "no place"},
	} {
		var faults diag.List
		got := Locate([]Sample{{ID: "A", File: "f", Line: 3, Place: c.place}}, farm, &faults)[0]
		k := faults.Kept()
		kind := ""
		if len(k) > 0 {
			kind = k[0].Kind
		}
		if fmt.Sprint(got) != fmt.Sprint(c.want) || kind != c.kind || len(k) > 1 || len(k) == 1 && (k[0].Line != 3 || k[0].Fix == "") {
			t.Errorf("%s: %+v (%v), want %+v and %q", name, got, k, c.want, c.kind)
		}
	}
	// Without anybody to ask, ids stand as given and points place nothing.
	var faults diag.List
	got := Locate([]Sample{{Place: Place{Field: "anything"}}, {Place: Place{Point: at(1, 1)}}}, Ground{}, &faults)
	if got[0].Basis != ByField || got[1].Basis != NotPlaced || got[1].Sample != 1 || faults.Faults() != 1 {
		t.Errorf("%+v; %s", got, &faults)
	}
}

// Layers that overlap stay apart in the account: it shows what was sampled, not what to make of it.
func TestLayersAndOverlap(t *testing.T) {
	layer := func(top, bottom unit.Depth) Sample { return Sample{Top: unit.Some(top), Bottom: unit.Some(bottom)} }
	samples := []Sample{layer(30, 60), layer(0, 15), {}, layer(15, 30), layer(0, 15), layer(0, 30)}
	var got []string
	n := 0
	for _, l := range Layers(samples) {
		got = append(got, l.String())
		n += len(l.Samples)
	}
	if want := []string{"0 to 15 cm: 2 samples", "0 to 30 cm: 1 sample", "15 to 30 cm: 1 sample", "30 to 60 cm: 1 sample", "depth not stated: 1 sample"}; !slices.Equal(got, want) || n != len(samples) {
		t.Errorf("layers %q, want %q", got, want)
	}
	for _, c := range []struct {
		s           Sample
		top, bottom unit.Depth
		want        unit.Depth
		ok          bool
	}{
		{layer(0, 15), 0, 20, 15, true},
		{layer(10, 25), 0, 20, 10, true},
		{layer(0, 15), 30, 60, 0, true},
		{layer(15, 30), 30, 60, 0, true},
		{Sample{}, 0, 20, 0, false},
	} {
		if got, ok := c.s.Overlap(c.top, c.bottom); got != c.want || ok != c.ok {
			t.Errorf("%v to %v in %v to %v: %v, %v, want %v", c.s.Top, c.s.Bottom, c.top, c.bottom, got, ok, c.want)
		}
	}
}

// Three years to the day are still good; where both days are known that of sampling counts.
func TestCheckAge(t *testing.T) {
	today := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	day := func(s string) unit.Opt[time.Time] { d, _ := readDay(s, orderUnclear); return unit.Some(d) }
	for name, c := range map[string]struct {
		s    Sample
		kind string
	}{
		"fresh":             {Sample{Taken: day("2026-03-14")}, ""},
		"three years today": {Sample{Taken: day("2023-11-25")}, ""},
		"a day over":        {Sample{Taken: day("2023-11-24")}, "old test"},
		"reported counts":   {Sample{Reported: day("2019-01-01")}, "old test"},
		"taken wins":        {Sample{Taken: day("2026-01-01"), Reported: day("2019-01-01")}, ""},
		"no date":           {Sample{}, "no date"},
		"tomorrow":          {Sample{Taken: day("2026-11-26")}, "future date"},
	} {
		var faults diag.List
		CheckAge([]Sample{c.s}, today, &faults)
		kind := ""
		if k := faults.Kept(); len(k) > 0 {
			kind = k[0].Kind
		}
		if kind != c.kind || c.s.Stale(today) != (c.kind == "old test") || (c.kind == "future date") != (faults.Faults() == 1) {
			t.Errorf("%s: %q, want %q", name, kind, c.kind)
		}
	}
}

// TestGuardedIDs: an id copied from a table of this program, where a ' stands before what begins like a formula, names
// the same place.
func TestGuardedIDs(t *testing.T) {
	g := Ground{HasField: func(id string) bool { return id == "-12" || id == "'-13" }, FieldOfZone: func(id string) (string, bool) { return "-12", id == "-12/1" }}
	for _, tc := range []struct{ field, zone, want string }{
		{"'-12", "", "-12 []"}, {"-12", "", "-12 []"}, {"'-13", "", "'-13 []"}, {"'-12", "'-12/1", "-12 [-12/1]"}, {"", "'-12/1", "-12 [-12/1]"},
	} {
		faults := &diag.List{}
		got := Locate([]Sample{{ID: "1", Place: Place{Field: tc.field, Zone: tc.zone}}}, g, faults)[0]
		if said := fmt.Sprint(got.Field, " ", got.Zones); said != tc.want || faults.Faults() > 0 {
			t.Errorf("%q, %q: %s %v, want %s", tc.field, tc.zone, said, faults, tc.want)
		}
	}
}
