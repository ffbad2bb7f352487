package field

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/internal/diag"
)

// made returns n round fields of 60 corners side by side on a lattice, each line shared by nobody, one in fifty
// lying half on its neighbour.
func made(n int) string {
	var b strings.Builder
	r := rand.New(rand.NewPCG(1, 2))
	b.WriteString(`{"type":"FeatureCollection","features":[`)
	side := int(math.Ceil(math.Sqrt(float64(n))))
	for i := range n {
		if i > 0 {
			b.WriteString(",\n")
		}
		x, y := -91.5+float64(i%side)*0.008, 33.0+float64(i/side)*0.008
		if i%50 == 49 {
			x -= 0.004
		}
		fmt.Fprintf(&b, `{"type":"Feature","properties":{"field_id":"F%05d","owner":"O%d"},"geometry":{"type":"Polygon","coordinates":[[`, i, i%7)
		var first string
		for k := range 60 {
			a := 2 * math.Pi * float64(k) / 60
			d := 0.0035 + 0.0004*r.Float64()
			c := fmt.Sprintf("[%.7f,%.7f]", x+d*math.Cos(a), y+d*math.Sin(a))
			if k == 0 {
				first = c
			}
			b.WriteString(c + ",")
		}
		b.WriteString(first + "]]}}")
	}
	b.WriteString("]}")
	return b.String()
}

func benchmarkRead(b *testing.B, n int) {
	files := fstest.MapFS{"f.geojson": {Data: []byte(made(n))}}
	b.ReportAllocs()
	for b.Loop() {
		fields, err := Read(context.Background(), []Source{{Name: "f.geojson", Files: files, Path: "f.geojson"}}, Options{}, &diag.List{})
		if err != nil || len(fields) != n {
			b.Fatal(len(fields), err)
		}
	}
}

func BenchmarkRead1000(b *testing.B)  { benchmarkRead(b, 1000) }
func BenchmarkRead10000(b *testing.B) { benchmarkRead(b, 10000) }

// BenchmarkReadCounty takes the polygons of a whole survey for fields: every line is shared, some have thousands of
// corners and hundreds of holes.
func BenchmarkReadCounty(b *testing.B) {
	const shp = "ssurgo-ar017/spatial/soilmu_a_ar017.shp"
	if _, err := os.Stat(data + "/" + shp); err != nil {
		b.Skip(err)
	}
	for b.Loop() {
		if _, err := Read(context.Background(), []Source{{Name: shp, Files: os.DirFS(data), Path: shp}}, Options{}, &diag.List{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkExcludeCounty cuts all polygons of a whole survey out of 1,000 fields that lie in it: far more ground and
// lines than set-backs and waters have.
func BenchmarkExcludeCounty(b *testing.B) {
	const shp = "ssurgo-ar017/spatial/soilmu_a_ar017.shp"
	if _, err := os.Stat(data + "/" + shp); err != nil {
		b.Skip(err)
	}
	files := fstest.MapFS{"f.geojson": {Data: []byte(made(1000))}}
	opt := Options{Exclude: []Source{{Name: shp, Files: os.DirFS(data), Path: shp}}}
	for b.Loop() {
		fields, err := Read(context.Background(), []Source{{Name: "f.geojson", Files: files, Path: "f.geojson"}}, opt, &diag.List{})
		if err != nil || len(fields) != 1000 {
			b.Fatal(len(fields), err)
		}
	}
}
