package ssurgo_test

import (
	"context"
	"io/fs"
	"os"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// excerptFolder holds eight map units of a real survey; testdata/README.md names the source.
const excerptFolder = "testdata/ar017-excerpt"

// excerpt returns the excerpt in memory, to be damaged as a test likes.
func excerpt(t testing.TB) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	folder := os.DirFS(excerptFolder)
	err := fs.WalkDir(folder, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(folder, p)
		out[p] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	delete(out, "tabular/muaggatt.txt") // never an input
	return out
}

// edit replaces text in a table, which must hold it.
func edit(t testing.TB, export fstest.MapFS, table, old, new string) {
	t.Helper()
	f := export["tabular/"+table+".txt"]
	if !strings.Contains(string(f.Data), old) {
		t.Fatalf("%s does not hold %q", table, old)
	}
	f.Data = []byte(strings.Replace(string(f.Data), old, new, 1))
}

// read reads an export from memory; the error must be nil.
func read(t testing.TB, export fs.FS) (*soils.Survey, *diag.List) {
	t.Helper()
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), "X", export, &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return s, &faults
}

// The excerpt is in the repository, so this runs where the real surveys are not at hand.
func TestExcerptAgreesWithTheAgency(t *testing.T) {
	s := readSurvey(t, excerptFolder)
	if len(s.Units) != 8 {
		t.Fatalf("%d map units, want 8", len(s.Units))
	}
	compareAggregates(t, s, muaggatt(t, excerptFolder))
}

// The figures of section "Hebert and Crowley" as the export has them.
func TestModelIsFilled(t *testing.T) {
	s, faults := read(t, excerpt(t))
	if faults.Faults()+faults.Notices() > 0 {
		t.Errorf("a sound export was faulted:\n%s", faults)
	}
	area := s.Areas[0]
	if area.Symbol != "AR017" || area.Name != "Chicot County, Arkansas" || area.Version != "22" || area.Date != "2021-09-13" ||
		area.Scale.Or(0) != 20000 || area.General || len(s.Areas) != 1 {
		t.Errorf("areas %+v", s.Areas)
	}
	u := unitByKey(t, s, "565269")
	if u.Symbol != "HC" || u.Kind != "Undifferentiated group" || u.Area != "AR017" {
		t.Errorf("unit %s %q %s", u.Symbol, u.Kind, u.Area)
	}
	var names []string
	for _, c := range u.Components {
		names = append(names, c.Name)
	}
	if want := []string{"Hebert", "Crowley", "Aqualfs", "Perry"}; !reflect.DeepEqual(names, want) {
		t.Errorf("components %v, want %v: by percent, then name", names, want)
	}
	c := u.Components[0]
	if !c.Major || u.Components[3].Major || c.Kind != "Series" || c.Order != "Alfisols" || c.Drainage != soils.SomewhatPoorlyDrained ||
		c.HydrologicGroup != "C" || c.Slope.Value.Or(-1) != 0.5 || len(c.Months) != 12 || c.Months[2].Month != 3 {
		t.Errorf("component %+v", c)
	}
	h := c.Horizons[1]
	if h.Top.Or(-1) != 25 || h.Bottom.Or(-1) != 94 || h.PH.Value.Or(0) != 5.8 || h.Clay.Or(0) != 28 || h.CEC7.Or(0) != 14.5 ||
		h.AWC.Or(0) != 0.18 || h.Name != "Bt" || h.Master != "B" || h.Texture != "SICL" || h.TextureGroup != "SICL" {
		t.Errorf("horizon %+v", h)
	}
	water := unitByKey(t, s, "565284")
	if len(water.Components) != 1 || !water.Components[0].Miscellaneous() || len(water.Components[0].Horizons) != 0 {
		t.Errorf("water %+v", water.Components)
	}
}
