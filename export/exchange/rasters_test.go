package exchange_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/exchange"
	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/soils/unit"
)

// read reads one raster of a set back.
func read[T raster.Number](t *testing.T, b []byte, band int) *raster.Grid[T] {
	t.Helper()
	var faults diag.List
	f, err := geotiff.Open("z.tif", bytes.NewReader(b), int64(len(b)), &faults)
	if err != nil {
		t.Fatal(err)
	}
	if crs, err := f.CRS(); err != nil || !strings.Contains(crs.Name(), "WGS 84") {
		t.Fatalf("system %q, %v", crs.Name(), err)
	}
	g, err := geotiff.Read[T](t.Context(), f, geotiff.Request{Band: band})
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, faults.String())
	}
	return g
}

// Plain and tiled rasters hold the same cells, north up, and a place in a zone holds the figure of that zone.
func TestRastersShowTheZones(t *testing.T) {
	files := written(t, setOf(t, odd(), exchange.Options{Cell: unit.Length(2)}), 2)
	class, tiled := read[uint8](t, files["zones.class.tif"], 0), read[uint8](t, files["zones.class.cog.tif"], 0)
	lime, ph := read[float32](t, files["zones.lime.tif"], 0), read[float32](t, files["zones.ph.tif"], 0)
	at := func(x, y float64) orb.Point { return orb.Point{-78.1 + x*1e-5, 32.5 + y*1e-5} }
	const suited, unsuited, unrated = 1, 3, 0
	for _, c := range []struct {
		name  string
		p     orb.Point
		class float64 // -1 for none
		lime  float64 // -1 for none
	}{
		{"south-west of the triangle", at(20, 20), suited, 1.3504}, {"north-east of it, outside", at(280, 280), -1, -1},
		{"north of it, within", at(5, 280), suited, 1.3504},
		{"round the hole", at(420, 20), unsuited, -1}, {"in the hole, the other zone", at(470, 70), unsuited, -1},
		{"second part", at(1000, 190), suited, 1.3504}, {"between the parts", at(925, 50), -1, -1}, {"not rated", at(1350, 50), unrated, -1},
	} {
		for name, g := range map[string]*raster.Grid[uint8]{"plain": class, "tiled": tiled} {
			if v, ok := g.Value(c.p); ok != (c.class >= 0) || ok && v != c.class {
				t.Errorf("%s, %s: class %v %v, want %v", c.name, name, v, ok, c.class)
			}
		}
		if v, ok := lime.Value(c.p); ok != (c.lime >= 0) || ok && math.Abs(v-c.lime) > 1e-6 {
			t.Errorf("%s: lime %v %v, want %v", c.name, v, ok, c.lime)
		}
	}
	if v, ok := ph.Value(at(20, 20)); !ok || math.Abs(v-5.45) > 1e-6 {
		t.Errorf("pH %v %v, want 5.45", v, ok)
	}
}

// A field smaller than a cell still shows, and a note says how large cells are and how far they are off.
func TestAFieldSmallerThanACellShows(t *testing.T) {
	s := setOf(t, odd(), exchange.Options{Formats: []string{"geotiff"}, Cell: unit.Length(30)})
	g := read[uint8](t, written(t, s, 1)["zones.class.tif"], 0)
	if v, ok := g.Value(orb.Point{-78.1 + 1201.5e-5, 32.5 + 1e-5}); !ok || v != 1 {
		t.Errorf("the field of three metres shows %v %v, want class 1", v, ok)
	}
	if len(s.Notes) != 1 || !strings.Contains(s.Notes[0], "cells of 30 m") || !strings.Contains(s.Notes[0], "off the table") {
		t.Errorf("notes %q", s.Notes)
	}
}

// Fine cells hold the lime of the table. The triangle's slope halves every cell it meets, and half a cell counts as
// whole: 600 cells of 0.25 m² too many by half are 0.1 % of the farm, which is the worst that a straight edge can do.
func TestFineCellsConserveLime(t *testing.T) {
	s := setOf(t, odd(), exchange.Options{Formats: []string{"geotiff"}, Cell: unit.Length(0.5)})
	lime := read[float32](t, written(t, s, 1)["zones.lime.tif"], 0)
	f, sum := lime.Frame(), 0.0
	for row := range f.Rows {
		// the area of a cell on the ellipsoid, by another way than the product's: as a geodesic polygon
		cell := orb.Bound{Min: orb.Point{f.West, f.Y(row + 1)}, Max: orb.Point{f.X(1), f.Y(row)}}.ToPolygon()
		m2, ok := proj.GeodesicArea(orb.MultiPolygon{cell}, proj.GeodesicOptions{})
		if !ok {
			t.Fatal("a cell without area")
		}
		for col := range f.Cols {
			if v, ok := lime.At(col, row); ok {
				sum += float64(unit.ShortTonsPerAcre(float64(v))) * m2
			}
		}
	}
	want := 0.0
	for _, z := range odd().Zones {
		m2, _ := proj.GeodesicArea(z.Shape, proj.GeodesicOptions{})
		want += float64(z.Lime.Likely.Or(0)) * m2
	}
	if math.Abs(sum/want-1) > 3e-3 {
		t.Errorf("cells hold %.1f kg, zones %.1f", sum, want)
	}
}
