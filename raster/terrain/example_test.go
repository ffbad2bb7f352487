package terrain_test

import (
	"context"
	"fmt"

	"rootworthy/internal/geo/proj"
	"rootworthy/raster"
	"rootworthy/raster/terrain"
)

// Heights in feet on cells of 10 m: the ground rises by one foot a cell towards the east.
func ExampleSlope() {
	crs, _ := proj.FromEPSG(26915)
	f := raster.Frame{Cols: 3, Rows: 3, West: 500000, North: 4650000, DX: 10, DY: 10, CRS: crs}
	z, _ := raster.FromCells(f, []int16{700, 701, 702, 700, 701, 702, 700, 701, 702}, nil)
	slope, err := terrain.Slope(context.Background(), z, terrain.Ground{HeightMetres: 0.3048})
	v, ok := slope.At(1, 1)
	fmt.Printf("%.3f %% %v %v, %d cells at the edge\n", v, ok, err, slope.Missing())
	// Output: 3.048 % true <nil>, 8 cells at the edge
}
