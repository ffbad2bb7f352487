package soildata_test

import (
	"context"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"

	"rootworthy/internal/diag"
	"rootworthy/internal/soildata"
	"rootworthy/internal/soildata/standin"
)

func ExampleFetch() {
	service, err := standin.New(os.DirFS("../../soils/ssurgo/testdata/ar017-excerpt"))
	if err != nil {
		fmt.Println(err)
		return
	}
	server := httptest.NewServer(service) // in place of the real service
	defer server.Close()
	dir, err := os.MkdirTemp("", "example")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)

	var faults diag.List
	fetched, err := soildata.Fetch(context.Background(), soildata.Request{Areas: []string{"AR017"}},
		soildata.Options{Dir: dir, BaseURL: server.URL}, &faults)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range fetched {
		fmt.Println(f.Symbol, "version", f.Version, "of", f.Date, "-", f.Units, "map units in", filepath.Base(f.Folder))
	}
	// Output: AR017 version 22 of 2021-09-13 - 8 map units in AR017-22-2021-09-13
}
