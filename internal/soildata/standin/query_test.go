package standin

import (
	"os"
	"strings"
	"testing"
)

// A query may name only tables that its FROM clause joins; one that names others is refused, as the service would, and not answered with
// some row of them.
func TestTablesOutsideFrom(t *testing.T) {
	s, err := New(os.DirFS("../../../soils/ssurgo/testdata/ar017-excerpt"))
	if err != nil {
		t.Fatal(err)
	}
	const joined = "mapunit INNER JOIN legend ON legend.lkey = mapunit.lkey"
	const outline = "mupolygongeo.STIntersects(geometry::STGeomFromText('MULTIPOLYGON (((-92 33, -91 33, -91 34, -92 33)))', 4326).MakeValid()) = 1"
	for query, outside := range map[string]string{
		"SELECT mapunit.mukey, legend.areasymbol FROM " + joined + " WHERE legend.areasymbol <> 'US'":                                          "",
		"SELECT mapunit.mukey, legend.areasymbol FROM mapunit WHERE mapunit.musym <> 'US'":                                                     "legend",
		"SELECT mapunit.mukey FROM mapunit WHERE legend.areasymbol <> 'US'":                                                                    "legend",
		"SELECT mapunit.mukey FROM mapunit WHERE legend.areasymbol IN ('AR017')":                                                               "legend",
		"SELECT mapunit.mukey FROM mapunit WHERE " + outline:                                                                                   "mupolygon",
		"SELECT mapunit.mukey, mupolygongeo.STAsText() AS shape FROM mapunit WHERE mapunit.musym <> 'US'":                                      "mupolygon",
		"SELECT mapunit.mukey FROM mapunit INNER JOIN legend ON legend.lkey = component.mukey WHERE mapunit.musym <> 'US'":                     "component",
		"SELECT mapunit.mukey FROM mapunit INNER JOIN legend ON legend.lkey = legend.lkey WHERE mapunit.musym <> 'US'":                         "legend",
		"SELECT mapunit.mukey FROM mapunit INNER JOIN legend ON component.mukey = mapunit.mukey WHERE mapunit.musym <> 'US'":                   "component",
		"SELECT mapunit.mukey FROM " + joined + " INNER JOIN sacatalog ON sacatalog.areasymbol = legend.areasymbol WHERE mapunit.musym <> 'U'": "",
	} {
		_, rows, err := s.run(query)
		switch {
		case outside == "" && (err != nil || len(rows) == 0):
			t.Errorf("%s: %d rows, %v", query, len(rows), err)
		case outside != "" && (err == nil || !strings.Contains(err.Error(), "'"+outside+"'")):
			t.Errorf("%s: %d rows, %v; want %s refused", query, len(rows), err, outside)
		}
	}
}
