package export_test

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

func zonesOf(t *testing.T, r *suitability.Result) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := export.WriteZones(&b, r, export.Sentences{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func fieldsOf(t *testing.T, r *suitability.Result) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := export.WriteFields(&b, r, export.Sentences{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// collection is what encoding/json, the second reader, makes of our GeoJSON.
type collection struct {
	BBox     []float64
	Run      map[string]any
	Sources  []string
	CRS      any
	Features []struct {
		ID         string
		Properties map[string]any
		Geometry   struct {
			Type        string
			Coordinates json.RawMessage
		}
		polygons orb.MultiPolygon
	}
}

func readCollection(t *testing.T, b []byte) (c collection) {
	t.Helper()
	if err := json.Unmarshal(b, &c); err != nil {
		t.Fatal(err)
	}
	for i := range c.Features {
		f := &c.Features[i]
		var one orb.Polygon
		var err error
		if f.Geometry.Type == "Polygon" {
			err = json.Unmarshal(f.Geometry.Coordinates, &one)
			f.polygons = orb.MultiPolygon{one}
		} else {
			err = json.Unmarshal(f.Geometry.Coordinates, &f.polygons)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return c
}

// What RFC 7946 asks for, in a file read by a package that is not ours: outer rings counter-clockwise, holes clockwise, all closed, and no
// crs member, which the RFC took away. Each feature has all properties, null where unknown, so that every reader makes the same columns of
// it.
func TestZonesReadBackByAnotherReader(t *testing.T) {
	r := quillmoor.Result()
	fc := readCollection(t, zonesOf(t, r))
	if len(fc.Features) != len(r.Zones) {
		t.Fatalf("%d features, want %d", len(fc.Features), len(r.Zones))
	}
	bound := fc.Features[0].polygons.Bound()
	for i, f := range fc.Features {
		z := r.Zones[i]
		if f.ID != z.ID || f.Properties["zone_id"] != z.ID || f.Properties["class"] != z.Rating.Class.String() {
			t.Errorf("feature %d is %v %v %v, want %s %s", i, f.ID, f.Properties["zone_id"], f.Properties["class"], z.ID, z.Rating.Class)
		}
		if len(f.Properties) != len(export.ZoneColumns()) {
			t.Errorf("%s has %d properties, want %d, null where unknown", z.ID, len(f.Properties), len(export.ZoneColumns()))
		}
		if wantType := map[bool]string{true: "Polygon", false: "MultiPolygon"}[len(z.Shape) == 1]; f.Geometry.Type != wantType {
			t.Errorf("%s is a %s, want a %s", z.ID, f.Geometry.Type, wantType)
		}
		for _, p := range f.polygons {
			for i, ring := range p {
				if want := map[bool]orb.Orientation{true: orb.CCW, false: orb.CW}[i == 0]; ring.Orientation() != want || !ring.Closed() {
					t.Errorf("%s, ring %d: orientation %v, closed %v (RFC 7946, section 3.1.6)", z.ID, i, ring.Orientation(), ring.Closed())
				}
			}
		}
		bound = bound.Union(f.polygons.Bound())
	}
	if want := []float64{bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1]}; !slices.Equal(fc.BBox, want) {
		t.Errorf("bbox %v, want %v", fc.BBox, want)
	}
	if len(fc.Sources) != 2 || fc.Run["date"] != "2026-11-25" || fc.CRS != nil {
		t.Errorf("foreign members: %v %v %v", fc.Sources, fc.Run, fc.CRS)
	}
}

// RFC 7946 leaves precision open; the house writes seven decimals at most and no exponent.
func TestCoordinatesArePlain(t *testing.T) {
	r := quillmoor.Result()
	r.Zones[0].Shape[0][0][1][0] += 1e-12
	for _, b := range [][]byte{zonesOf(t, r), fieldsOf(t, r)} {
		for _, line := range bytes.Split(b, []byte("\n")) {
			_, geometry, ok := bytes.Cut(line, []byte(`"coordinates":`))
			if !ok {
				continue
			}
			geometry, _, _ = bytes.Cut(geometry, []byte(`"properties"`))
			if bad := regexp.MustCompile(`\.\d{8,}|\d[eE]`).Find(geometry); bad != nil {
				t.Errorf("%q in %.120s", bad, geometry)
			}
		}
	}
}

// JSON knows no NaN and no infinity: files for reading leave such a value empty. The file of reasons, which is read back, refuses it.
func TestWhatIsNoNumberIsNeverWritten(t *testing.T) {
	r := quillmoor.Result()
	z := &r.Zones[0]
	z.Rating.Score, z.Lime.Likely, z.Area = unit.Some(math.NaN()), unit.Some(unit.AreaRate(math.Inf(1))), unit.Area(math.NaN())
	r.Fields[0].Area = unit.Area(math.Inf(-1))
	var lime, fields, reasons bytes.Buffer
	if err := export.WriteLimeCSV(&lime, r, export.Sentences{}); err != nil {
		t.Fatal(err)
	}
	if err := export.WriteFieldsCSV(&fields, r); err != nil {
		t.Fatal(err)
	}
	for _, b := range [][]byte{zonesOf(t, r), fieldsOf(t, r), lime.Bytes(), fields.Bytes()} {
		if bad := regexp.MustCompile(`NaN|Inf|<nil>|%!`).Find(b); bad != nil {
			t.Errorf("%q is written", bad)
		}
	}
	if !json.Valid(zonesOf(t, r)) || !json.Valid(fieldsOf(t, r)) {
		t.Error("not JSON any more")
	}
	if err := export.WriteReasons(&reasons, r); err == nil || !strings.Contains(err.Error(), "Q1/1") {
		t.Errorf("reasons: err = %v, want a refusal that names the zone", err)
	}
}

// A zone of whose shape nothing is left still has an area and a rating, so it keeps its place among the features.
func TestAVanishedZoneKeepsItsRow(t *testing.T) {
	r := quillmoor.Result()
	r.Zones[0].Shape = nil
	if first := bytes.Split(zonesOf(t, r), []byte("\n"))[1]; !bytes.Contains(first, []byte(`"geometry":null`)) {
		t.Errorf("got %.200s, want a null geometry", first)
	}
}

// A box around nothing would have no coordinates, so there is none.
func TestNoFieldsIsStillAFile(t *testing.T) {
	for _, b := range [][]byte{zonesOf(t, &suitability.Result{}), fieldsOf(t, &suitability.Result{})} {
		if !json.Valid(b) || bytes.Contains(b, []byte("bbox")) {
			t.Errorf("got %s, want an empty collection without a box", b)
		}
	}
}

// The user's own attributes come back under their own names. One that is called like a column of ours gets "user_" before it, one that
// looks like such a name gets another, so that every name can be turned back.
func TestAttributesKeepTheirValuesAndNeverClash(t *testing.T) {
	fc := readCollection(t, fieldsOf(t, quillmoor.Result()))
	p := fc.Features[0].Properties
	if p["user_area_ac"] != 12.5 || p["user_user_area_ac"] != "kept" || p["crop"] != "bermudagrass" {
		t.Errorf("attributes: %v %v %v", p["user_area_ac"], p["user_user_area_ac"], p["crop"])
	}
	if area, ok := p["area_ac"].(float64); !ok || area < 20 {
		t.Errorf("our own area_ac is %v, want some 20.75", p["area_ac"])
	}
	n := export.NewAttributeNames()
	names := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"area_ac", "user_area_ac", "user_user_zones", "user_", "user_x", "repairs"}))
	rapid.Check(t, func(t *rapid.T) {
		name := names.Draw(t, "name")
		written := n.Written(name)
		if n.Ours(written) || n.Original(written) != name {
			t.Fatalf("%q is written as %q and read as %q", name, written, n.Original(written))
		}
	})
}

// JSON allows a name twice, and readers keep the last: the second would hide the first. A value that is not JSON is refused, since it would
// break the whole file.
func TestTheSameAttributeTwiceIsKeptTwice(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[0].Attributes = []suitability.Attribute{{Name: "a", Value: json.RawMessage("1")}, {Name: "a", Value: json.RawMessage("2")}, {Name: "a_2"}}
	b := fieldsOf(t, r)
	if !bytes.Contains(b, []byte(`"a":1,"a_2":2,"a_2_2":null`)) {
		t.Errorf("got %s", bytes.Split(b, []byte("\n"))[1])
	}
	r.Fields[0].Attributes = []suitability.Attribute{{Name: "a", Value: json.RawMessage("{")}}
	if err := export.WriteFields(&bytes.Buffer{}, r, export.Sentences{}); err == nil || !strings.Contains(err.Error(), "Q1") {
		t.Errorf("err = %v, want a refusal that names the field", err)
	}
}
