package managementzone_test

import (
	"context"
	"fmt"

	"rootworthy/raster"
	"rootworthy/raster/managementzone"
)

// Acid ground in the west, sweeter in the east; the spreader is 20 m wide.
func Example() {
	frame := raster.Frame{Cols: 40, Rows: 20, DX: 5, DY: 5, North: 100}
	ph, err := raster.New[float64](frame)
	if err != nil {
		fmt.Println(err)
		return
	}
	for row := range frame.Rows {
		for col := range frame.Cols {
			v := 5.4
			if col >= 16 {
				v = 6.3
			}
			ph.Set(col, row, v)
		}
	}
	s, err := managementzone.Divide(context.Background(), ph, managementzone.Options{Most: 4, Width: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, z := range s.Zones {
		fmt.Printf("zone %d: mean pH %.1f, %.0f m²\n", z.Label, z.Mean, z.Area)
	}
	// Output:
	// zone 1: mean pH 5.4, 8000 m²
	// zone 2: mean pH 6.3, 12000 m²
}
