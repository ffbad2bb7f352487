// Package raster holds ground that is cut into equal cells: heights, map unit keys, rates.
//
// A [Frame] says where the cells lie, a [Grid] what they hold. Rows run from north to south, columns from west to east.
// A cell may hold nothing, and then it is missing: there is no number that means "no data", and no NaN comes out.
// Numbers are plain, in the unit of their band; whoever reads a band knows its unit.
//
//	f := raster.Frame{Cols: 3, Rows: 2, West: 500000, North: 4650000, DX: 10, DY: 10, CRS: utm15}
//	g, err := raster.FromCells(f, []int64{7, 7, 8, 7, 8, 8}, nil)
//	zones, err := raster.Polygonise(ctx, g, raster.OutlineOptions{}) // two zones that share their border to the last bit
//	shares, missing, err := raster.KeyShares(g, field)               // how much of a field each key holds
//
// [Zonal] sums a grid over a polygon, each cell weighted by the share of it that lies inside, which is computed, not
// sampled. [Resample] brings a grid to other cells, [Halve] makes the next overview. Reading and writing files is
// package geotiff, the shape of the ground package terrain.
package raster
