package lab_test

import (
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
)

// A file in the plain header, with one thing the laboratory did not say.
func Example() {
	file := `field_id,sample_id,top_cm,bottom_cm,date,ph_water,buffer_ph,p_m3_ppm
home,7,0,15,2026-03-14,5.4,6.2,38
home,8,0,15,2026-03-14,6.6,,<5
`
	var faults diag.List
	results, err := lab.Read("tests.csv", strings.NewReader(file), int64(len(file)), nil, &faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range results.Understood.Columns[5:] {
		fmt.Println(c)
	}
	fmt.Print(faults.String())

	// The laboratory answers: the Mehlich buffer.
	answered, _ := lab.Read("tests.csv", strings.NewReader(file), int64(len(file)), &lab.Mapping{Buffer: "mehlich"}, &faults)
	fmt.Println(answered.Samples[0].Buffer.Mehlich.Get())
	// Output:
	// column 6 "ph_water": pH in water (ph_water): 2 values
	// column 7 "buffer_ph": buffer pH, buffer not stated (buffer_ph): 0 values, 1 missing, 1 not usable yet; ask the laboratory: which lime buffer was it read in: Mehlich, Adams-Evans, Moore-Sikora, SMP, Sikora or Woodruff?
	// column 8 "p_m3_ppm": phosphorus, Mehlich-3, mg/kg (ppm) (p_m3_ppm): 2 values, 1 beyond detection
	// tests.csv:1: buffer_ph: 1 value is not used: a buffer pH without its buffer says nothing about lime; ask the laboratory: which lime buffer was it read in: Mehlich, Adams-Evans, Moore-Sikora, SMP, Sikora or Woodruff? Then set it in the mapping, e.g. "buffer_ph" = "buffer_ph_mehlich"
	// 6.2 true
}
