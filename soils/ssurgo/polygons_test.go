package ssurgo_test

import (
	"context"
	"errors"
	"os"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/soils/ssurgo"
)

// openReal opens a survey as it was downloaded; the test is skipped where it is not at hand.
func openReal(t testing.TB, name string) (*ssurgo.Export, *diag.List) {
	t.Helper()
	faults := &diag.List{}
	e, err := ssurgo.Open(context.Background(), name, os.DirFS(realFolder(t, name)), faults)
	if err != nil {
		t.Fatal(err)
	}
	return e, faults
}

// Counts stand in the readme of each data set, taken with an independent reader (GDAL).
func TestCheckOfRealSurveys(t *testing.T) {
	for _, c := range []struct {
		survey, kind                                                string
		polygons, units, components, horizons, restrictions, faults int
		symbol, version, date, format                               string
	}{
		{"ssurgo-ar017", "soil survey areas", 2546, 41, 123, 155, 13, 0, "AR017", "22", "2021-09-13", "2.3.3"},
		{"ssurgo-ia073-aoi", "area of interest", 13, 5, 17, 67, 0, 0, "IA073", "26", "2020-06-10", "2.3.3"},
		{"ssurgo-ia015-aoi", "area of interest", 4, 4, 10, 39, 0, 0, "IA015", "28", "2020-06-10", "2.3.3"},
		{"ssurgo-mo181-tabular", "soil survey areas", 0, 117, 401, 1620, 137, 1, "MO181", "22", "2021-09-07", "2.3.3"},
		{"ssurgo-az649-tabular", "soil survey areas", 0, 36, 60, 101, 4, 1, "AZ649", "23", "2025-08-27", "2.3.3"},
		{"ssurgo-tx347-tx401-tabular", "soil survey areas", 0, 141, 402, 662, 78, 1, "TX347", "25", "2023-09-05", "2.3.3"},
		{"statsgo2-ut-tabular", "general soil map", 0, 559, 3656, 11434, 1540, 1, "US", "2", "2006-07-06", "2.3.2"},
		{"ssurgo-pa061-oldformat", "soil survey areas", 0, 10, 7, 4, 1, 1, "", "", "", ""},
	} {
		t.Run(c.survey, func(t *testing.T) {
			e, faults := openReal(t, c.survey)
			s, err := e.Check(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			if s.Kind != c.kind || s.Polygons != c.polygons || s.Units != c.units || s.Components != c.components ||
				s.Horizons != c.horizons || s.Restrictions != c.restrictions || faults.Faults() != c.faults {
				t.Errorf("%+v\n%s", s, faults)
			}
			if c.symbol != "" && (s.Areas[0].Symbol != c.symbol || s.Areas[0].Version != c.version || s.Areas[0].Date != c.date) {
				t.Errorf("areas %+v", s.Areas)
			}
			if s.Polygons > 0 && s.UnitsWithoutPolygon+s.PolygonsWithoutUnit != 0 {
				t.Errorf("tables and map do not fit: %+v", s)
			}
			if strings.Join(s.Formats, " ") != c.format {
				t.Errorf("formats %v, want %s", s.Formats, c.format)
			}
		})
	}
}

// An area of interest of one county: where its corners lie shows whether longitude and latitude were taken in turn.
func TestPolygonsCarryTheirUnit(t *testing.T) {
	e, faults := openReal(t, "ssurgo-ia073-aoi")
	rings := 0
	err := e.Polygons(context.Background(), func(p ssurgo.Polygon) error {
		if p.Area != "IA073" || p.Unit == "" || len(p.Shape) == 0 {
			t.Errorf("polygon of area %q, unit %q, %d parts", p.Area, p.Unit, len(p.Shape))
		}
		if b := p.Shape.Bound(); b.Min.Lon() < -95 || b.Max.Lon() > -94 || b.Min.Lat() < 41 || b.Max.Lat() > 43 {
			t.Errorf("polygon at %v is not in Greene County, Iowa", b)
		}
		for _, part := range p.Shape {
			rings += len(part)
		}
		return nil
	})
	if err != nil || rings < 13 || faults.Faults() > 0 {
		t.Errorf("%d rings, %v\n%s", rings, err, faults)
	}
	stop := errors.New("enough")
	if err := e.Polygons(context.Background(), func(ssurgo.Polygon) error { return stop }); err != stop {
		t.Errorf("err = %v, want the receiver's own", err)
	}
}

// The map is missed, and the tables are of use without it.
func TestMissingShapesAreTold(t *testing.T) {
	e, faults := openReal(t, "ssurgo-mo181-tabular")
	if err := e.Polygons(context.Background(), func(ssurgo.Polygon) error { return nil }); err != nil {
		t.Fatal(err)
	}
	if got := faults.String(); faults.Faults() != 1 || !strings.Contains(got, "ssurgo-mo181-tabular/spatial/soilmu_a_mo181.shp") {
		t.Errorf("faults:\n%s", got)
	}
	if s, err := e.Survey(context.Background()); err != nil || len(s.Units) != 117 {
		t.Errorf("the tables are of no use without the map: %v", err)
	}
}

// Two areas given together, in either order, and one of them twice.
func TestCombine(t *testing.T) {
	var first string
	for i, names := range [][]string{{"ssurgo-ar017", "ssurgo-ia015-aoi"}, {"ssurgo-ia015-aoi", "ssurgo-ar017", "ssurgo-ia015-aoi"}} {
		var exports []*ssurgo.Export
		for _, n := range names {
			e, _ := openReal(t, n)
			exports = append(exports, e)
		}
		var faults diag.List
		s, err := ssurgo.Combine(&faults, exports...).Survey(context.Background())
		if err != nil || len(s.Units) != 45 || len(s.Areas) != 2 || s.Areas[0].Symbol != "AR017" {
			t.Fatalf("%d units, areas %+v, %v", len(s.Units), s.Areas, err)
		}
		if faults.Notices() != 4*i {
			t.Errorf("%d notices, want %d: one for each unit given twice", faults.Notices(), 4*i)
		}
		keys := ""
		for _, u := range s.Units {
			keys += u.Key + " "
		}
		if i == 0 {
			first = keys
		} else if keys != first {
			t.Errorf("another order of units")
		}
	}
}
