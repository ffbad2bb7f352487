package report_test

import (
	"bytes"
	"fmt"

	"rootworthy/export/quillmoor"
	"rootworthy/export/report"
)

// The landowner's report of the invented Quillmoor Farm, as page and on paper.
func Example() {
	doc := report.Landowner(quillmoor.Result(), report.Options{})
	var page, paper bytes.Buffer
	if err := doc.HTML(&page); err != nil {
		fmt.Println(err)
	}
	if err := doc.PDF(&paper, report.Letter); err != nil {
		fmt.Println(err)
	}
	fmt.Println(doc.Title)
	for _, b := range doc.Blocks {
		if p, ok := b.(report.Para); ok && p.Tone == report.Answer {
			fmt.Println(p.Text)
			break
		}
	}
	// Output:
	// Home: which fields can hold alfalfa?
	// 1 of 5 fields looks suited once limed; 2 look unsuited, 1 could not be rated and 1 has no answer.
}
