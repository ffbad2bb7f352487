package report

import (
	"fmt"
	"io"
	"testing"

	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
)

// farms returns the invented run again and again until there are n fields; ids differ.
func farms(n int) *suitability.Result {
	out := &suitability.Result{}
	for copy := 0; len(out.Fields) < n; copy++ {
		r := quillmoor.Result()
		out.Provenance, out.Profile = r.Provenance, r.Profile
		for _, f := range r.Fields {
			id := fmt.Sprintf("%s-%d", f.ID, copy)
			zones := f.Zones
			f.ID, f.Zones = id, nil
			for _, z := range zones {
				zone := r.Zones[z]
				zone.FieldID, zone.ID = id, fmt.Sprintf("%s/%d", id, zone.Number)
				f.Zones = append(f.Zones, len(out.Zones))
				out.Zones = append(out.Zones, zone)
			}
			if len(out.Fields) < n {
				out.Fields = append(out.Fields, f)
			}
		}
	}
	return out
}

// BenchmarkReports makes each report of runs of 1, 30 and 1,000 fields; the metric is the size of the file.
func BenchmarkReports(b *testing.B) {
	for _, n := range []int{1, 30, 1000} {
		r := farms(n)
		for name, d := range plainDocuments(b, r) {
			for form, write := range map[string]func(io.Writer) error{"html": d.HTML, "pdf": func(w io.Writer) error { return d.PDF(w, Letter) }} {
				b.Run(fmt.Sprintf("%s/%s/%d", name, form, n), func(b *testing.B) {
					var size counter
					for b.Loop() {
						size = 0
						if err := write(&size); err != nil {
							b.Fatal(err)
						}
					}
					b.ReportMetric(float64(size), "bytes")
				})
			}
		}
	}
}

// plainDocuments builds every report without a comparison.
func plainDocuments(t testing.TB, r *suitability.Result) map[string]*Document {
	t.Helper()
	c, err := Consultant(r, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*Document{"landowner": Landowner(r, Options{}), "consultant": c, "technician": Technician(r, Options{})}
}

// counter counts what is written to it.
type counter int64

func (c *counter) Write(b []byte) (int, error) {
	*c += counter(len(b))
	return len(b), nil
}
