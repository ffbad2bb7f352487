package field_test

import (
	"context"
	"fmt"
	"testing/fstest"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
)

// A boundary whose corners were taken in the wrong order is mended, and told.
func Example() {
	home := fstest.MapFS{"fields.geojson": {Data: []byte(`{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"tract":"H1","name":"Home"},"geometry":{"type":"Polygon","coordinates":[[[-91,33],[-90.99,33.01],[-90.99,33],[-91,33.01],[-91,33]]]}}]}`)}}
	faults := &diag.List{}
	fields, err := field.Read(context.Background(), []field.Source{{Name: "home/fields.geojson", Files: home, Path: "fields.geojson"}}, field.Options{ID: "tract"}, faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(fields[0].ID, fields[0].Name, len(fields[0].Shape), "parts")
	fmt.Print(faults)
	// Output:
	// H1 Home 2 parts
	// home/fields.geojson:2 (H1): its lines cross in one place; its area changes from 0.00 ac (0.00 ha) to 128.05 ac (51.82 ha)
}
