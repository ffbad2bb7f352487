package mapdraw_test

import (
	"bytes"
	"fmt"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/quillmoor"
)

// A field of the invented Quillmoor Farm, drawn for a page: what the map shows, in words and in the legend.
func Example() {
	result := quillmoor.Result()
	sums := export.Sums(result)
	d := mapdraw.Field(result, &sums[0], mapdraw.Options{Kind: mapdraw.Class, Style: mapdraw.Screen(), Width: 700, Parts: mapdraw.Whole})
	var w bytes.Buffer
	if err := d.SVG(&w, "f1"); err != nil {
		fmt.Println(err)
	}
	fmt.Println(d.Title)
	for _, r := range mapdraw.Rows(&sums[0], mapdraw.Class) {
		fmt.Println(r.Letter, r.Word, mapdraw.Percent(r.Share))
	}
	// Output:
	// North Paddock, "home": What the ground can carry once limed
	// S Suited 75 %
	// U Unsuited 25 %
}
