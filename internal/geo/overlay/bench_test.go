package overlay

import (
	"context"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/paulmach/orb"
)

// BenchmarkFields cuts fields with the real survey AR017 and reports microseconds a field.
func BenchmarkFields(b *testing.B) {
	survey, keys := shapefile(b, needData(b, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	c := coverageOf(b, survey, keys)
	rnd := rand.New(rand.NewPCG(1, 5))
	var fields []orb.MultiPolygon
	for range 1000 {
		s := survey[rnd.IntN(len(survey))][0][0]
		fields = append(fields, randomField(rnd, s[rnd.IntN(len(s))]))
	}
	for _, bench := range []struct {
		name string
		opt  Options
	}{{"areas", Options{}}, {"dissolved", Options{Dissolve: true}}, {"all", Options{Dissolve: true, Gaps: true, Boundary: true}}} {
		b.Run(bench.name, func(b *testing.B) {
			bench.opt.Workers = 1
			for b.Loop() {
				if err := c.Run(context.Background(), sequence(fields), bench.opt, func(Cut) error { return nil }); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(fields)), "µs/field")
		})
	}
}

// BenchmarkMemory reports what a coverage of AR017 keeps in memory: at most 24 bytes a vertex and 200 a polygon are
// allowed.
func BenchmarkMemory(b *testing.B) {
	survey, keys := shapefile(b, needData(b, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	vertices := 0
	for _, s := range survey {
		for _, ring := range s[0] {
			vertices += len(ring) - 1
		}
	}
	for b.Loop() {
		held := heldBy(func() any {
			c := coverageOf(b, survey, keys)
			c.Prepare()
			return c
		})
		b.ReportMetric((float64(held)-200*float64(len(survey)))/float64(vertices), "B/vertex")
	}
}

// heldBy returns how many bytes of the heap what make returns keeps.
func heldBy(create func() any) uint64 {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	kept := create()
	runtime.GC()
	runtime.ReadMemStats(&after)
	runtime.KeepAlive(kept)
	return after.HeapAlloc - before.HeapAlloc
}

// TestMemory holds a survey to 24 bytes a vertex and 200 a polygon. Slabs are not always full, so it takes the survey
// several times.
func TestMemory(t *testing.T) {
	survey, keys := shapefile(t, needData(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	vertices, polygons := 0, 0
	c := New()
	held := heldBy(func() any {
		for range 4 {
			for i, s := range survey {
				if err := c.Add(keys[i], s); err != nil {
					t.Fatal(err)
				}
				for _, ring := range s[0] {
					vertices += len(ring) - 1
				}
				polygons++
			}
		}
		c.Prepare()
		return c
	})
	if limit := uint64(24*vertices + 200*polygons); held > limit {
		t.Errorf("%d bytes for %d vertices in %d polygons, more than %d", held, vertices, polygons, limit)
	}
}
