package run_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// many returns a result of n fields of Quillmoor, 1.6 zones a field.
func many(n int) *suitability.Result {
	farm := quillmoor.Result()
	r := &suitability.Result{Provenance: farm.Provenance}
	for i := range n {
		f := farm.Fields[i%len(farm.Fields)]
		f.ID = fmt.Sprintf("%s-%d", f.ID, i)
		zones := f.Zones
		f.Zones = nil
		for _, k := range zones {
			z := farm.Zones[k]
			z.ID, z.FieldID = fmt.Sprintf("%s/%d", f.ID, z.Number), f.ID
			f.Zones = append(f.Zones, len(r.Zones))
			r.Zones = append(r.Zones, z)
		}
		r.Fields = append(r.Fields, f)
	}
	return r
}

func BenchmarkWrite1000Fields(b *testing.B) {
	r, dir := many(1000), filepath.Join(b.TempDir(), "run")
	for b.Loop() {
		if err := run.Write(dir, r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead1000Fields(b *testing.B) {
	dir := filepath.Join(b.TempDir(), "run")
	if err := run.Write(dir, many(1000)); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := run.Read(os.DirFS(dir)); err != nil {
			b.Fatal(err)
		}
	}
}
