package words_test

import (
	"fmt"

	"rootworthy/export/quillmoor"
	"rootworthy/export/words"
)

// One zone, told to three readers.
func ExampleReason() {
	zone := &quillmoor.Result().Zones[4]
	fmt.Println(words.Reason(zone, words.Landowner))
	fmt.Println(words.Reason(zone, words.Consultant))
	fmt.Println(words.Reason(zone, words.Technician))
	// Output:
	// Unsuited: rock stops the roots (at 11 in, 28 cm; alfalfa needs 24 in, 60 cm, or more even for a marginal stand; our proposal).
	// Unsuited by rooting depth in Ledgewick: 28 cm, Lithic bedrock, limit 60 cm (proposal), not correctable.
	// Unsuited (rooting depth): leave out.
}
