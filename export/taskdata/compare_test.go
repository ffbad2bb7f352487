package taskdata_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// compared sets CSV text against a run.
func compared(t *testing.T, r *suitability.Result, text, rateUnit string) (*taskdata.Comparison, *diag.List) {
	t.Helper()
	var faults diag.List
	p, err := taskdata.ReadPoints(context.Background(), "log.csv", strings.NewReader(text), rateUnit, 10, r, &faults)
	if err != nil {
		t.Fatal(err)
	}
	c, err := taskdata.Compare(context.Background(), r, 1, p.Surfaces())
	if err != nil {
		t.Fatal(err)
	}
	return c, &faults
}

// drive logs a point every 2 m east and 5 m north over the field, at the rate of f.
func drive(header, sep string, f func(x, y float64) float64) string {
	var b strings.Builder
	b.WriteString(header + "\n")
	for y := 2.5; y < 200; y += 5 {
		for x := 1.0; x < 300; x += 2 {
			p := at(x, y)
			fmt.Fprintf(&b, "%.7f%s%.7f%s%.3f\n", p[0], sep, p[1], sep, f(x, y))
		}
	}
	return b.String()
}

// TestOverAndUnder: west as planned (2 short tons an acre), the north half of the east 10 % over, its south half a
// quarter under, and a strip north of the field.
func TestOverAndUnder(t *testing.T) {
	r := twoZones()
	text := drive("Longitude,Target Rate,Latitude,Set Rate,Applied Rate (lb/ac)", ",9,", func(x, y float64) float64 {
		switch {
		case x < 140:
			return 4000
		case y > 100:
			return 2200
		}
		return 1500
	})
	outside := at(50, 260)
	c, faults := compared(t, r, text+fmt.Sprintf("%.7f,9,%.7f,9,4000\nnone,9,33,9,1\n-76,9,33,9,-4\n-76\n", outside[0], outside[1]), "")
	if faults.Faults() != 3 {
		t.Errorf("faults:\n%s", faults.String())
	}
	west, east := c.Zones[0], c.Zones[1]
	near(t, "west, recorded", float64(west.Recorded), float64(west.Area), 0.05)
	near(t, "west, mean rate", rateOf(west).ShortTonsPerAcre(), 2, 0.02) // cells on the border hold points of both sides
	near(t, "east, over", east.Over.ShortTons(), 0.1*(east.Area/2).Acres(), 0.1)
	near(t, "east, under", east.Under.ShortTons(), 0.25*(east.Area/2).Acres(), 0.1)
	if got := float64(c.OutsideArea); got < 80 || got > 130 {
		t.Errorf("outside every zone %v m², want one cell of 10 m", got)
	}
}

// rateOf is the mean rate over what was recorded, zero where nothing was.
func rateOf(z taskdata.ZoneDifference) (mean unit.AreaRate) { mean, _ = z.Mean(); return mean }

// The map in the table's sum: what lies over and under on the map adds up to the comparison's own sums, but for cells so near the plan that
// the map leaves them out. A field's name that a spreadsheet would run is guarded.
func TestMapAndTable(t *testing.T) {
	r := twoZones()
	r.Fields[0].Name, r.Zones[0].FieldName = "=cmd", "=cmd"
	c, _ := compared(t, r, drive("lon;lat;rate", ";", func(x, y float64) float64 { return 2.24170 * x / 100 }), "t/ha")
	var table, file bytes.Buffer
	if err := c.WriteCSV(&table); err != nil {
		t.Fatal(err)
	}
	if err := c.WriteMap(&file); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(table.String(), "A/1,A,'=cmd,") {
		t.Errorf("the table is\n%s", table.String())
	}
	var g struct {
		Features []struct {
			Geometry   struct{ Coordinates orb.Polygon }
			Properties struct {
				Zone string  `json:"zone_id"`
				Side string  `json:"side"`
				Off  float64 `json:"difference_st_ac"`
			}
		}
	}
	if err := json.Unmarshal(file.Bytes(), &g); err != nil {
		t.Fatal(err)
	}
	var over, under unit.Mass
	for _, f := range g.Features {
		mass := unit.ShortTonsPerAcre(f.Properties.Off).Over(areaOf(orb.MultiPolygon{f.Geometry.Coordinates}))
		switch f.Properties.Side {
		case "too much":
			over += mass
		case "too little":
			under -= mass
		}
	}
	sum := c.Sum() // cells within a tenth of the plan are not on the map
	near(t, "over on the map", float64(over), float64(sum.Over), 0.02)
	near(t, "under on the map", float64(under), float64(sum.Under), 0.02)
}

// TestOwnFileAgreesWithThePlan: what we write puts on what the run says, zone by zone.
func TestOwnFileAgreesWithThePlan(t *testing.T) {
	r := farm(t, 5)
	for _, form := range []taskdata.Form{taskdata.Grid2, taskdata.Grid1, taskdata.Polygons} {
		var faults diag.List
		f, err := taskdata.Read("made", written(t, plan(t, r, taskdata.Options{Form: form})), &faults)
		if err != nil {
			t.Fatal(err)
		}
		c, err := taskdata.Compare(context.Background(), r, 1, f.Surfaces(3))
		if err != nil {
			t.Fatal(err)
		}
		sum := c.Sum()
		near(t, "lime", float64(sum.Applied), float64(sum.Planned), 0.01)
		if float64(sum.Over+sum.Under) > 1e-4*float64(sum.Planned) || c.OutsideMass > 0 {
			t.Errorf("form %d: %v kg over, %v under, %v outside", form, sum.Over, sum.Under, c.OutsideMass)
		}
	}
}

// A target rate is what was asked for and not what was put on, so it does not stand in for a rate; a unit that neither the column nor the
// caller names is asked for, never guessed.
func TestLogsThatCannotBeRead(t *testing.T) {
	for text, want := range map[string]string{
		"":                                   "is empty",
		"a,b,c\n1,2,3\n":                     "no columns for longitude and latitude",
		"lon,lat,target_rate_lb_ac\n1,2,3\n": "no column for the rate",
		"lon,lat,rate\n1,2,3\n":              "say it with --rate-unit",
		"lon,lat,rate_lb_ac\nx,y,z\n":        "no point with a rate",
		"lon,lat,rate_kg_ha":                 "no point with a rate",
	} {
		var faults diag.List
		_, err := taskdata.ReadPoints(context.Background(), "log.csv", strings.NewReader(text), "", 10, twoZones(), &faults)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

// FuzzPoints: whatever the bytes, reading ends, and what was read can be compared.
func FuzzPoints(f *testing.F) {
	f.Add([]byte(drive("lon,lat,rate_lb_ac", ",", func(x, y float64) float64 { return x })[:400]))
	f.Add([]byte("\ufeffx;y;dose (kg/ha)\n-75,999;33,001;1,5\n\"\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var faults diag.List
		p, err := taskdata.ReadPoints(context.Background(), "log.csv", bytes.NewReader(text), "", 10, twoZones(), &faults)
		if err != nil {
			return
		}
		c, err := taskdata.Compare(context.Background(), twoZones(), 1, p.Surfaces())
		if err != nil {
			t.Fatal(err)
		}
		if err := c.WriteMap(io.Discard); err != nil {
			t.Fatal(err)
		}
	})
}
