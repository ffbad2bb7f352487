package geojson_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/geojson"
)

func ExampleRead() {
	const text = `{"type":"FeatureCollection","features":[
{"type":"Feature","id":"H1","properties":{"acres":12.50},"geometry":{"type":"Polygon","coordinates":[[[-91,33],[-90.99,33],[-90.99,33.01],[-91,33]]]}},
{"type":"Feature","id":"H2","properties":{},"geometry":{"type":"Point","coordinates":[-91,33]}}]}`
	faults := &diag.List{}
	c, err := geojson.Read("fields.geojson", strings.NewReader(text), faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range c.Features {
		fmt.Println(f.Label(), f.Line, len(f.Geometry), len(f.Properties))
	}
	fmt.Print(faults)
	// Output:
	// feature 1, id "H1" 2 1 1
	// feature 2, id "H2" 3 0 0
	// fields.geojson:3 (feature 2, id "H2"): it is a Point, not a polygon; draw it as a Polygon or MultiPolygon, or take it out
}
