package diag

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What is kept and counted does not depend on the order in which faults come: several workers add them.
func TestOrderOfAddingDoesNotShow(t *testing.T) {
	var faults []Fault
	for i := range 40 {
		faults = append(faults, Fault{File: "f.shp", Feature: fmt.Sprint(i + 1), Ground: fmt.Sprint(i + 1), Kind: "outside", What: "outside"})
	}
	told := func() []Fault {
		var l List
		for _, f := range faults {
			l.Add(f)
		}
		return l.Kept()
	}
	want := told()
	if want[0].Feature != "1" || want[4].Feature != "5" || len(want[4].More) != 35 { // the numbers in names count, not their letters
		t.Fatalf("kept %v", want)
	}
	r := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		r.Shuffle(len(faults), func(i, j int) { faults[i], faults[j] = faults[j], faults[i] })
		if got := told(); !reflect.DeepEqual(got, want) {
			t.Fatalf("got  %v\nwant %v", got, want)
		}
	}
}

// Choosing fields from what was kept tells as many faults as a list to which only those of the chosen fields were added.
func TestOnlyCountsWhatBelongsToTheChosen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all, some List
		chosen := func(ground string) bool { return ground != "" && ground[len(ground)-1]%2 == 0 }
		withoutField := 0
		for i, n := range rapid.SliceOfN(rapid.IntRange(0, 30), 0, 60).Draw(t, "grounds") {
			ground := ""
			if n > 0 {
				ground = fmt.Sprint("F", n)
			}
			f := Fault{Severity: Severity(n % 2), File: "f.geojson", Line: rapid.IntRange(1, 90).Draw(t, "line"), Kind: fmt.Sprint("kind ", n%3), Ground: ground, What: fmt.Sprint("what ", i)}
			all.Add(f)
			switch {
			case ground == "":
				withoutField++
			case chosen(ground):
				some.Add(f)
			}
		}
		named, counted := map[string]bool{}, 0
		for _, f := range Only(all.Kept(), chosen) {
			if f.Ground != "" && !chosen(f.Ground) {
				t.Fatalf("%v is of a field that was not chosen", f)
			}
			named[f.Ground] = true
			if f.Ground != "" {
				counted++
			}
			for ground, n := range f.More {
				if !chosen(ground) {
					t.Fatalf("%v counts field %q, which was not chosen", f, ground)
				}
				counted += n
			}
		}
		words := 0 // of stand-ins for faults whose words were not kept: they name fields and count nothing
		for _, f := range Only(all.Kept(), chosen) {
			if f.Fix != "" {
				words++
			}
		}
		if want := some.Faults() + some.Notices(); counted != want && words == 0 || counted > want {
			t.Fatalf("%d told or counted, %d are of the chosen fields", counted, want)
		}
	})
}

// A field whose faults came after five others of their kind is not forgotten when it is chosen.
func TestWordsThatWereNotKept(t *testing.T) {
	var l List
	for i := range 20 {
		l.Notice(Fault{File: "f.geojson", Line: i + 1, Ground: fmt.Sprint("F", i+1), Feature: fmt.Sprint("F", i+1), Kind: "overlap", What: "it overlaps"})
	}
	l.Notice(Fault{Kind: "no date", What: "no day to count from"})
	is := func(ids ...string) func(string) bool { return func(g string) bool { return slices.Contains(ids, g) } }
	for _, c := range []struct {
		ids  []string
		want []string
	}{
		{[]string{"F2", "F9", "F10"}, []string{"no day to count from", "f.geojson:2 (F2): it overlaps (and 2 more like it)"}},
		{[]string{"F2"}, []string{"no day to count from", "f.geojson:2 (F2): it overlaps"}},
		{[]string{"F9", "F10"}, []string{"no day to count from",
			`f.geojson: "overlap" was told of F9, F10 too; the words are kept of the first 5 of a kind alone; screen fewer fields at a time to read them`}},
	} {
		var got []string
		for _, f := range Only(l.Kept(), is(c.ids...)) {
			got = append(got, f.String())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v:\ngot  %q\nwant %q", c.ids, got, c.want)
		}
	}
}

// A count of faults about no field is of the whole run, and says so.
func TestCountsOfTheWholeRunSaySo(t *testing.T) {
	var l List
	for i := range 8 {
		l.Notice(Fault{File: "lab.csv", Line: i + 1, Kind: "old test", What: "old"})
	}
	got := Only(l.Kept(), func(string) bool { return true })
	if want := "lab.csv:5: old (and 3 more like it in the whole run)"; got[4].String() != want {
		t.Errorf("got %q, want %q", got[4], want)
	}
}

func TestByNumbers(t *testing.T) {
	order := []string{"", "01", "1", "9", "0010", "10", "F", "F1", "F2 b", "F2 c", "F10", "F10 a", "G"}
	for i, a := range order {
		for j, b := range order {
			got := byNumbers(a, b)
			if (got < 0) != (i < j) || (got == 0) != (i == j) {
				t.Errorf("byNumbers(%q, %q) = %d", a, b, got)
			}
		}
	}
}
