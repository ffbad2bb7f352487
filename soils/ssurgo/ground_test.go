package ssurgo_test

import (
	"bytes"
	"context"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/soils/ssurgo"
)

// mapped is one polygon of a made-up map.
type mapped struct {
	key   string
	shape orb.MultiPolygon
}

// withMap adds a layer of map unit polygons to an export; keyColumn names the column of the keys.
func withMap(t testing.TB, export fstest.MapFS, projection, keyColumn string, polygons ...mapped) {
	t.Helper()
	enc, err := shapefile.NewEncoder([]shapefile.Column{{Name: "AREASYMBOL", Type: 'C', Width: 20}, {Name: keyColumn, Type: 'C', Width: 30}},
		func(yield func(orb.MultiPolygon, []any) bool) {
			for _, p := range polygons {
				if !yield(p.shape, []any{"AR017", p.key}) {
					return
				}
			}
		})
	if err != nil {
		t.Fatal(err)
	}
	enc.Projection = projection
	for ext, fill := range enc.Files() {
		var b bytes.Buffer
		if err := fill(&b); err != nil {
			t.Fatal(err)
		}
		export["spatial/soilmu_a_ar017"+ext] = &fstest.MapFile{Data: b.Bytes()}
	}
}

// square returns a square with its lower left corner at x, y.
func square(x, y, side float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
}

// polygonsOf reads the map alone.
func polygonsOf(t testing.TB, export fstest.MapFS) ([]ssurgo.Polygon, *diag.List, error) {
	t.Helper()
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), "X", export, &faults)
	if err != nil {
		t.Fatal(err)
	}
	var out []ssurgo.Polygon
	err = e.Polygons(context.Background(), func(p ssurgo.Polygon) error { out = append(out, p); return nil })
	return out, &faults, err
}

const utm15 = `PROJCS["NAD_1983_UTM_Zone_15N",GEOGCS["GCS_North_American_1983",DATUM["D_North_American_1983",SPHEROID["GRS_1980",6378137.0,298.257222101]],` +
	`PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["False_Easting",500000.0],` +
	`PARAMETER["False_Northing",0.0],PARAMETER["Central_Meridian",-93.0],PARAMETER["Scale_Factor",0.9996],PARAMETER["Latitude_Of_Origin",0.0],UNIT["Meter",1.0]]`

// A soil map on NAD27 is refused: brought over by one shift for all of the States it would lie some 10 m beside itself.
func TestMapOnNAD27IsRefused(t *testing.T) {
	e := excerpt(t)
	old := strings.NewReplacer("1983", "1927", "GRS_1980", "Clarke_1866", "6378137.0,298.257222101", "6378206.4,294.978698213898").Replace(utm15)
	withMap(t, e, old, "MUKEY", mapped{"565269", square(500000, 3673000, 100)})
	got, _, err := polygonsOf(t, e)
	if err == nil || !strings.Contains(err.Error(), `soilmu_a_ar017.shp: coordinate system "NAD_1927_UTM_Zone_15N" stands on NAD27`) || !strings.Contains(err.Error(), "convert the file to EPSG:4326") || len(got) > 0 {
		t.Errorf("%v, %v", got, err)
	}
}

// On the central meridian easting is 500 km and northing is 0.9996 times the meridian arc (definition of UTM).
func TestProjectedMapIsPutOnLonLat(t *testing.T) {
	e := excerpt(t)
	north := 0.9996 * meridianArc(33.2)
	withMap(t, e, utm15, "MUKEY", mapped{"565269", square(500000, north, 100)})
	got, faults, err := polygonsOf(t, e)
	if err != nil || len(got) != 1 || faults.Faults() > 0 {
		t.Fatalf("%v, %v\n%s", got, err, faults)
	}
	p := got[0].Shape[0][0][0]
	if math.Abs(p.Lon()+93) > 1e-9 || math.Abs(p.Lat()-33.2) > 1e-8 {
		t.Errorf("corner at %v, want -93, 33.2", p)
	}
}

// meridianArc is the length of the meridian from the equator on GRS 80 in metres: Snyder, Map Projections, USGS Professional
// Paper 1395, equation 3-21 (from memory, not checked; good to a millimetre).
func meridianArc(lat float64) float64 {
	const a, f = 6378137.0, 1 / 298.257222101
	e2 := f * (2 - f)
	e4, e6 := e2*e2, e2*e2*e2
	x := lat * math.Pi / 180
	return a * ((1-e2/4-3*e4/64-5*e6/256)*x - (3*e2/8+3*e4/32+45*e6/1024)*math.Sin(2*x) +
		(15*e4/256+45*e6/1024)*math.Sin(4*x) - 35*e6/3072*math.Sin(6*x))
}

// A polygon without a key is kept, since it is ground all the same; one in metres is not, since nobody knows where it lies.
func TestMapFaults(t *testing.T) {
	here := square(-91.2, 33.2, 0.001)
	e := excerpt(t)
	withMap(t, e, "", "MUKEY", mapped{"565269", here}, mapped{"", here}, mapped{"1", here}, mapped{"565269", square(5e5, 3e6, 10)})
	got, faults, err := polygonsOf(t, e)
	if err != nil || len(got) != 3 || got[1].Unit != "" || got[0].Area != "AR017" {
		t.Fatalf("%v, %v", got, err)
	}
	for _, want := range []string{"(record 2): MUKEY: it has no map unit key", "(record 4): it has corners that are no longitude and latitude"} {
		if !strings.Contains(faults.String(), want) {
			t.Errorf("not told: %s\n%s", want, faults)
		}
	}
	var list diag.List
	export, _ := ssurgo.Open(context.Background(), "X", e, &list)
	s, err := export.Check(context.Background())
	if err != nil || s.Polygons != 3 || s.PolygonsWithoutUnit != 2 || s.UnitsWithoutPolygon != 7 {
		t.Errorf("%+v, %v", s, err)
	}
}

// Where every polygon would be wrong the map is refused as a whole, with one message and not a thousand.
func TestMapRefused(t *testing.T) {
	here := square(-91.2, 33.2, 0.001)
	for name, c := range map[string]struct{ projection, column, want string }{
		"no key column":  {"", "KEY", "no column MUKEY"},
		"unknown system": {`GEOGCS["Moon 2000",DATUM["D_Moon_2000",SPHEROID["Moon",1737400,0]],PRIMEM["Reference",0],UNIT["Degree",0.0174532925199433]]`, "MUKEY", "Moon 2000"},
	} {
		e := excerpt(t)
		withMap(t, e, c.projection, c.column, mapped{"565269", here})
		_, _, err := polygonsOf(t, e)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "X/spatial/soilmu_a_ar017.shp") {
			t.Errorf("%s: err = %v", name, err)
		}
	}
}
