package run_test

import (
	"fmt"
	"os"
	"path/filepath"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
)

// A run is written, and read back for any later question.
func ExampleWrite() {
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	dir = filepath.Join(dir, "run")
	if err := run.Write(dir, quillmoor.Result()); err != nil {
		fmt.Println(err)
		return
	}
	r, err := run.Read(os.DirFS(dir))
	fmt.Println(len(r.Fields), "fields,", len(r.Zones), "zones,", err)
	// Output: 5 fields, 8 zones, <nil>
}
