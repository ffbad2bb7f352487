package shapefile_test

import (
	"bytes"
	"fmt"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
)

// A layer is written file by file and read record by record.
func Example() {
	columns := []shapefile.Column{{Name: "MUKEY", Type: 'C', Width: 30}, {Name: "acres", Type: 'N', Decimals: 1}}
	rows := func(yield func(orb.MultiPolygon, []any) bool) {
		yield(orb.MultiPolygon{{{{-91, 33}, {-90, 33}, {-90, 34}, {-91, 33}}}}, []any{"565273", 12.54})
	}
	enc, err := shapefile.NewEncoder(columns, rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	files := fstest.MapFS{}
	for ext, fill := range enc.Files() {
		var b bytes.Buffer
		if err := fill(&b); err != nil {
			fmt.Println(err)
		}
		files["soil"+ext] = &fstest.MapFile{Data: b.Bytes()}
	}

	layer, err := shapefile.Open("soil.shp", files, "soil.shp", &diag.List{})
	if err != nil {
		fmt.Println(err)
		return
	}
	mukey := layer.Column("mukey")
	err = layer.Records(func(rec *shapefile.Record) error {
		fmt.Println(rec.Index, rec.Rings.Ring(0), rec.Text(mukey), string(rec.JSON(1)))
		return nil
	})
	fmt.Println(layer.Encoding, err)
	// Output:
	// 0 [-91 33 -90 34 -90 33 -91 33] 565273 12.5
	// UTF-8 (.cpg) <nil>
}
