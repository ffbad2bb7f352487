package partfield

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

func scan(t testing.TB, text string) (fs []feature.Feature, faults *diag.List, err error) {
	t.Helper()
	faults = &diag.List{}
	err = Scan("TASKDATA.XML", strings.NewReader(text), faults, func(f feature.Feature) error { fs = append(fs, f); return nil })
	return fs, faults, err
}

const square = `<PNT A="2" C="32" D="-84"/><PNT A="2" C="32" D="-83.99"/><PNT A="2" C="32.01" D="-83.99"/><PNT A="2" C="32.01" D="-84"/>`
const pond = `<PNT A="2" C="32.004" D="-83.996"/><PNT A="2" C="32.006" D="-83.996"/><PNT A="2" C="32.005" D="-83.994"/>`

// TestPartfields: names, owners, holes and parts; treatment zones and tasks are no boundaries.
func TestPartfields(t *testing.T) {
	fs, faults, err := scan(t, `<?xml version="1.0"?><ISO11783_TaskData VersionMajor="3" VersionMinor="3">
<CTR A="CTR1" B="Tarn Hollow Estate"/><FRM A="FRM1" B="Tarn Hollow" I="CTR1"/>
<PFD A="PFD1" B="07" C="Home &amp; Hill" D="1000" E="CTR1" F="FRM1">
<PLN A="1"><LSG A="1">`+square+`</LSG><LSG A="2">`+pond+`</LSG></PLN><PLN A="2"><LSG A="1">`+pond+`</LSG></PLN></PFD>
<PFD A="PFD2" C="Bare" D="0"/><TSK A="TSK1" G="1"><TZN A="1"><PLN A="1"><LSG A="1">`+square+`</LSG></PLN></TZN></TSK></ISO11783_TaskData>`)
	if err != nil || len(fs) != 2 || faults.Faults() != 1 {
		t.Fatalf("%d partfields, %v, %s", len(fs), err, faults)
	}
	f := fs[0]
	if f.ID != "PFD1" || f.Text("name") != "Home & Hill" || f.Text("customer") != "Tarn Hollow Estate" || f.Text("farm") != "Tarn Hollow" {
		t.Errorf("read %+v", f.Properties)
	}
	if len(f.Geometry) != 1 || len(f.Geometry[0]) != 2 || f.Geometry[0][0][1] != (orb.Point{-83.99, 32}) {
		t.Errorf("shape %v: longitude stands first, the treatment zone is no part, the pond is a hole", f.Geometry)
	}
	if fs[1].Reason == "" {
		t.Error("a partfield without a boundary has no reason")
	}
}

// TestRealPartfields: 13 boundaries on five continents out of a public test file of an open library (dev4Agriculture
// isoxml-dotnet, Apache-2.0). Names and first corners are read off the file by eye.
func TestRealPartfields(t *testing.T) {
	path := filepath.Join("..", "..", "..", "..", "shared", "data", "isoxml-grids", "Partfields", "TASKDATA.XML")
	b, err := os.ReadFile(path)
	if err != nil {
		t.Skipf("needs %s, which is not beside this checkout", path)
	}
	fs, faults, err := scan(t, string(b))
	if err != nil || len(fs) != 13 || faults.Faults() > 0 {
		t.Fatalf("%d partfields, want 13: %v %s", len(fs), err, faults)
	}
	if fs[0].Text("name") != "NO_Prag_Komplex" || fs[0].Text("code") != "000030" || fs[0].Geometry[0][0][0] != (orb.Point{14.494698, 50.17215}) {
		t.Errorf("first is %+v at %v", fs[0].Properties, fs[0].Geometry[0][0][0])
	}
	if b := fs[9].Geometry.Bound(); b.Min[1] > -38 || b.Min[0] < 144 {
		t.Errorf("the tenth lies in Victoria, read at %v", b)
	}
}

// TestWrongTaskData: each is one sentence that names the file and the line.
func TestWrongTaskData(t *testing.T) {
	for name, text := range map[string]string{"empty": "", "no task data": "<kml/>", "cut": `<ISO11783_TaskData><PFD A="PFD1"><PLN A="1">`} {
		if _, _, err := scan(t, text); err == nil || !strings.HasPrefix(err.Error(), "TASKDATA.XML:") {
			t.Errorf("%s: %v", name, err)
		}
	}
	fs, faults, err := scan(t, `<ISO11783_TaskData><PFD A="PFD1" C="x"><PLN A="1"><LSG A="1"><PNT A="2" C="95" D="1"/><PNT A="2" C="NaN" D="1"/>`+square+`</LSG></PLN></PFD></ISO11783_TaskData>`)
	if err != nil || len(fs) != 1 || faults.Faults() != 2 || len(fs[0].Geometry[0][0]) != 5 {
		t.Errorf("two points are no places: %v %s", err, faults)
	}
}

// FuzzPartfields: any text ends in features, faults or an error, and coordinates are on the Earth.
func FuzzPartfields(f *testing.F) {
	f.Add(`<ISO11783_TaskData><CTR A="CTR1" B="x"/><PFD A="PFD1" C="x" E="CTR1"><PLN A="1"><LSG A="1">` + square + `</LSG><LSG A="2">` + pond + `</LSG></PLN></PFD></ISO11783_TaskData>`)
	f.Fuzz(func(t *testing.T, text string) {
		fs, _, _ := scan(t, text)
		for _, x := range fs {
			if b := x.Geometry.Bound(); len(x.Geometry) > 0 && !(b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90) {
				t.Errorf("%v is not on the Earth", b)
			}
		}
	})
}
