package taskdata_test

import (
	"context"
	"fmt"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
)

func Example() {
	run := twoZones() // 300 × 200 m: the west at 2 short tons an acre, the east at 1
	plan, err := taskdata.NewPlan(context.Background(), run, taskdata.Options{Machine: taskdata.Machine{Width: 18}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range plan.Tasks {
		east, _ := t.Frame.CellMetres()
		fmt.Printf("%s: %.1f short tons in %d × %d cells of %.1f m\n", t.Name, t.Spread.ShortTons(), t.Frame.Columns, t.Frame.Rows, east)
	}
	fmt.Println(plan.CardFiles())
	// Output:
	// Lime North Field: 22.5 short tons in 73 × 58 cells of 3.8 m
	// [GRD00001.bin TASKDATA.XML]
}

// A controller's file is read and asked what it would do.
func ExampleRead() {
	var faults diag.List
	file, err := taskdata.Read("stick", files(one, bytesOf(0, 100000, 0, 100000, 0, 0, 0, 0, 0, 0, 0, 0)), &faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	effects, _ := file.Effects(&faults)
	fmt.Printf("%s: %.1f kg on %.0f m²; faults: %d\n", effects[0].Form, float64(effects[0].Mass), float64(effects[0].Treated), faults.Faults())
	// Output:
	// grid of rates: 20.7 kg on 207 m²; faults: 0
}
