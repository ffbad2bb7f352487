package exchange_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"rootworthy/export/exchange"
	"rootworthy/export/quillmoor"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// ring makes a closed ring from steps of 1e-5 degree, about a metre, at an invented place on open sea.
func ring(steps ...float64) orb.Ring {
	var r orb.Ring
	for i := 0; i+1 < len(steps); i += 2 {
		r = append(r, orb.Point{-78.1 + steps[i]*1e-5, 32.5 + steps[i+1]*1e-5})
	}
	return append(r, r[0])
}

// box is a rectangle, counter-clockwise.
func box(x0, y0, x1, y1 float64) orb.Ring { return ring(x0, y0, x1, y0, x1, y1, x0, y1) }

// hole is a box the other way round.
func hole(x0, y0, x1, y1 float64) orb.Ring { return ring(x0, y0, x0, y1, x1, y1, x1, y0) }

// odd returns a run of fields that formats stumble over: a triangle, a hole with an island in it, two parts, a field
// smaller than a cell, and names of every kind.
func odd() *suitability.Result {
	farm := quillmoor.Result()
	suited, wet, unrated := farm.Zones[0], farm.Zones[1], farm.Zones[7]
	r := &suitability.Result{Provenance: farm.Provenance, Profile: farm.Profile}
	add := func(id, name string, shape orb.MultiPolygon, like suitability.Zone, zones ...orb.MultiPolygon) {
		f := suitability.Field{ID: id, Name: name, Customer: "Ó Brien & \"fils\" <1>", Shape: shape, Area: unit.Area(geo.Area(shape))}
		for i, z := range zones {
			zone := like
			zone.ID, zone.FieldID, zone.FieldName, zone.Number = fmt.Sprintf("%s/%d", id, i+1), id, name, i+1
			zone.Shape, zone.Pieces, zone.Area = z, len(z), unit.Area(geo.Area(z))
			f.Zones = append(f.Zones, len(r.Zones))
			r.Zones = append(r.Zones, zone)
		}
		r.Fields = append(r.Fields, f)
	}
	one := func(p ...orb.Ring) orb.MultiPolygon { return orb.MultiPolygon{p} }
	triangle := one(ring(0, 0, 300, 0, 0, 300))
	add("T", "Triangle é", triangle, suited, triangle)
	square := one(box(400, 0, 700, 300))
	add("H", `=cmd|' /C calc'!A0`, square, wet, orb.MultiPolygon{{box(400, 0, 700, 300), hole(450, 50, 650, 250)}, {box(500, 100, 600, 200)}},
		orb.MultiPolygon{{box(450, 50, 650, 250), hole(500, 100, 600, 200)}})
	parts := orb.MultiPolygon{{box(800, 0, 900, 100)}, {box(950, 0, 1100, 200)}}
	add("P", strings.Repeat("Längs & \"quer\" ", 20), parts, suited, parts)
	tiny := one(box(1200, 0, 1203, 2))
	add("S", "-1.5 _x0041_\ttab", tiny, suited, tiny)
	add("W/2", "", one(box(1300, 0, 1400, 100)), unrated, one(box(1300, 0, 1400, 100)))
	r.Fields = append(r.Fields, farm.Fields[3]) // a field without an answer
	return r
}

// vanishing returns the same with a zone of which nothing is left at seven decimals.
func vanishing() *suitability.Result {
	r := odd()
	z := r.Zones[0]
	z.ID, z.Number, z.Shape = "T/2", 2, orb.MultiPolygon{{ring(0, 0, 0.001, 0, 0, 0.001)}}
	z.Area = unit.Area(geo.Area(z.Shape))
	r.Fields[0].Zones = append(r.Fields[0].Zones, len(r.Zones))
	r.Zones = append(r.Zones, z)
	return r
}

// many returns n zones, two in a field, side by side.
func many(n int) *suitability.Result {
	farm := quillmoor.Result()
	r := &suitability.Result{Provenance: farm.Provenance, Profile: farm.Profile}
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := 0; len(r.Zones) < n; i++ {
		x, y := float64(i%100)*120, float64(i/100)*120
		f := suitability.Field{ID: fmt.Sprintf("N%d", i), Name: "Strip", Shape: orb.MultiPolygon{{box(x, y, x+100, y+100)}}}
		f.Area = unit.Area(geo.Area(f.Shape))
		middle := 20 + math.Floor(60*rnd.Float64())
		for k, shape := range []orb.MultiPolygon{{{box(x, y, x+middle, y+100)}}, {{box(x+middle, y, x+100, y+100)}}} {
			z := farm.Zones[[]int{0, 5}[k]]
			z.ID, z.FieldID, z.FieldName, z.Number = fmt.Sprintf("N%d/%d", i, k+1), f.ID, f.Name, k+1
			z.Shape, z.Pieces, z.Area = shape, 1, unit.Area(geo.Area(shape))
			f.Zones = append(f.Zones, len(r.Zones))
			r.Zones = append(r.Zones, z)
		}
		r.Fields = append(r.Fields, f)
	}
	return r
}

// setOf makes a set with the program's version held fixed, so that files can be compared.
func setOf(tb testing.TB, r *suitability.Result, o exchange.Options) *exchange.Set {
	tb.Helper()
	o.Version = "test"
	s, err := exchange.New(tb.Context(), r, words.Sentences(r.Profile), o)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// written returns every file of a set, written by some goroutines at once.
func written(t *testing.T, s *exchange.Set, workers int) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	seats := make(chan struct{}, workers)
	var mu sync.Mutex
	var wg sync.WaitGroup
	for _, name := range s.Files() {
		seats <- struct{}{}
		wg.Go(func() {
			defer func() { <-seats }()
			var b bytes.Buffer
			err := s.WriteFile(t.Context(), name, &b)
			mu.Lock()
			defer mu.Unlock()
			if out[name] = b.Bytes(); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		})
	}
	wg.Wait()
	return out
}

// folder writes a set to files and unpacks the shapefile.
func folder(t *testing.T, s *exchange.Set) string {
	t.Helper()
	dir := t.TempDir()
	for name, b := range written(t, s, 2) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	unzip(t, filepath.Join(dir, "zones.shp.zip"), dir)
	return dir
}
