package field

import (
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
)

// feature returns a GeoJSON feature; properties without braces, coordinates of a Polygon.
func feature(id, properties, coordinates string) string {
	if id != "" {
		id = `"id":` + id + `,`
	}
	return `{"type":"Feature",` + id + `"properties":{` + properties + `},"geometry":{"type":"Polygon","coordinates":` + coordinates + `}}`
}

// collection returns a GeoJSON file with a feature on each line from the second on.
func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + "\n" + strings.Join(features, ",\n") + "\n]}"
}

// square returns the coordinates of a square of 0.01 degrees with its lower left corner there.
func square(x, y float64) string {
	return fmt.Sprintf("[[[%g,%g],[%g,%g],[%g,%g],[%g,%g],[%g,%g]]]", x, y, x+.01, y, x+.01, y+.01, x, y+.01, x, y)
}

// read reads files, given in turn by name and content.
func read(t testing.TB, opt Options, files ...string) ([]Field, *diag.List, error) {
	t.Helper()
	fsys := fstest.MapFS{}
	var sources []Source
	for i := 0; i < len(files); i += 2 {
		fsys[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
		sources = append(sources, Source{Name: files[i], Files: fsys, Path: files[i]})
	}
	faults := &diag.List{}
	fields, err := Read(context.Background(), sources, opt, faults)
	return fields, faults, err
}

func idsOf(fields []Field) (ids []string) {
	for _, f := range fields {
		ids = append(ids, f.ID)
	}
	return ids
}

// Each case is one way in which files name their fields, and what a name that fails is replaced by.
func TestIDs(t *testing.T) {
	at := func(i int) string { return square(-91-float64(i)/10, 33) }
	for _, tc := range []struct {
		name string
		opt  Options
		text string
		want []string
		said string // the only fault; none when empty
	}{
		{"property of --id", Options{ID: "tract"}, collection(feature(`"x"`, `"tract":12.0,"field_id":"a"`, at(0)), feature(`"y"`, `"tract":"7b","field_id":"b"`, at(1))), []string{"12", "7b"}, ""},
		{"--id in other capitals", Options{ID: "TRACT"}, collection(feature("", `"tract":1`, at(0)), feature("", `"Tract":2`, at(1))), []string{"1", "2"}, ""},
		{"--id missing in one", Options{ID: "tract"}, collection(feature("", `"tract":"T"`, at(0)), feature("", `"tract":null`, at(1))), []string{"T", "2"},
			`f.geojson:3 (feature 2): tract: it has no tract; it is called "2" here; fill it in`},
		{"--id missing in all", Options{ID: "tract"}, collection(feature(`"x"`, `"a":1,"b":2`, at(0)), feature(`"y"`, `"c":1`, at(1))), []string{"x", "y"},
			`f.geojson: --id: no field has the property "tract"; there are: a, b, c; name one of them`},
		{"id of the feature", Options{}, collection(feature(`"x"`, `"field_id":"a"`, at(0)), feature(`12`, `"field_id":"b"`, at(1))), []string{"x", "12"}, ""},
		{"id of one feature only", Options{}, collection(feature(`"x"`, `"field_id":"a"`, at(0)), feature("", `"field_id":"b"`, at(1))), []string{"a", "b"}, ""},
		{"first property that is unique", Options{}, collection(feature("", `"field_id":1,"ID":"p","name":"n"`, at(0)), feature("", `"field_id":1,"ID":"q","name":"m"`, at(1))), []string{"p", "q"},
			`f.geojson:3 (feature 2): field_id: "1" is also that of feature 1, so that this property cannot tell the fields apart; id is taken instead; name another property with --id`},
		{"name", Options{}, collection(feature("", `"id":"","name":"n"`, at(0)), feature("", `"id":"q","name":"m"`, at(1))), []string{"n", "m"}, ""},
		{"nothing", Options{}, collection(feature("", `"id":[1]`, at(0)), feature("", `"id":{}`, at(1))), []string{"1", "2"}, ""},
		{"line ends in an id", Options{ID: "a"}, collection(feature("", `"a":" x\ny "`, at(0))), []string{"x y"}, ""},
		{"the same id twice", Options{}, collection(feature(`"x"`, ``, at(0)), feature(`"x"`, ``, at(1))), []string{"x", "x (2)"},
			`f.geojson:3 (feature 2, id "x"): the id "x" is also that of feature 1, id "x" of f.geojson; this one is called "x (2)" here; give each field an id of its own, or name another property with --id`},
		{"very long", Options{}, collection(feature(`"`+strings.Repeat("é", 150)+`"`, ``, at(0))), []string{strings.Repeat("é", 100)},
			`f.geojson:2 (feature 1): its id is longer than 200 bytes, and is cut there; name a shorter property with --id`},
		{"not unique, name is", Options{}, collection(feature("", `"id":0,"name":"n"`, at(0)), feature("", `"id":0,"name":"m"`, at(1))), []string{"n", "m"},
			`f.geojson:3 (feature 2): id: "0" is also that of feature 1, so that this property cannot tell the fields apart; name is taken instead; name another property with --id`},
		{"not unique", Options{}, collection(feature("", `"name":"n"`, at(0)), feature("", `"name":"n"`, at(1))), []string{"1", "2"},
			`f.geojson:3 (feature 2): name: "n" is also that of feature 1, so that this property cannot tell the fields apart; they are numbered; name another property with --id`},
	} {
		fields, faults, err := read(t, tc.opt, "f.geojson", tc.text)
		if said := strings.TrimSpace(faults.String()); err != nil || !reflect.DeepEqual(idsOf(fields), tc.want) || said != tc.said {
			t.Errorf("%s: got %v, %v, said:\n  %s\nwant %v:\n  %s", tc.name, idsOf(fields), err, said, tc.want, tc.said)
		}
	}
}

// Two files of one farm both count from 1: ids must be unique over all of them.
func TestIDsOverSeveralFiles(t *testing.T) {
	a, b := collection(feature("1", "", square(-91, 33))), collection(feature("1", "", square(-91.1, 33)))
	fields, faults, err := read(t, Options{}, "a.geojson", a, "b.geojson", b)
	if err != nil || !reflect.DeepEqual(idsOf(fields), []string{"1", "1 (2)"}) || faults.Faults() != 1 || !strings.Contains(faults.String(), "also that of feature 1, id \"1\" of a.geojson") {
		t.Errorf("got %v, %v, %v", idsOf(fields), err, faults)
	}
}

// Files of several clients name their fields in columns of their own; one without any is numbered by place, and nobody's names are lost.
// Where the choices clash, all are numbered: a name that two fields share is worse than none.
func TestIDsOfFilesThatDiffer(t *testing.T) {
	a := collection(feature("", `"field":"North"`, square(-91, 33)), feature("", `"field":"South"`, square(-91.1, 33)))
	b := collection(feature("", `"acres":12`, square(-91.2, 33)))
	c := collection(feature("7", "", square(-91.3, 33)))
	clash := collection(feature("", `"NAME":"North"`, square(-91.4, 33)))
	number := collection(feature("", `"NAME":"4"`, square(-91.4, 33)))
	for name, tc := range map[string]struct {
		files []string
		want  []string
	}{
		"columns differ": {[]string{"a.geojson", a, "b.geojson", b, "c.geojson", c}, []string{"North", "South", "3", "7"}},
		"names clash":    {[]string{"a.geojson", a, "b.geojson", clash}, []string{"1", "2", "3"}},
		"number clashes": {[]string{"a.geojson", a, "n.geojson", number, "b.geojson", b}, []string{"1", "2", "3", "4"}},
		"nothing at all": {[]string{"b.geojson", b, "b2.geojson", b}, []string{"1", "2"}},
	} {
		fields, faults, err := read(t, Options{}, tc.files...)
		if err != nil || !reflect.DeepEqual(idsOf(fields), tc.want) || faults.Faults() != 0 {
			t.Errorf("%s: got %v, %v, %v", name, idsOf(fields), err, faults)
		}
	}
}

// TestOneIDForAll: many equal ids are told apart in a time that grows with their number, not its square.
func TestOneIDForAll(t *testing.T) {
	drawn := make([]drawing, 50_000)
	for i := range drawn {
		drawn[i].featureID = "x"
	}
	drawn[7].featureID = "x (2)"
	faults := &diag.List{}
	seen := map[string]bool{}
	for _, f := range identify(drawn, Options{}, faults) {
		seen[f.ID] = true
	}
	if len(seen) != len(drawn) || !seen["x (2)"] || !seen["x (49999)"] || faults.Faults() < len(drawn)-2 {
		t.Errorf("%d ids for %d fields, %d faults", len(seen), len(drawn), faults.Faults())
	}
}

// Spellings of properties that people and programs use; what is no plain value (a list) is no name.
func TestOwnersNamesAndDrains(t *testing.T) {
	text := collection(
		feature("1", `"Name":"Home","owner":"Smith & Co","block":7,"drained":true,"z":[1]`, square(-91, 33)),
		feature("2", `"field_name":"Back","owner":null,"DRAINED":"Yes"`, square(-91.1, 33)),
		feature("3", `"drained":"no"`, square(-91.2, 33)))
	fields, faults, err := read(t, Options{Customer: "owner", Farm: "block"}, "f.geojson", text)
	if err != nil || len(faults.Kept()) > 0 {
		t.Fatal(err, faults)
	}
	var got []string
	for _, f := range fields {
		got = append(got, fmt.Sprintf("%s|%s|%s|%v|%d", f.Name, f.Customer, f.Farm, f.Drained, f.Line))
	}
	if want := []string{"Home|Smith & Co|7|true|2", "Back|||true|3", "3|||false|4"}; !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if a := fields[0].Attributes; len(a) != 5 || a[4].Name != "z" || string(a[4].Value) != "[1]" {
		t.Errorf("attributes %v", a)
	}
	_, faults, _ = read(t, Options{Customer: "who", Farm: "what"}, "f.geojson", text)
	if faults.Faults() != 2 || !strings.Contains(faults.String(), `--customer: no field has the property "who"; there are: Name, owner, block, drained, z, field_name, DRAINED`) {
		t.Errorf("missing owner: %v", faults)
	}
}

// TestRepairs: what is told, by whom, and what becomes of the field. Areas are told in acres to two decimals.
func TestRepairs(t *testing.T) {
	for _, tc := range []struct {
		name, coordinates string
		said              string // after the place
		trouble           string
		parts             int
	}{
		{"sound", square(-91, 33), "", "", 1},
		{"unclosed", "[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01]]]", "an open ring was closed; its area is unchanged", "", 1},
		{"repeated", "[[[-91,33],[-91,33],[-90.99,33],[-90.99,33.01],[-90.99,33.01],[-91,33.01],[-91,33]]]", "2 repeated corners were dropped; its area is unchanged", "", 1},
		{"spike", "[[[-91,33],[-90.99,33],[-90.98,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]]]", "2 corners of spikes were cut off; its area is unchanged", "", 1},
		{"bow-tie", "[[[-91,33],[-90.99,33.01],[-90.99,33],[-91,33.01],[-91,33]]]", "its lines cross in one place; its area changes from 0.00 ac (0.00 ha) to 128.", "", 2},
		{"ring twice", "[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]],[[-90.998,33.002],[-90.998,33.004],[-90.996,33.004],[-90.998,33.002]],[[-90.998,33.002],[-90.998,33.004],[-90.996,33.004],[-90.998,33.002]]]", "a ring was drawn twice; its area changes from", "", 1},
		{"hole outside", "[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]],[[-90.9,33],[-90.9,33.01],[-90.89,33.01],[-90.89,33],[-90.9,33]]]", "a hole lies outside its outer line; its area changes from 0.00 ac", "", 2},
		{"touching itself", "[[[-91,33],[-90.99,33],[-90.99,33.01],[-90.995,33.01],[-90.998,33.005],[-90.995,33.01],[-91,33.01],[-91,33]]]", "2 corners of spikes were cut off", "", 1},
		{"pinched to a point", "[[[-91,33],[-90.98,33],[-90.985,33.005],[-90.98,33.01],[-91,33.01],[-90.985,33.005],[-91,33]]]", "its lines touch in one place; its area is unchanged", "", 2},
		{"NaN", "[[[-91,33],[-90.99,33],[NaN,33.005],[-90.99,33.01],[-91,33.01],[-91,33]]]", "a corner that is no number was left out; its area is unchanged", "", 1},
		{"no area", "[[[-91,33],[-90.99,33],[-91,33]]]", "it surrounds no ground (a ring that surrounds nothing was dropped)", "it surrounds no ground", 0},
		{"one corner", "[[[-91,33]]]", "it surrounds no ground", "it surrounds no ground", 0},
		{"hole that fills it", "[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]],[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]]]", "it surrounds no ground", "it surrounds no ground", 0},
		{"corner off the Earth", "[[[-91,33],[-90.99,33],[-90.99,233.01],[-91,33.01],[-91,33]]]", "its corner at -90.99, 233.01 is no place in EPSG:4326", "its corner at", 0},
		{"latitude first", "[[[33,-91],[33.01,-91],[33.01,-90.99],[33,-91]]]", "its coordinates look like latitude, longitude; export it again with longitude first", "its coordinates look like", 0},
	} {
		fields, faults, err := read(t, Options{}, "f.geojson", collection(feature(`"ok"`, "", square(-80, 40)), feature(`"ok2"`, "", square(-81, 40)), feature(`"odd"`, "", tc.coordinates)))
		if err != nil {
			t.Errorf("%s: %v", tc.name, err)
			continue
		}
		f, said := fields[2], ""
		for _, k := range faults.Kept() {
			if k.Kind != "direction" {
				said += strings.TrimPrefix(strings.TrimPrefix(k.String(), "f.geojson:4 (odd): "), `f.geojson:4 (feature 3, id "odd"): `)
			}
			if (k.Severity == diag.Wrong) != (tc.trouble != "") {
				t.Errorf("%s: %v is a %v", tc.name, k, k.Severity)
			}
		}
		if !strings.HasPrefix(said, tc.said) || tc.said == "" && said != "" || !strings.HasPrefix(f.Trouble, tc.trouble) || tc.trouble == "" && f.Trouble != "" || len(f.Shape) != tc.parts {
			t.Errorf("%s: %d parts, trouble %q, said %q\nwant %d parts, %q, %q", tc.name, len(f.Shape), f.Trouble, said, tc.parts, tc.trouble, tc.said)
		}
	}
}

// TestSoundFieldsKeepTheirCoordinates: nothing is rounded that needs no repair; rings are turned only.
func TestSoundFieldsKeepTheirCoordinates(t *testing.T) {
	fields, faults, err := read(t, Options{}, "f.geojson", collection(feature("1", "", "[[[-91.123456789012,33],[-91.1,33.01234567890123],[-91.05,33],[-91.123456789012,33]]]")))
	if err != nil || faults.Notices() != 1 || faults.Kept()[0].What != "rings of one field ran the wrong way and were turned; no ground changes" {
		t.Fatal(err, faults)
	}
	if got := fmt.Sprint(fields[0].Shape); got != "[[[[-91.123456789012 33] [-91.05 33] [-91.1 33.01234567890123] [-91.123456789012 33]]]]" {
		t.Errorf("shape %s", got)
	}
	if !reflect.DeepEqual(fields[0].Repairs, []string{"a ring was turned the other way round"}) {
		t.Errorf("repairs %q", fields[0].Repairs)
	}
}

// Fields and what is told of them, in the same order.
func TestWorkersChangeNothing(t *testing.T) {
	text := made(300)
	one, faultsOne, err1 := read(t, Options{Workers: 1}, "f.geojson", text)
	many, faultsMany, err8 := read(t, Options{Workers: 8}, "f.geojson", text)
	if err1 != nil || err8 != nil || !reflect.DeepEqual(one, many) || faultsOne.String() != faultsMany.String() || faultsOne.Notices() == 0 {
		t.Errorf("1 and 8 workers differ: %v %v\n%v\n%v", err1, err8, faultsOne, faultsMany)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	fsys := fstest.MapFS{"f.geojson": {Data: []byte(made(3))}}
	if _, err := Read(ctx, []Source{{Name: "f.geojson", Files: fsys, Path: "f.geojson"}}, Options{}, &diag.List{}); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}
