package exchange_test

import (
	"io"
	"testing"

	"rootworthy/export/exchange"
	"rootworthy/export/words"
)

// BenchmarkTable makes the one table and its cells ready.
func BenchmarkTable10000Zones(b *testing.B) {
	r := many(10000)
	say := words.Sentences(r.Profile)
	for b.Loop() {
		if _, err := exchange.New(b.Context(), r, say, exchange.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkWrite writes each file; by 1,000 and 10,000 zones, so that a step worse than linear shows.
func BenchmarkWrite(b *testing.B) {
	for _, n := range []struct {
		name  string
		zones int
	}{{"1000", 1000}, {"10000", 10000}} {
		s := setOf(b, many(n.zones), exchange.Options{})
		for _, name := range s.Files() {
			b.Run(name+"/"+n.name, func(b *testing.B) {
				b.ReportAllocs()
				size := 0
				for b.Loop() {
					c := &counter{}
					if err := s.WriteFile(b.Context(), name, c); err != nil {
						b.Fatal(err)
					}
					size = c.n
				}
				b.ReportMetric(float64(size)/1e6, "MB")
			})
		}
	}
}

// counter counts what is written and keeps none of it.
type counter struct{ n int }

func (c *counter) Write(b []byte) (int, error) {
	c.n += len(b)
	return io.Discard.Write(b)
}
