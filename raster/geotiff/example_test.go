package geotiff_test

import (
	"bytes"
	"context"
	"fmt"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
)

func Example() {
	crs, _ := proj.FromEPSG(4326)
	f := raster.Frame{Cols: 3, Rows: 2, West: -20, North: 60, DX: 0.001, DY: 0.001, CRS: crs}
	rates, _ := raster.FromCells(f, []float32{0, 2.5, 5, 0, 2.5, 0}, []bool{false, false, false, false, false, true})
	var file bytes.Buffer
	err := geotiff.Write(context.Background(), &file, []*raster.Grid[float32]{rates},
		geotiff.Options[float32]{Nodata: -9999, Overviews: raster.Average, Names: []string{"lime"}, Units: []string{"t/ha"}})
	if err != nil {
		panic(err)
	}

	in, err := geotiff.Open("rates.tif", bytes.NewReader(file.Bytes()), int64(file.Len()), &diag.List{})
	if err != nil {
		panic(err)
	}
	g, err := geotiff.Read[float64](context.Background(), in, geotiff.Request{Window: raster.Window{Col: 1, Row: 1, Cols: 2, Rows: 1}})
	if err != nil {
		panic(err)
	}
	v, ok := g.At(0, 0)
	_, there := g.At(1, 0)
	fmt.Println(in.Bands()[0].Name, in.Bands()[0].Unit, v, ok, there)
	// Output: lime t/ha 2.5 true false
}
