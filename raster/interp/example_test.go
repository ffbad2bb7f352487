package interp_test

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/raster"
	"rootworthy/raster/interp"
)

// Seven samples are too few to fit a variogram to; with one given, kriging answers.
func Example() {
	samples := []interp.Sample{
		{At: orb.Point{61, 139}, Value: 477}, {At: orb.Point{63, 140}, Value: 696}, {At: orb.Point{64, 129}, Value: 227}, {At: orb.Point{68, 128}, Value: 646},
		{At: orb.Point{71, 140}, Value: 606}, {At: orb.Point{73, 141}, Value: 791}, {At: orb.Point{75, 128}, Value: 783},
	}
	frame := raster.Frame{Cols: 1, Rows: 1, West: 64.5, North: 137.5, DX: 1, DY: 1}
	for _, o := range []interp.Options{{}, {Least: 7, Variogram: interp.Variogram{Model: interp.Exponential, Sill: 10, Range: 10}}} {
		s, err := interp.Interpolate(context.Background(), frame, samples, o)
		if err != nil {
			fmt.Println(err)
			continue
		}
		v, _ := s.Values.At(0, 0)
		fmt.Printf("%s %s: %.1f", s.Method, s.Why, v)
		if s.Errors != nil {
			e, _ := s.Errors.At(0, 0)
			fmt.Printf(", standard error %.2f", e)
		}
		fmt.Println()
	}
	// Output:
	// mean few points: 603.7
	// ordinary kriging : 592.7, standard error 2.99
}
