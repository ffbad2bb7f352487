package soildata

import (
	"context"
	"io/fs"
	"net/http/httptest"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/soildata/standin"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// excerptFolder holds eight map units of a real survey; its README names the source.
const excerptFolder = "../../soils/ssurgo/testdata/ar017-excerpt"

// shared returns a folder of real surveys, or skips the test.
func shared(t testing.TB, name string) string {
	t.Helper()
	dir := filepath.Join("../../../shared/data", name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("%s is not there: it holds real data for tests", dir)
	}
	return dir
}

// serve starts a stand-in for the service over an export.
func serve(t testing.TB, export string) (*standin.Service, Options) {
	t.Helper()
	service, err := standin.New(os.DirFS(export))
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(service)
	t.Cleanup(server.Close)
	return service, Options{Dir: filepath.Join(t.TempDir(), "cache"), BaseURL: server.URL, Wait: time.Millisecond, Program: "rootworthy/test"}
}

// fetch fetches and must not fail.
func fetch(t testing.TB, req Request, opt Options) ([]Fetched, *diag.List) {
	t.Helper()
	var faults diag.List
	got, err := Fetch(context.Background(), req, opt, &faults)
	if err != nil {
		t.Fatal(err)
	}
	return got, &faults
}

// read reads a survey with its polygons; whatever its reader finds wrong fails the test.
func read(t testing.TB, dir string) (*soils.Survey, []ssurgo.Polygon) {
	t.Helper()
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), dir, os.DirFS(dir), &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var polygons []ssurgo.Polygon
	if err := e.Polygons(context.Background(), func(p ssurgo.Polygon) error {
		polygons = append(polygons, p)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return s, polygons
}

// survey returns the attribute side of an export that may have no map.
func surveyOf(t testing.TB, dir string) *soils.Survey {
	t.Helper()
	e, err := ssurgo.Open(context.Background(), dir, os.DirFS(dir), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// What is fetched, read by the reader of exports, is the same survey as the export that the stand-in serves.
func TestFetchedSurveyIsTheExport(t *testing.T) {
	for _, tc := range []struct{ name, dir, area string }{
		{"eight map units", excerptFolder, "AR017"},
		{"area of interest", "ssurgo-ia073-aoi", "IA073"},
		{"county", "ssurgo-ar017", "AR017"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			dir := tc.dir
			if dir != excerptFolder {
				dir = shared(t, dir)
			}
			service, opt := serve(t, dir)
			got, faults := fetch(t, Request{Areas: []string{tc.area}}, opt)
			if len(got) != 1 || !got[0].Whole || got[0].Cached || faults.Faults()+faults.Notices() > 0 {
				t.Fatalf("fetched %+v, faults:\n%s", got, faults)
			}
			s, polygons := read(t, got[0].Folder)
			if want := surveyOf(t, dir); !reflect.DeepEqual(s, want) {
				t.Errorf("the fetched survey is not the export's: %d units, want %d; areas %+v, want %+v", len(s.Units), len(want.Units), s.Areas, want.Areas)
			}
			if dir != excerptFolder {
				_, want := read(t, dir)
				comparePolygons(t, polygons, want)
			}
			if len(polygons) != got[0].Polygons || len(s.Units) != got[0].Units {
				t.Errorf("%d polygons and %d units, told %+v", len(polygons), len(s.Units), got[0])
			}
			for _, agent := range service.Agents() {
				if !strings.HasPrefix(agent, "rootworthy/test") {
					t.Errorf("User-Agent %q", agent)
				}
			}
			for _, q := range service.Queries() {
				if n := strings.Count(q, "', '") + 1; n > 500 {
					t.Errorf("a list of %d keys was sent", n)
				}
			}
		})
	}
}

// comparePolygons compares maps as sets: unit, parts and corners to 1e-12 degrees (0.1 µm), since the service writes 15
// digits.
func comparePolygons(t *testing.T, got, want []ssurgo.Polygon) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d polygons, want %d", len(got), len(want))
	}
	order := func(a, b ssurgo.Polygon) int {
		return slices.Compare(append([]float64{}, key(a)...), append([]float64{}, key(b)...))
	}
	got, want = slices.Clone(got), slices.Clone(want)
	slices.SortFunc(got, order)
	slices.SortFunc(want, order)
	for i := range got {
		if got[i].Unit != want[i].Unit || got[i].Area != want[i].Area || !near(got[i].Shape, want[i].Shape) {
			t.Fatalf("polygon of unit %s differs from that of unit %s", got[i].Unit, want[i].Unit)
		}
	}
}

// key orders polygons by their boxes, rounded to where the digits agree.
func key(p ssurgo.Polygon) []float64 {
	b := p.Shape.Bound()
	k := []float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}
	for i := range k {
		k[i] = float64(int64(k[i] * 1e9))
	}
	return k
}

func near(a, b orb.MultiPolygon) bool {
	const tolerance = 1e-12
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if len(a[i]) != len(b[i]) {
			return false
		}
		for j := range a[i] {
			ring := a[i][j]
			if len(ring) != len(b[i][j]) {
				return false
			}
			for k, p := range ring {
				q := b[i][j][k]
				if max(p[0]-q[0], q[0]-p[0], p[1]-q[1], q[1]-p[1]) > tolerance {
					return false
				}
			}
		}
	}
	return true
}

func square(x, y, side float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
}

// The stand-in draws the eight units of the excerpt as squares of 0.01 degrees side by side from -91, 33 eastward.
func TestFieldsBringWhatTheyMeet(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	var told []string
	opt.Tell = func(line string) {
		if len(told) == 0 && len(service.Queries()) > 0 {
			t.Error("the service was asked before it was said what is sent")
		}
		told = append(told, line)
	}
	fields := []Outline{{ID: "Secret Acre", Shape: square(-90.995, 33.002, 0.01)}, {ID: "F2", Shape: square(-90.962, 33.002, 0.001)}}
	got, faults := fetch(t, Request{Fields: fields}, opt)
	if len(got) != 1 || got[0].Whole || got[0].Units != 3 || got[0].Polygons != 3 || faults.Faults() > 0 {
		t.Fatalf("fetched %+v, want 3 units and 3 polygons; faults:\n%s", got, faults)
	}
	s, polygons := read(t, got[0].Folder)
	if len(s.Units) != 3 || len(polygons) != 3 || len(s.Areas) != 1 {
		t.Errorf("%d units, %d polygons, areas %+v", len(s.Units), len(polygons), s.Areas)
	}
	all := surveyOf(t, excerptFolder)
	for _, u := range s.Units {
		at := slices.IndexFunc(all.Units, func(o soils.MapUnit) bool { return o.Key == u.Key })
		if at < 0 || !reflect.DeepEqual(u, all.Units[at]) {
			t.Errorf("unit %s differs from the export's", u.Key)
		}
	}
	for _, p := range polygons {
		if b := p.Shape.Bound(); b.Max[0]-b.Min[0] < 0.009 {
			t.Error("a polygon was clipped")
		}
	}
	host := strings.TrimPrefix(opt.BaseURL, "http://")
	if len(told) == 0 || !strings.Contains(told[0], host) || !strings.Contains(told[0], "outlines of 2 fields") {
		t.Errorf("told %q", told)
	}
	for _, q := range service.Queries() {
		if strings.Contains(q, "Secret") || strings.Contains(q, "F2") {
			t.Errorf("a field's id was sent: %s", q)
		}
	}
}

func TestFieldsWithoutSurveyAreTold(t *testing.T) {
	_, opt := serve(t, excerptFolder)
	got, faults := fetch(t, Request{Fields: []Outline{{ID: "F9", Shape: square(10, 50, 0.01)}}}, opt)
	if len(got) != 0 || faults.Faults() != 1 || !strings.Contains(faults.String(), "F9") {
		t.Errorf("fetched %+v, faults:\n%s", got, faults)
	}
}

func TestUnknownAreaIsTold(t *testing.T) {
	_, opt := serve(t, excerptFolder)
	got, faults := fetch(t, Request{Areas: []string{"ZZ999", "ar017"}}, opt)
	if len(got) != 1 || got[0].Symbol != "AR017" || faults.Faults() != 1 || !strings.Contains(faults.String(), "ZZ999") {
		t.Errorf("fetched %+v, faults:\n%s", got, faults)
	}
}

// The general soil map stands in the same tables; it is never taken for a survey of the fields.
func TestGeneralSoilMapIsLeftOut(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	service.Set("mupolygon", "areasymbol", "US")
	if got, faults := fetch(t, farm, opt); len(got) != 0 || faults.Faults() != 1 {
		t.Errorf("fields: %+v\n%s", got, faults)
	}
	service.Set("legend", "areasymbol", "US")
	if got, faults := fetch(t, county, opt); len(got) != 0 || faults.Faults() != 1 {
		t.Errorf("area: %+v\n%s", got, faults)
	}
}

// What passes goes into queries and file names.
func TestSymbols(t *testing.T) {
	for in, want := range map[string]string{"AR017": "AR017", " ar017 ": "AR017", "MXNL001": "MXNL001",
		"US": "", "us": "", "": "", "A": "", "17AR": "", "AR017'; DROP TABLE legend --": "", "AR 17": "", "ÄR017": ""} {
		if got, ok := Symbol(in); got != want || ok != (want != "") {
			t.Errorf("Symbol(%q) = %q, %t, want %q", in, got, ok, want)
		}
	}
	if _, err := Fetch(context.Background(), Request{Areas: []string{"x'y"}}, Options{Dir: t.TempDir(), BaseURL: "http://127.0.0.1:1"}, &diag.List{}); err == nil {
		t.Error("a symbol with a quote was taken")
	}
}

// Same input, same bytes: the order in which the service answers and the length of lists decide nothing.
func TestSameBytesHoweverItIsAsked(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	a, _ := fetch(t, Request{Areas: []string{"AR017"}}, opt)
	n := len(service.Queries())
	opt.Dir, opt.limits = t.TempDir(), defaultLimits()
	opt.limits.keys, opt.limits.rows = 3, 160 // lists of three map units, halved where an answer has 160 rows
	b, _ := fetch(t, Request{Areas: []string{"AR017"}}, opt)
	if more := len(service.Queries()) - n; more < 2*n {
		t.Errorf("%d and %d questions: lists were not split", n, more)
	}
	if x, y := sums(t, a[0].Folder), sums(t, b[0].Folder); !reflect.DeepEqual(x, y) {
		t.Errorf("%v differs from %v", x, y)
	}
}

// sums returns the digest of every file of a folder.
func sums(t testing.TB, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, _ := filepath.Rel(dir, p)
		out[rel], _, err = sumFile(p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
