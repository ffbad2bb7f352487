package field

import (
	"math"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo"
	"rootworthy/soils/unit"
)

// readCut reads fields with exclusions.
func readCut(t *testing.T, fields, exclude string) ([]Field, *diag.List, error) {
	t.Helper()
	files := mapOf([]string{"f.geojson", fields, "x.geojson", exclude})
	faults := &diag.List{}
	out, err := Read(t.Context(), []Source{{Name: "f.geojson", Files: files, Path: "f.geojson"}},
		Options{Exclude: []Source{{Name: "x.geojson", Files: files, Path: "x.geojson"}}}, faults)
	return out, faults, err
}

// TestExclude cuts a corner off, a pond out, and takes a whole field away. What is left and what is cut out make the
// field.
func TestExclude(t *testing.T) {
	field, _, err := read(t, Options{}, "f.geojson", collection(feature("1", "", square(-91, 33))))
	if err != nil {
		t.Fatal(err)
	}
	whole := areaOf(field[0].Shape)
	corner := "[[[-90.995,33.005],[-90.9,33.005],[-90.9,33.1],[-90.995,33.1],[-90.995,33.005]]]"
	pond := "[[[-90.998,33.002],[-90.996,33.002],[-90.996,33.004],[-90.998,33.002]]]"
	fields, faults, err := readCut(t, collection(feature("1", "", square(-91, 33)), feature("2", "", square(-90.97, 33.01)), feature("3", "", square(-95, 33))),
		collection(feature("", "", corner), feature("", "", pond), feature("", "", square(-99, 33))))
	if err != nil {
		t.Fatal(err)
	}
	f := fields[0]
	if len(f.Shape) != 1 || len(f.Shape[0]) != 2 || math.Abs(float64(f.Excluded+areaOf(f.Shape)-whole)) > 1e-6*float64(whole) {
		t.Errorf("left %v of %v, cut out %v, shape %v", areaOf(f.Shape), whole, f.Excluded, f.Shape)
	}
	// A quarter of the square and a triangle of two hundredths of it. The northern quarter is smaller by the cosine of
	// latitude, which changes by 3e-5 over a quarter of the square.
	if want := whole * (0.25 + 0.02); math.Abs(float64(f.Excluded/want)-1) > 1e-3 {
		t.Errorf("cut out %v, want about %v", f.Excluded, want)
	}
	if len(fields[1].Shape) != 0 || fields[1].Trouble != "it lies wholly in the ground to exclude" || fields[2].Excluded != 0 {
		t.Errorf("whole field %+v, untouched %v", fields[1], fields[2].Excluded)
	}
	for _, want := range []string{"f.geojson:3 (2): it lies wholly in the ground to exclude", "x.geojson:4 (feature 3): it meets no field"} {
		if !strings.Contains(faults.String(), want) {
			t.Errorf("%q is not told in:\n%v", want, faults)
		}
	}
	if faults.Faults() != 1 {
		t.Errorf("%d faults", faults.Faults())
	}
}

// Half a field is told; a shared edge and a millimetre are not.
func TestOverlapIsTold(t *testing.T) {
	fields, faults, err := read(t, Options{}, "f.geojson", collection(
		feature(`"A"`, "", square(-91, 33)), feature(`"B"`, "", square(-90.995, 33)), feature(`"C"`, "", square(-90.985, 33)), feature(`"D"`, "", square(-91, 33.00999999))))
	if err != nil {
		t.Fatal(err)
	}
	// B lies half on A; C shares an edge with B; D overlaps A by a millimetre.
	half := areaOf(fields[0].Shape) / 2
	if want := "f.geojson:3 (B): it overlaps the field A by " + area(half) + ", which count for both\n"; faults.String() != want || faults.Faults() > 0 {
		t.Errorf("told %q, want %q", faults, want)
	}
}

// TestBothOwnersHearOfAnOverlap: each field of a pair of two owners is told, and that of one owner the later one alone.
func TestBothOwnersHearOfAnOverlap(t *testing.T) {
	owned := func(id, owner string, west float64) string {
		return feature(id, `"owner":"`+owner+`"`, square(west, 33))
	}
	_, faults, err := read(t, Options{Customer: "owner"}, "f.geojson", collection(owned(`"A"`, "Moss", -91), owned(`"B"`, "Moss", -90.995), owned(`"C"`, "Thorn", -90.99)))
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, f := range faults.Kept() {
		told = append(told, f.Ground+": "+f.What[:len("it overlaps the field X")])
	}
	if want := []string{"B: it overlaps the field A", "B: it overlaps the field C", "C: it overlaps the field B"}; !slices.Equal(told, want) {
		t.Errorf("told %q, want %q", told, want)
	}
}

// TestOverlapInPartsAndHoles compares the clipped way with the whole shapes.
func TestOverlapInPartsAndHoles(t *testing.T) {
	ring := "[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33.01],[-91,33]],[[-90.998,33.002],[-90.998,33.008],[-90.992,33.008],[-90.992,33.002],[-90.998,33.002]]]"
	fields, faults, err := read(t, Options{}, "f.geojson", collection(feature(`"A"`, "", ring), feature(`"in its hole"`, "", "[[[-90.997,33.003],[-90.993,33.003],[-90.993,33.007],[-90.997,33.003]]]"),
		feature(`"across"`, "", "[[[-91.01,33.004],[-90.98,33.004],[-90.98,33.006],[-91.01,33.006],[-91.01,33.004]]]")))
	if err != nil || faults.Notices() != 2 {
		t.Fatal(err, faults)
	}
	a, b := onGrid(fields[0].Shape), onGrid(fields[2].Shape)
	got := overlap(a, b, boxOf(fields[0].Shape), boxOf(fields[2].Shape))
	all := geo.Box{X0: -1 << 60, Y0: -1 << 60, X1: 1 << 60, Y1: 1 << 60}
	if want := overlap(a, b, all, all); math.Abs(float64(got-want)) > 1e-3 || want < 1000 {
		t.Errorf("clipped %v, whole %v", got, want)
	}
}

// TestManyOnOneSpot: ten thousand times the same box make 5e7 pairs; only a bounded number is looked at.
func TestManyOnOneSpot(t *testing.T) {
	boxes := make([]geo.Box, 10_000)
	for i := range boxes {
		boxes[i] = geo.Box{X1: 10, Y1: 10}
	}
	pairs, whole := pairsThatMeet(boxes)
	if whole || len(pairs) > 2*maxPairs*len(boxes) {
		t.Errorf("%d pairs, whole %v", len(pairs), whole)
	}
}

func TestAreasInWords(t *testing.T) {
	if got := area(50); got != "0.01 ac (0.005 ha)" {
		t.Errorf("50 m² is %s", got)
	}
	// 1 acre = 4046.8564224 m², exact.
	if got := area(unit.Area(4046.8564224)); got != "1.00 ac (0.40 ha)" {
		t.Errorf("an acre is %s", got)
	}
}
