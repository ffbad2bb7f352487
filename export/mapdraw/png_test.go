package mapdraw

import (
	"bytes"
	"io"
	"math/rand/v2"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
)

// blend passes over bare pixels, mixes half-covered ones and replaces covered ones, whatever their place in the row.
func TestBlend(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		n := 1 + r.IntN(40)
		row, mask := make([]uint8, 4*n), make([]uint8, n)
		for i := range mask {
			if r.IntN(3) == 0 {
				mask[i] = []uint8{1, 77, 128, 254, 255}[r.IntN(5)]
			}
		}
		for i := range row {
			row[i] = uint8(r.Uint32())
		}
		want, c := bytes.Clone(row), Color{R: 10, G: 200, B: 255}
		for i, a := range mask {
			for k, v := range []uint8{c.R, c.G, c.B} {
				// half up: an exact mean of the two colours by the share that is covered
				want[4*i+k] = uint8((2*(int(want[4*i+k])*(255-int(a))+int(v)*int(a)) + 255) / 510)
			}
		}
		if blend(row, mask, c); !bytes.Equal(row, want) {
			t.Fatalf("mask %v: got %v, want %v", mask, row, want)
		}
	}
}

// BenchmarkFieldPNG is one map of a field as report --maps png writes it: 1,400 pixels across.
func BenchmarkFieldPNG(b *testing.B) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	b.ReportAllocs()
	for b.Loop() {
		if err := Field(r, &sums[0], Options{Kind: Class, Parts: Whole}).PNG(io.Discard, 2); err != nil {
			b.Fatal(err)
		}
	}
}
