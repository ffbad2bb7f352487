package ssurgo_test

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/soils"
)

var seed = flag.Uint64("seed", 1, "seed of the shuffled surveys")

// shuffled returns the export with the records of every table in another order. No record of the excerpt runs over lines.
func shuffled(export fstest.MapFS, rng *rand.Rand) fstest.MapFS {
	out := fstest.MapFS{}
	for name, f := range export {
		lines := strings.SplitAfter(strings.TrimSuffix(string(f.Data), "\n")+"\n", "\n")
		lines = lines[:len(lines)-1]
		rng.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		out[name] = &fstest.MapFile{Data: []byte(strings.Join(lines, ""))}
	}
	return out
}

// The format promises no order of records, so none may matter.
func TestOrderOfRecordsChangesNothing(t *testing.T) {
	export := excerpt(t)
	want, _ := read(t, export)
	for i := range 5 {
		got, faults := read(t, shuffled(export, rand.New(rand.NewPCG(*seed, uint64(i)))))
		if !reflect.DeepEqual(got, want) {
			t.Errorf("-seed %d, case %d: another survey from shuffled records", *seed, i)
		}
		if faults.Faults()+faults.Notices() > 0 {
			t.Errorf("faults from shuffled records:\n%s", faults)
		}
	}
}

// The tables of MO181 that we read; in a real survey of this size components tie by percent and name.
func TestOrderOfRecordsChangesNothingInAWholeSurvey(t *testing.T) {
	folder := realFolder(t, "ssurgo-mo181-tabular")
	export := fstest.MapFS{}
	for _, table := range []string{"legend", "mapunit", "comp", "chorizon", "chtexgrp", "chtextur", "crstrcts", "cmonth", "csmoist"} {
		b, err := os.ReadFile(filepath.Join(folder, "tabular", table+".txt"))
		if err != nil {
			t.Fatal(err)
		}
		export["tabular/"+table+".txt"] = &fstest.MapFile{Data: b}
	}
	want, _ := read(t, export)
	got, _ := read(t, shuffled(export, rand.New(rand.NewPCG(*seed, 0))))
	if !reflect.DeepEqual(got, want) {
		t.Errorf("-seed %d: another survey from shuffled records", *seed)
	}
}

// Component and horizon keys change with every yearly refresh. Renumbered in falling order they would turn every
// order by key around.
func TestKeysOfComponentsAndHorizonsChangeNothing(t *testing.T) {
	export := excerpt(t)
	want, _ := read(t, export)
	key := regexp.MustCompile(`"(2185|6444)\d{4}"`)
	if !key.Match(export["tabular/chorizon.txt"].Data) {
		t.Fatal("no keys of that form in the excerpt")
	}
	for _, f := range export {
		f.Data = key.ReplaceAllFunc(f.Data, func(b []byte) []byte {
			n := 0
			fmt.Sscanf(string(b), `"%d"`, &n)
			return fmt.Appendf(nil, `"%d"`, 999999999-n)
		})
	}
	got, _ := read(t, export)
	if got.Units[0].Components[0].Key == want.Units[0].Components[0].Key {
		t.Fatal("the keys were not renumbered")
	}
	withoutKeys(got)
	withoutKeys(want)
	if !reflect.DeepEqual(got, want) {
		t.Error("another survey from renumbered keys")
	}
}

// withoutKeys drops what the agency numbers anew with every edition.
func withoutKeys(s *soils.Survey) {
	for i := range s.Units {
		for j := range s.Units[i].Components {
			c := &s.Units[i].Components[j]
			c.Key = ""
			for k := range c.Horizons {
				c.Horizons[k].Key = ""
			}
		}
	}
}

// The same in an export where records of one key stand twice, with other values and under other parents.
func TestOrderOfRecordsChangesNothingInDamage(t *testing.T) {
	export := excerpt(t)
	swaps := map[string][]string{ // digits and words that make another record of the same key
		"legend": {"20000", "12000"}, "sacatlog": {"09/13/2021", "09/14/2021", "|22|", "|23|"},
		"mapunit": {"Consociation", "Complex"}, "comp": {`"565250"`, `"565269"`, "|0.5|", "|7.5|"},
		"chorizon": {"|5.3|", "|6.9|", `"21851322"`, `"21851401"`}, "chtexgrp": {"|Yes|", "|No |", `"SIL"`, `"L"`},
		"cmonth": {`"None"`, `"Rare"`, `"21851401"`, `"21851322"`}, "csmoist": {"Wet", "Moist"},
	}
	for table, swap := range swaps {
		f := export["tabular/"+table+".txt"]
		again := strings.NewReplacer(swap...).Replace(string(f.Data))
		if again == string(f.Data) {
			t.Fatalf("%s: nothing to swap", table)
		}
		f.Data = append(append([]byte(nil), f.Data...), again...)
	}
	want, faults := read(t, export)
	if faults.Faults() == 0 {
		t.Fatal("the damage was not told")
	}
	for i := range 10 {
		got, _ := read(t, shuffled(export, rand.New(rand.NewPCG(*seed, uint64(i)))))
		if !reflect.DeepEqual(got, want) {
			t.Errorf("-seed %d, case %d: another survey from shuffled records", *seed, i)
		}
	}
}
