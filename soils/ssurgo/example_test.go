package ssurgo_test

import (
	"context"
	"fmt"
	"os"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

func Example() {
	ctx := context.Background()
	var faults diag.List
	export, err := ssurgo.Open(ctx, "AR017", os.DirFS("testdata/ar017-excerpt"), &faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	survey, err := export.Survey(ctx)
	if err != nil {
		fmt.Println(err)
		return
	}
	a := survey.Areas[0]
	fmt.Printf("%s %s, version %s of %s, 1:%d\n", a.Symbol, a.Name, a.Version, a.Date, a.Scale.Or(0))
	for i := range survey.Units[:3] {
		u := &survey.Units[i]
		c, _ := u.DominantComponent()
		ph, _ := soils.WindowMean(c.Horizons, soils.Window{From: 0, To: 20}, soils.PHOf)
		fmt.Printf("%s: %s %g %%, %v, pH %.1f\n", u.Symbol, c.Name, float64(c.Percent.Or(0)), c.Drainage, ph.Or(0))
	}
	fmt.Print(&faults)
	// Output:
	// AR017 Chicot County, Arkansas, version 22 of 2021-09-13, 1:20000
	// CGB: Calloway 41 %, Somewhat poorly drained, pH 5.3
	// GPA: Gallion 41 %, Well drained, pH 6.2
	// GrA: Grenada 85 %, Moderately well drained, pH 5.3
}
