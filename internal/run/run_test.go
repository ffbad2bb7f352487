package run_test

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"testing/fstest"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// bytesOf writes every file of a run to memory.
func bytesOf(t *testing.T, r *suitability.Result) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	stamped := *r
	stamped.Provenance.Schema = run.Schema
	for _, name := range run.Files() {
		var b bytes.Buffer
		if err := run.WriteFile(&b, name, &stamped); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = &fstest.MapFile{Data: b.Bytes()}
	}
	return out
}

func sameFiles(t *testing.T, got, want fstest.MapFS) {
	t.Helper()
	for _, name := range run.Files() {
		if !bytes.Equal(got[name].Data, want[name].Data) {
			t.Errorf("%s differs\n got: %.600s\nwant: %.600s", name, got[name].Data, want[name].Data)
		}
	}
}

// The folder loses nothing: read back and written again it is the same to the byte.
func TestWhatIsReadIsWrittenToTheSameBytes(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "run")
	if err := run.Write(dir, quillmoor.Result()); err != nil {
		t.Fatal(err)
	}
	r, err := run.Read(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	sameFiles(t, bytesOf(t, r), bytesOf(t, quillmoor.Result()))
	onDisk := fstest.MapFS{}
	for _, name := range run.Files() {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		onDisk[name] = &fstest.MapFile{Data: b}
	}
	sameFiles(t, onDisk, bytesOf(t, quillmoor.Result()))
}

// The order of zones in memory is an accident of threads; files must not show it.
func TestOrderInMemoryDoesNotShow(t *testing.T) {
	want := bytesOf(t, quillmoor.Result())
	for seed := range uint64(8) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		r := quillmoor.Result()
		shuffled := make([]suitability.Zone, len(r.Zones))
		to := rnd.Perm(len(r.Zones))
		for i, z := range r.Zones {
			shuffled[to[i]] = z
		}
		r.Zones = shuffled
		for i := range r.Fields {
			for j, k := range r.Fields[i].Zones {
				r.Fields[i].Zones[j] = to[k]
			}
			zones := r.Fields[i].Zones
			rnd.Shuffle(len(zones), func(a, b int) { zones[a], zones[b] = zones[b], zones[a] })
		}
		sameFiles(t, bytesOf(t, r), want)
	}
}

// Counts of faults that were not kept come back field by field, so that a report of some fields can count its own.
func TestCountsOfFaultsComeBack(t *testing.T) {
	r := quillmoor.Result()
	r.Faults[1].More = map[string]int{"": 2, "Q1": 1, "Q3": 40}
	files := bytesOf(t, r)
	got, err := run.Read(files)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got.Faults, r.Faults) {
		t.Errorf("got  %+v\nwant %+v", got.Faults, r.Faults)
	}
	sameFiles(t, bytesOf(t, got), files)
}
