package raster_test

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

func Example() {
	f := raster.Frame{Cols: 3, Rows: 2, West: 500000, North: 4650000, DX: 10, DY: 10}
	g, err := raster.FromCells(f, []int64{7, 7, 8, 7, 8, 8}, nil)
	if err != nil {
		panic(err)
	}
	zones, err := raster.Polygonise(context.Background(), g, raster.OutlineOptions{})
	if err != nil {
		panic(err)
	}
	for _, z := range zones {
		fmt.Println(z.Key, z.Shape[0][0])
	}
	field := orb.MultiPolygon{{{{500005, 4649980}, {500030, 4649980}, {500030, 4650000}, {500005, 4650000}, {500005, 4649980}}}}
	shares, missing, err := raster.KeyShares(g, field)
	fmt.Println(shares, missing, err)
	// Output:
	// 7 [[500000 4.65e+06] [500000 4.64998e+06] [500010 4.64998e+06] [500010 4.64999e+06] [500020 4.64999e+06] [500020 4.65e+06] [500000 4.65e+06]]
	// 8 [[500020 4.65e+06] [500020 4.64999e+06] [500010 4.64999e+06] [500010 4.64998e+06] [500030 4.64998e+06] [500030 4.65e+06] [500020 4.65e+06]]
	// [{7 2 0.4} {8 3 0.6}] 0 <nil>
}
