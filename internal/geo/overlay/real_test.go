package overlay

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/jonas-p/go-shp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"rootworthy/internal/geo/arrange"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/secondopinion"
)

const dataDir = "../../../../shared/data"

// needData returns the path of a file of public data, or skips the test where the folder is absent.
func needData(t testing.TB, name string) string {
	t.Helper()
	if _, err := os.Stat(dataDir); err != nil {
		t.Skipf("no %s: put the public survey data there", dataDir)
	}
	return filepath.Join(dataDir, name)
}

// albers projects degrees to EPSG:5070, vertex by vertex.
func albers(t testing.TB) func(orb.MultiPolygon) orb.MultiPolygon {
	t.Helper()
	crs, err := proj.FromEPSG(5070)
	if err != nil {
		t.Fatal(err)
	}
	return func(m orb.MultiPolygon) orb.MultiPolygon {
		out := m.Clone()
		for _, part := range out {
			for _, ring := range part {
				for i, p := range ring {
					q, ok := crs.FromLonLat(p)
					if !ok {
						t.Fatalf("%v is outside EPSG:5070", p)
					}
					ring[i] = q
				}
			}
		}
		return out
	}
}

// shapefile reads the polygons of a survey with their map-unit keys, by a reader that is not ours.
func shapefile(t testing.TB, path string) (shapes []orb.MultiPolygon, keys []uint32) {
	t.Helper()
	r, err := shp.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	column := slices.IndexFunc(r.Fields(), func(f shp.Field) bool { return strings.HasPrefix(f.String(), "MUKEY") })
	toMetres := albers(t)
	for r.Next() {
		n, s := r.Shape()
		p := s.(*shp.Polygon)
		var part orb.Polygon
		for k, start := range p.Parts {
			end := int32(len(p.Points))
			if k+1 < len(p.Parts) {
				end = p.Parts[k+1]
			}
			var ring orb.Ring
			for _, q := range p.Points[start:end] {
				ring = append(ring, orb.Point{q.X, q.Y})
			}
			part = append(part, ring)
		}
		key, err := strconv.Atoi(strings.TrimSpace(r.ReadAttribute(n, column)))
		if err != nil {
			t.Fatal(err)
		}
		shapes = append(shapes, toMetres(orb.MultiPolygon{part}))
		keys = append(keys, uint32(key))
	}
	return shapes, keys
}

func coverageOf(t testing.TB, shapes []orb.MultiPolygon, keys []uint32) *Coverage {
	t.Helper()
	c := New()
	for i, s := range shapes {
		if err := c.Add(keys[i], s); err != nil {
			t.Fatal(err)
		}
	}
	return c
}

func sequence(fields []orb.MultiPolygon) func(func(int, orb.MultiPolygon) bool) {
	return func(yield func(int, orb.MultiPolygon) bool) {
		for i, f := range fields {
			if !yield(i, f) {
				return
			}
		}
	}
}

func runAll(t testing.TB, c *Coverage, fields []orb.MultiPolygon, opt Options) []Cut {
	t.Helper()
	var cuts []Cut
	err := c.Run(context.Background(), sequence(fields), opt, func(c Cut) error {
		cuts = append(cuts, c)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if count != nil && !opt.forceWide && opt.Workers == 0 && !opt.Dissolve {
		count(c, fields)
	}
	return cuts
}

// TestReferenceOverlay checks areas and piece counts of invented fields on real surveys against an overlay that GEOS
// 3.11.1 made of the same vertices in EPSG:5070 (overlay-reference.csv; six decimals of a hectare, 0.005 m²).
func TestReferenceOverlay(t *testing.T) {
	for folder, survey := range map[string]string{
		"fields-ar017-invented": "ssurgo-ar017/spatial/soilmu_a_ar017.shp",
		"fields-ia073-invented": "ssurgo-ia073-aoi/spatial/soilmu_a_aoi.shp",
	} {
		t.Run(folder, func(t *testing.T) {
			c := coverageOf2(t, survey)
			names, fields := readFields(t, needData(t, folder+"/fields.geojson"))
			want := readCSV(t, needData(t, folder+"/overlay-reference.csv"))
			got := map[string][2]float64{}
			for _, cut := range runAll(t, c, fields, Options{Gaps: true}) {
				checkCut(t, cut)
				for _, p := range cut.Pieces {
					k := fmt.Sprint(names[cut.Field], "/", p.Key)
					got[k] = [2]float64{got[k][0] + p.Area, got[k][1] + 1}
				}
			}
			for _, row := range want {
				k := row["field"] + "/" + row["mukey"]
				area, _ := strconv.ParseFloat(row["area_ha_epsg5070"], 64)
				pieces, _ := strconv.ParseFloat(row["pieces"], 64)
				if g := got[k]; math.Abs(g[0]-area*1e4) > max(0.05, 1e-6*area*1e4) || g[1] != pieces {
					t.Errorf("%s: %.4f m² in %v pieces, want %.4f in %v", k, g[0], g[1], area*1e4, pieces)
				}
				delete(got, k)
			}
			if len(got) > 0 {
				t.Errorf("not in the reference: %v", got)
			}
		})
	}
}

func coverageOf2(t testing.TB, survey string) *Coverage {
	t.Helper()
	shapes, keys := shapefile(t, needData(t, survey))
	return coverageOf(t, shapes, keys)
}

func readFields(t testing.TB, path string) (names []string, fields []orb.MultiPolygon) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var fc struct {
		Features []struct {
			Properties map[string]any
			Geometry   struct {
				Type        string
				Coordinates json.RawMessage
			}
		}
	}
	if err := json.Unmarshal(b, &fc); err != nil {
		t.Fatal(err)
	}
	for _, f := range fc.Features {
		var m orb.MultiPolygon
		if f.Geometry.Type == "Polygon" {
			m = make(orb.MultiPolygon, 1)
			err = json.Unmarshal(f.Geometry.Coordinates, &m[0])
		} else {
			err = json.Unmarshal(f.Geometry.Coordinates, &m)
		}
		if err != nil {
			t.Fatal(err)
		}
		names, fields = append(names, fmt.Sprint(f.Properties["field"])), append(fields, albers(t)(m))
	}
	return names, fields
}

func readCSV(t testing.TB, path string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return secondopinion.Rows(t, f)
}

// TestOverlayChecks checks against areas by map unit that were measured on the sphere of the same rings
// (soil-overlay-checks.csv: cut in degrees, geodesic areas; the two ways of drawing a long edge differ by up to 1e-4).
func TestOverlayChecks(t *testing.T) {
	c := coverageOf2(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp")
	rows := readCSV(t, filepath.Join(dataDir, "../reference/soil-overlay-checks.csv"))
	for _, row := range rows {
		if row["mukey"] == "*" {
			continue
		}
		g, err := wkt.UnmarshalPolygon(row["field_wkt"])
		if err != nil {
			t.Fatal(err)
		}
		field := albers(t)(orb.MultiPolygon{orb.Polygon{proj.Densify(g[0])}})
		area, pieces := 0.0, 0
		for _, p := range runAll(t, c, []orb.MultiPolygon{field}, Options{})[0].Pieces {
			if fmt.Sprint(p.Key) == row["mukey"] {
				area += p.Area
				pieces++
			}
		}
		want, _ := strconv.ParseFloat(row["area_m2"], 64)
		if math.Abs(area-want) > max(1, 1e-4*want) || fmt.Sprint(pieces) != row["pieces"] {
			t.Errorf("%s %s: %.1f m² in %d pieces, want %s in %s", row["field"], row["musym"], area, pieces, row["area_m2"], row["pieces"])
		}
	}
}

// TestSurveyWithItself lays AR017 over itself: every edge is shared, and each polygon must come out as exactly one
// piece with its own area.
func TestSurveyWithItself(t *testing.T) {
	shapes, keys := shapefile(t, needData(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	c := coverageOf(t, shapes, keys)
	for _, cut := range runAll(t, c, shapes, Options{}) {
		checkCut(t, cut)
		if len(cut.Pieces) != 1 || cut.Pieces[0].Polygon != cut.Field || math.Abs(cut.Pieces[0].Area-cut.Area) > 1e-12*cut.Area {
			t.Fatalf("polygon %d: %d pieces, first %.6f of %.6f m²", cut.Field, len(cut.Pieces), cut.Pieces[0].Area, cut.Area)
		}
		if cut.Uncovered != 0 || cut.Doubled != 0 {
			t.Errorf("polygon %d: %g m² uncovered, %g doubled", cut.Field, cut.Uncovered, cut.Doubled)
		}
	}
	// The survey's one invalid polygon (record 1610 touches itself in a point) is known; nothing else was touched.
	if r := c.Repairs(); len(r) != 1 || r[0].Number != 1610 || r[0].Kind != arrange.SelfTouch || math.Abs(r[0].After-r[0].Before) > 1e-6 {
		t.Errorf("repairs: %+v", r)
	}
}

// TestInvalidFields cuts 25 real field boundaries, three of which touch themselves (GEOS says "Ring Self-intersection" of
// numbers 2, 17 and 23), with the survey around them. A boundary that touches itself has the same area afterwards.
func TestInvalidFields(t *testing.T) {
	_, survey := readFields(t, needData(t, "fields-sc/ssurgo_mapunits_raw.geojson"))
	_, fields := readFields(t, needData(t, "fields-sc/fields_EPSG4326.geojson"))
	c := coverageOf(t, survey, make([]uint32, len(survey)))
	var repaired []int
	for _, cut := range runAll(t, c, fields, Options{Gaps: true, Boundary: true}) {
		checkCut(t, cut)
		if r := cut.Repair; r != nil {
			repaired = append(repaired, cut.Field)
			if r.Kind != arrange.SelfTouch || math.Abs(r.After-r.Before) > 1e-6 || r.Number != cut.Field {
				t.Errorf("field %d: %+v", cut.Field, r)
			}
		}
	}
	if !slices.Equal(repaired, []int{2, 17, 23}) {
		t.Errorf("fields %v were repaired, want 2, 17 and 23", repaired)
	}
}

// TestWholeSurvey cuts one field that holds the whole survey: every polygon is a piece as it is, one key a piece after
// dissolving, and the rest uncovered.
func TestWholeSurvey(t *testing.T) {
	shapes, keys := shapefile(t, needData(t, "ssurgo-ar017/spatial/soilmu_a_ar017.shp"))
	c := coverageOf(t, shapes, keys)
	var bound orb.Bound
	for i, s := range shapes {
		if bound = bound.Union(s.Bound()); i == 0 {
			bound = s.Bound()
		}
	}
	field := []orb.MultiPolygon{{bound.Pad(100).ToPolygon()}}
	cut := runAll(t, c, field, Options{Gaps: true, listAll: true})[0]
	checkCut(t, cut)
	if len(cut.Pieces) != len(shapes) {
		t.Errorf("%d pieces of %d polygons", len(cut.Pieces), len(shapes))
	}
	joined := runAll(t, c, field, Options{Dissolve: true})[0]
	checkCut(t, joined)
	if len(joined.Pieces) != 41 { // map units of the survey, by its README
		t.Errorf("%d pieces of 41 keys", len(joined.Pieces))
	}
	if math.Abs(total(joined)-total(cut)) > 1e-9*total(cut) || math.Abs(total(cut)-1790.94e6) > 0.01e6 {
		t.Errorf("%v m² dissolved, %v apart, 1790.94 km² by the survey's README", total(joined), total(cut))
	}
}
