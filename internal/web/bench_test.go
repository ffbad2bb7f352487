package web

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"os"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/bench"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability/ranking"
)

// BenchmarkWhatIf is one limit moved on a county's fields: rating, lime, sums, list and digits for the map. It must stay
// under 100 ms.
func BenchmarkWhatIf(b *testing.B) {
	const dir = "../../../shared/data/ssurgo-ar017"
	if _, err := os.Stat(dir); err != nil {
		b.Skipf("needs the real survey %s", dir)
	}
	county := orb.Bound{Min: orb.Point{-91.45, 33.03}, Max: orb.Point{-91.13, 33.53}}
	for _, n := range []int{1000, 5000} {
		l := countyRun(b, dir, bench.Fields(county, n, 1))
		s, err := New(Config{})
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("fields=%d/zones=%d", n, len(l.zones)), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				q := url.Values{"depth.suited": {fmt.Sprint(70 + i%70)}, "target": {fmt.Sprintf("6.%d", 2+i%7)}, "sort": {"-lime"}}
				sc, err := l.staged(q)
				if err != nil {
					b.Fatal(err)
				}
				f := readSift(q)
				if _, err := s.html("list", sc.list(f.zones(sc), &f, q, 1)); err != nil {
					b.Fatal(err)
				}
				sc.digits(false)
			}
		})
	}
}

func countyRun(b *testing.B, dir string, fields []orb.Polygon) *loaded {
	ctx := context.Background()
	var text bytes.Buffer
	var faults diag.List
	if err := bench.WriteGeoJSON(&text, fields); err != nil {
		b.Fatal(err)
	}
	list, err := field.Read(ctx, []field.Source{{Name: "f.geojson", Files: fstest.MapFS{"f.geojson": {Data: text.Bytes()}}, Path: "f.geojson"}}, field.Options{}, &faults)
	if err != nil {
		b.Fatal(err)
	}
	e, err := ssurgo.Open(ctx, "AR017", os.DirFS(dir), &faults)
	if err != nil {
		b.Fatal(err)
	}
	survey, err := e.Survey(ctx)
	if err != nil {
		b.Fatal(err)
	}
	r, err := job.Screen(ctx, list, opened{e, survey}, job.Options{}, &faults)
	if err != nil {
		b.Fatal(err)
	}
	return newLoaded(r)
}

// BenchmarkWeights is one weight moved on a county's fields: order, scores, who is beaten, places, the list in words. With the draws that
// stand behind a moving weight it must stay under 100 ms for a thousand fields.
func BenchmarkWeights(b *testing.B) {
	const dir = "../../../shared/data/ssurgo-ar017"
	if _, err := os.Stat(dir); err != nil {
		b.Skipf("needs the real survey %s", dir)
	}
	county := orb.Bound{Min: orb.Point{-91.45, 33.03}, Max: orb.Point{-91.13, 33.53}}
	l := countyRun(b, dir, bench.Fields(county, 1000, 1))
	s, err := New(Config{Ranker: byWait()})
	if err != nil {
		b.Fatal(err)
	}
	l.chances() // once for all weights
	for _, draws := range []int{quickDraws, 1000} {
		b.Run(fmt.Sprintf("draws=%d", draws), func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				a := rankAsk{weights: ranking.Proposal(), top: usualTop, draws: draws}
				a.weights[ranking.Cost] = float64(i % 10)
				c, err := s.ranked(b.Context(), &book{Name: "run"}, l, a)
				if err != nil {
					b.Fatal(err)
				}
				p := &rankPage{Run: 1}
				p.fill(c, l, a, nil, nil)
				if _, err := s.html("ranklist", p.List); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(c.Ranking.Fields)), "fields")
			}
		})
	}
}
