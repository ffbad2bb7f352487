package geojson

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// FuzzReadGeoJSON: whatever the text, reading ends; what was read, written again by encoding/json, is read the same;
// and text that is no JSON for encoding/json is never read without a fault or an error.
func FuzzReadGeoJSON(f *testing.F) {
	f.Add([]byte(`{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"EPSG:26915"}},"features":[{"type":"Feature","id":"é","properties":{"a":1.50,"b":[{"c":"\u00e9\ud83c\udf31"}]},"geometry":{"type":"Polygon","coordinates":[[[0,0],[4e0,0],[4,3.25],[0,0]]]}}]}`))
	f.Add([]byte(`{"type":"Feature","id":12,"properties":{"a":NaN},"geometry":{"type":"GeometryCollection","geometries":[{"type":"MultiPolygon","coordinates":[[[[1,2],[3,4],[5,NaN]]]]},{"type":"Point","coordinates":[1,2]}]}}`))
	f.Add([]byte("\ufeff{\"coordinates\":[[],[[0,0]]],\"type\":\"Polygon\"} x"))
	f.Add([]byte("\x1e{\"type\":\"Feature\",\"geometry\":null,\"properties\":null}\n\x1e{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[1,0],[1,1],[0,0]]]}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		faults := &diag.List{}
		c, err := Read("f", bytes.NewReader(text), faults)
		if err != nil {
			return
		}
		if !validSequence(text) && len(faults.Kept()) == 0 && !hasNaN(c) {
			t.Fatalf("read without a word: %q", text)
		}
		again, err := Read("g", strings.NewReader(encode(t, c)), &diag.List{})
		if err != nil || len(again.Features) != len(c.Features) {
			t.Fatalf("%d features came back of %d: %v\n%s", len(again.Features), len(c.Features), err, encode(t, c))
		}
		for i, b := range again.Features {
			a := c.Features[i]
			if a.ID != b.ID && !isNumber(a.ID) || !reflect.DeepEqual(finite(a.Geometry), finite(b.Geometry)) || len(a.Properties) != len(b.Properties) {
				t.Fatalf("feature %d came back as %v, was %v", i, b, a)
			}
			for k := range a.Properties {
				if a.Properties[k].Name != b.Properties[k].Name || !bytes.Equal(a.Properties[k].Value, b.Properties[k].Value) {
					t.Fatalf("property %q = %s came back as %q = %s", a.Properties[k].Name, a.Properties[k].Value, b.Properties[k].Name, b.Properties[k].Value)
				}
			}
		}
	})
}

// validSequence tells whether text is one JSON text or several, each with or without the separator of RFC 8142, for encoding/json.
func validSequence(text []byte) bool {
	d := json.NewDecoder(bytes.NewReader(bytes.ReplaceAll(bytes.TrimPrefix(text, []byte("\ufeff")), []byte{recordSeparator}, []byte(" "))))
	for {
		var v json.RawMessage
		switch err := d.Decode(&v); {
		case err == io.EOF:
			return true
		case err != nil:
			return false
		}
	}
}

func hasNaN(c Collection) bool {
	for _, f := range c.Features {
		if !reflect.DeepEqual(f.Geometry, finite(f.Geometry)) {
			return true
		}
	}
	return false
}

// finite replaces numbers that JSON cannot hold, in a copy, and drops rings without points, which it cannot tell of.
func finite(mp orb.MultiPolygon) orb.MultiPolygon {
	out := mp.Clone()
	for _, p := range out {
		for _, r := range p {
			for i := range r {
				for k, v := range r[i] {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						r[i][k] = 0
					}
				}
			}
		}
	}
	return out
}

// encode writes the collection with encoding/json.
func encode(t *testing.T, c Collection) string {
	marshal := func(v any) string {
		var b bytes.Buffer
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(v); err != nil {
			t.Fatalf("%v cannot be encoded: %v", v, err)
		}
		return strings.TrimSpace(b.String())
	}
	var parts []string
	for _, f := range c.Features {
		geometry := "null"
		if len(f.Geometry) > 0 {
			geometry = `{"type":"MultiPolygon","coordinates":` + marshal(finite(f.Geometry)) + `}`
		}
		var props []string
		for _, p := range f.Properties {
			if !json.Valid(p.Value) {
				t.Fatalf("property %q is %q, no JSON", p.Name, p.Value)
			}
			props = append(props, marshal(p.Name)+":"+string(p.Value))
		}
		parts = append(parts, `{"type":"Feature","id":`+marshal(f.ID)+`,"properties":{`+strings.Join(props, ",")+`},"geometry":`+geometry+`}`)
	}
	return `{"type":"FeatureCollection","features":[` + strings.Join(parts, ",") + `]}`
}
