package geopackage_test

import (
	"bytes"
	"context"
	"fmt"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geopackage"
)

func Example() {
	ctx := context.Background()
	var file bytes.Buffer
	err := geopackage.Write(ctx, &file, []geopackage.Content{{
		Name:    "fields",
		Columns: []feature.Column{{Name: "tract"}, {Name: "acres", Type: feature.Real}},
		Rows: func(yield func(orb.MultiPolygon, []any) bool) {
			yield(orb.MultiPolygon{{{{-91, 33}, {-90.99, 33}, {-90.99, 33.01}, {-91, 33}}}}, []any{"H1", 12.5})
		},
	}}, time.Date(2024, 9, 15, 0, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	db, err := geopackage.Open(ctx, "farm.gpkg", bytes.NewReader(file.Bytes()), int64(file.Len()), &diag.List{})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer db.Close()
	layer, err := db.Layer(ctx, "")
	if err != nil {
		fmt.Println(err)
		return
	}
	crs, _, _ := layer.CRS()
	fmt.Println(layer.Name, crs)
	err = layer.Features(ctx, func(f feature.Feature) error {
		fmt.Println(f.Label(), f.Text("tract"), f.Text("acres"), len(f.Geometry))
		return nil
	})
	if err != nil {
		fmt.Println(err)
	}
	// Output:
	// fields EPSG:4326
	// feature 1, id "1" H1 12.5 1
}
