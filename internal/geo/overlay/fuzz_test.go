package overlay

import (
	"math"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/arrange"
)

// FuzzOverlay makes rings of any kind on a small lattice out of the fuzzer's bytes, as fields and as survey, and
// checks all that a Cut promises, the areas against an arrangement of all lines, and one worker against three.
//
// The first byte says how far lattice points are apart (one grid unit: everything rounds; 1e5: hardly anything does),
// the second how many rings are the survey's. Each ring is a count and then a byte per corner.
func FuzzOverlay(f *testing.F) {
	f.Add([]byte{0, 1, 4, 0x00, 0x60, 0x66, 0x06, 4, 0x03, 0x93, 0x99, 0x39})
	f.Add([]byte{1, 2, 4, 0x00, 0xf0, 0xff, 0x0f, 4, 0x22, 0x42, 0x44, 0x24, 4, 0x00, 0xf0, 0xff, 0x0f})
	f.Add([]byte{2, 1, 4, 0x00, 0xff, 0x0f, 0xf0, 5, 0x11, 0xf3, 0x2f, 0x77, 0xe1})
	f.Fuzz(func(t *testing.T, data []byte) {
		soils, land := fuzzRings(data)
		if len(soils) == 0 || len(land) == 0 {
			return
		}
		c := New()
		for i, ring := range soils {
			if err := c.Add(uint32(i%2), closed([][]geo.Pt{ring})); err != nil {
				t.Fatal(err)
			}
		}
		fields := []orb.MultiPolygon{closed(land)}
		opt := Options{listAll: true, Gaps: true, Boundary: true, Workers: 1}
		cuts := runAll(t, c, fields, opt)
		checkCut(t, cuts[0])
		got := make([]float64, len(soils))
		for _, p := range cuts[0].Pieces {
			got[p.Polygon] += p.Area
		}
		field := arrange.EvenOdd(land)
		slack := geo.SquareMetres(geo.Wide(int64(60 * len(data) * int(lattice(data)))))
		for i, ring := range soils {
			want := geo.SquareMetres(areaOf(arrange.Intersection(field, arrange.EvenOdd([][]geo.Pt{ring}))))
			if math.Abs(got[i]-want) > slack {
				t.Errorf("polygon %d: %v m², want %v", i, got[i], want)
			}
		}
		opt.Workers = 3
		if again := runAll(t, c, fields, opt); !reflect.DeepEqual(cuts, again) {
			t.Errorf("three workers find something else:\n%v\n%v", cuts, again)
		}
		opt.Dissolve = true
		for _, p := range runAll(t, c, fields, opt)[0].Pieces {
			checkShape(t, p.Shape)
		}
	})
}

func lattice(data []byte) int64 { return []int64{1, 3, 100, 1e5}[data[0]%4] }

func fuzzRings(data []byte) (soils, land [][]geo.Pt) {
	if len(data) < 3 || len(data) > 200 {
		return nil, nil
	}
	step, first := lattice(data), int(data[1]%6)
	for data = data[2:]; len(data) > 0; {
		n := min(int(data[0]%16), len(data)-1)
		var ring []geo.Pt
		for _, b := range data[1 : 1+n] {
			ring = append(ring, geo.Pt{X: int64(b&15) * step, Y: int64(b>>4) * step})
		}
		data = data[1+n:]
		if len(ring) < 3 {
			continue
		}
		if len(soils) < first {
			soils = append(soils, ring)
		} else {
			land = append(land, ring)
		}
	}
	return soils, land
}
