package taskdata_test

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/export/taskdata"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// made builds runs of invented ground at sea. Coordinates are steps of 1e-5 degree (about 1 m) from 33 N 76 W.
type made struct{ r suitability.Result }

// at is x steps east and y north of the corner.
func at(x, y float64) orb.Point { return orb.Point{-76 + x*1e-5, 33 + y*1e-5} }

// rect is a rectangle, counter-clockwise.
func rect(west, south, east, north float64) orb.Polygon {
	return orb.Polygon{ring(west, south, east, south, east, north, west, north)}
}

// ring closes a ring of x, y in turn.
func ring(xy ...float64) orb.Ring {
	var r orb.Ring
	for i := 0; i+1 < len(xy); i += 2 {
		r = append(r, at(xy[i], xy[i+1]))
	}
	return append(r, r[0])
}

// areaOf is the area on the ellipsoid.
func areaOf(mp orb.MultiPolygon) unit.Area {
	m2, _ := proj.GeodesicArea(mp, proj.GeodesicOptions{Step: 5})
	return unit.Area(m2)
}

// field adds a field.
func (m *made) field(id, name string, shape ...orb.Polygon) {
	m.r.Fields = append(m.r.Fields, suitability.Field{ID: id, Name: name, Customer: "Saltmarsh & Sons", Farm: "Outer Reach", Shape: shape, Area: areaOf(shape)})
}

// zone adds a zone to the last field; a negative rate is no figure, and not rated ground.
func (m *made) zone(stAc float64, basis string, shape ...orb.Polygon) {
	f := &m.r.Fields[len(m.r.Fields)-1]
	z := suitability.Zone{ID: fmt.Sprintf("%s/%d", f.ID, len(f.Zones)+1), FieldID: f.ID, FieldName: f.Name, Number: len(f.Zones) + 1, Shape: shape, Area: areaOf(shape)}
	if stAc >= 0 {
		rate := unit.ShortTonsPerAcre(stAc)
		z.Rating.Class = suitability.Suited
		z.Lime = suitability.Lime{Basis: basis, Likely: unit.Some(rate), Product: unit.Some(rate), ProductMass: unit.Some(rate.Over(z.Area))}
		if stAc > 0 {
			z.Lime.Passes = 1
		}
	}
	f.Zones = append(f.Zones, len(m.r.Zones))
	m.r.Zones = append(m.r.Zones, z)
}

// tested is a basis that is not the survey's, so that a zone needs no reason to be spread.
const tested = "test: buffer pH"

// twoZones is a field of 300 × 200 m, west at 2 and east at 1 short ton an acre.
func twoZones() *suitability.Result {
	var m made
	m.field("A", "North Field", rect(0, 0, 300, 200))
	m.zone(2, tested, rect(0, 0, 140, 200))
	m.zone(1, tested, rect(140, 0, 300, 200))
	return &m.r
}

// plan plans with the software's name held fixed, so that files do not change with its version.
func plan(t testing.TB, r *suitability.Result, o taskdata.Options) *taskdata.Plan {
	t.Helper()
	o.Software = "test"
	p, err := taskdata.NewPlan(context.Background(), r, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// written returns all files of a plan.
func written(t testing.TB, p *taskdata.Plan) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, name := range p.Files() {
		var b bytes.Buffer
		if err := p.WriteFile(name, &b); err != nil {
			t.Fatal(err)
		}
		out[name] = &fstest.MapFile{Data: b.Bytes()}
	}
	return out
}

// zipped is the zip of a plan, opened.
func zipped(t testing.TB, p *taskdata.Plan) fs.FS {
	t.Helper()
	var b bytes.Buffer
	if err := p.WriteZip(&b); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	return z
}

// A farm's task names its rates by codes of one byte, as each field's does: together they may be more than there are codes, and then near
// ones are put together with the lime kept. 300 rates by hand, in three fields of a hundred.
func TestRatesOfAFarmFitTheirCodes(t *testing.T) {
	var m made
	for f := range 3 {
		y := float64(f) * 200
		m.field(fmt.Sprint(f+1), fmt.Sprintf("Field %d", f+1), rect(0, y, 10000, y+100))
		for i := range 100 {
			x := float64(i) * 100
			m.zone(0.5+0.004*float64(3*i+f), tested, rect(x, y, x+100, y+100))
		}
	}
	for _, form := range []taskdata.Form{taskdata.Grid1, taskdata.Polygons} {
		p := plan(t, &m.r, taskdata.Options{Form: form, PerFarm: true, Machine: taskdata.Machine{Step: unit.ShortTonsPerAcre(0.001)}})
		if len(p.Tasks) != 1 {
			t.Fatalf("%d tasks", len(p.Tasks))
		}
		e := readBack(t, p)[0]
		near(t, "lime", float64(e.Mass), float64(p.Tasks[0].Planned), 0.01)
	}
}
