package geojson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// data is the folder of real files beside the repository.
const data = "../../../../shared/data/"

// plain is a feature as encoding/json reads it.
type plain struct {
	Properties map[string]any
	Geometry   struct {
		Type        string
		Coordinates json.RawMessage
	}
}

func (p plain) polygons(t *testing.T) (out orb.MultiPolygon) {
	var err error
	if p.Geometry.Type == "Polygon" {
		out = orb.MultiPolygon{nil}
		err = json.Unmarshal(p.Geometry.Coordinates, &out[0])
	} else {
		err = json.Unmarshal(p.Geometry.Coordinates, &out)
	}
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestRealFilesAgainstSecondReader reads real boundary files with encoding/json too: same corners, same property
// names and values. Counts are those of each file's own README.
func TestRealFilesAgainstSecondReader(t *testing.T) {
	for file, count := range map[string]int{
		"fields-sc/fields_EPSG4326.geojson": 25, "fields-story-ia/fields_EPSG4326.geojson": 25, "fields-ar017-invented/fields.geojson": 10,
		"fields-ia073-invented/fields.geojson": 6, "fields-mn-csb/fields.geojson": 2, "fields-story-ia/soil_map_units.geojson": 47,
		"fields-sc/ssurgo_mapunits_raw.geojson": 145,
	} {
		text, err := os.ReadFile(data + file)
		if os.IsNotExist(err) {
			t.Skipf("real data are not there: %v", err)
		}
		if err != nil {
			t.Fatal(err)
		}
		faults := &diag.List{}
		c, err := Read(file, bytes.NewReader(text), faults)
		if err != nil || len(faults.Kept()) > 0 || len(c.Features) != count || !c.CRS.Known() {
			t.Errorf("%s: %d features, want %d, CRS %v, %v, %v", file, len(c.Features), count, c.CRS, err, faults)
			continue
		}
		var other struct{ Features []plain }
		if err := json.Unmarshal(text, &other); err != nil {
			t.Fatal(err)
		}
		for i, f := range c.Features {
			compare(t, file, f, other.Features[i])
		}
	}
}

func compare(t *testing.T, file string, f Feature, other plain) {
	t.Helper()
	if want := other.polygons(t); !reflect.DeepEqual(f.Geometry, want) {
		t.Errorf("%s %s: %v, want %v", file, f.Label(), f.Geometry, want)
	}
	got := map[string]any{}
	for _, p := range f.Properties {
		var v any
		if err := json.Unmarshal(p.Value, &v); err != nil {
			t.Errorf("%s %s: %s: %v", file, f.Label(), p.Name, err)
		}
		got[p.Name] = v
	}
	if !reflect.DeepEqual(got, other.Properties) {
		t.Errorf("%s %s: properties %v, want %v", file, f.Label(), got, other.Properties)
	}
}

// made returns a collection of n round fields of 60 corners.
func made(n int) string {
	var b strings.Builder
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	for i := range n {
		if i > 0 {
			b.WriteString(",\n")
		}
		fmt.Fprintf(&b, `{"type":"Feature","properties":{"field_id":"F%05d","area_ha":%.3f},"geometry":{"type":"Polygon","coordinates":[[`, i, float64(i)/7)
		for k := range 60 {
			fmt.Fprintf(&b, "[%.7f,%.7f],", -91.2+float64(i*60+k)/1e6, 33.1+float64(k*k)/1e6)
		}
		fmt.Fprintf(&b, "[%.7f,%.7f]]]}}", -91.2+float64(i*60)/1e6, 33.1)
	}
	b.WriteString("]}")
	return b.String()
}

func BenchmarkRead(b *testing.B) {
	text := made(1000)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read("f", strings.NewReader(text), &diag.List{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOtherReader is encoding/json on the same text.
func BenchmarkOtherReader(b *testing.B) {
	text := []byte(made(1000))
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		var other struct {
			Features []struct {
				Properties map[string]any
				Geometry   struct{ Coordinates orb.Polygon }
			}
		}
		if err := json.Unmarshal(text, &other); err != nil {
			b.Fatal(err)
		}
	}
}
