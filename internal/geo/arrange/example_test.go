package arrange_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

func Example() {
	parts := arrange.EvenOdd([][]geo.Pt{{{X: 0, Y: 0}, {X: 4, Y: 4}, {X: 4, Y: 0}, {X: 0, Y: 4}}})
	for _, p := range parts {
		fmt.Println(p)
	}
	// Output:
	// [[{0 0} {2 2} {0 4}]]
	// [[{2 2} {4 0} {4 4}]]
}

func ExampleRepair() {
	bowTie := orb.MultiPolygon{{{{0, 0}, {1, 1}, {1, 0}, {0, 1}}}} // not closed, too
	mended, report := arrange.Repair(bowTie, 1e-7)
	fmt.Println(mended)
	fmt.Println(report.Crossings, "crossing,", report.Unclosed, "unclosed, area", report.AreaBefore, "to", report.AreaAfter)
	// Output:
	// [[[[0 0] [0.5 0.5] [0 1] [0 0]]] [[[0.5 0.5] [1 0] [1 1] [0.5 0.5]]]]
	// 1 crossing, 1 unclosed, area 0 to 0.5
}
