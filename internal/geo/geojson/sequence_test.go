package geojson

import (
	"strings"
	"testing"
)

// Features a line each, as many programs write them, and with the separator of RFC 8142, section 2; what breaks the sequence is told with its line.
func TestSequence(t *testing.T) {
	one := func(id string) string {
		return `{"type":"Feature","id":"` + id + `","properties":{},"geometry":{"type":"Polygon","coordinates":[` + ring + `]}}`
	}
	other := strings.Replace(one("b"), `"type":"Feature"`, `"type":"Feature","crs":{"type":"name","properties":{"name":"EPSG:26915"}}`, 1)
	for name, tc := range map[string]struct {
		text, ids string
		line      int
		fault     string
	}{
		"lines":              {one("a") + "\n" + one("b") + "\n\n" + one("c"), "a b c", 0, ""},
		"one line":           {one("a") + one("b"), "a b", 0, ""},
		"RFC 8142":           {"\x1e" + one("a") + "\n\x1e" + one("b") + "\n", "a b", 0, ""},
		"BOM and Windows":    {"\ufeff" + one("a") + "\r\n" + one("b") + "\r\n", "a b", 0, ""},
		"one of them alone":  {"\x1e" + one("a") + "\n", "a", 0, ""},
		"breaks off":         {one("a") + "\n" + one("b")[:40], "a", 2, "the one feature before that is kept"},
		"no feature":         {one("a") + "\n{\"settings\":1}\n" + one("c"), "a", 2, `what stands here is JSON, but no GeoJSON`},
		"another system":     {one("a") + "\n" + other, "a", 2, "another coordinate system"},
		"collection behind":  {one("a") + "\n" + `{"type":"FeatureCollection","features":[` + one("b") + `]}`, "a", 2, "a FeatureCollection stands behind"},
		"text behind":        {one("a") + "\nand so on", "a", 2, `"a" stands behind the end`},
		"the same system":    {other + "\n" + other, "b b", 0, ""},
		"behind a whole one": {`{"type":"FeatureCollection","features":[` + one("a") + "]}\n" + one("b"), "a", 2, "stands behind the end"},
	} {
		c, faults, err := read(t, tc.text)
		var ids []string
		for _, f := range c.Features {
			ids = append(ids, f.ID)
			if f.Reason != "" || len(f.Geometry) != 1 {
				t.Errorf("%s: feature %s: %v, %s", name, f.ID, f.Geometry, f.Reason)
			}
		}
		if err != nil || strings.Join(ids, " ") != tc.ids {
			t.Errorf("%s: features %v, want %s; %v, %v", name, ids, tc.ids, err, faults)
		}
		told := faults.Kept()
		if tc.fault == "" && len(told) > 0 || tc.fault != "" && (len(told) != 1 || told[0].Line != tc.line || !strings.Contains(told[0].What, tc.fault)) {
			t.Errorf("%s: told %v, want line %d: %q", name, told, tc.line, tc.fault)
		}
	}
}
