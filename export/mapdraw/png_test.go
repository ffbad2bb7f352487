package mapdraw

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math/rand/v2"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
)

// What is written is read back to the same pixels by the standard library's reader, whatever the picture: flat, noisy, a column, a pixel.
func TestPicturesComeBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, size := range []image.Point{{1, 1}, {1, 300}, {300, 1}, {257, 129}, {1400, 40}} {
		for _, noisy := range []bool{false, true} {
			im := image.NewRGBA(image.Rectangle{Max: size})
			for i := range im.Pix {
				if im.Pix[i] = 0xd3; noisy {
					im.Pix[i] = uint8(r.Uint32())
				}
				if i%4 == 3 {
					im.Pix[i] = 255
				}
			}
			var b bytes.Buffer
			if err := encodePNG(&b, im); err != nil {
				t.Fatal(err)
			}
			back, err := png.Decode(&b)
			if err != nil {
				t.Fatalf("%v: %v", size, err)
			}
			for y := range size.Y {
				for x := range size.X {
					if got := color.RGBAModel.Convert(back.At(x, y)); got != im.At(x, y) {
						t.Fatalf("%v, noisy %v: pixel %d, %d is %v, want %v", size, noisy, x, y, got, im.At(x, y))
					}
				}
			}
		}
	}
}

// A full disk is told, wherever in the file it comes.
func TestPictureOnAFullDisk(t *testing.T) {
	im := image.NewRGBA(image.Rect(0, 0, 200, 200))
	for room := range 120 {
		if err := encodePNG(&small{room}, im); !errors.Is(err, io.ErrShortWrite) {
			t.Fatalf("room for %d bytes: error %v", room, err)
		}
	}
}

// small takes so many bytes.
type small struct{ room int }

func (s *small) Write(b []byte) (int, error) {
	if len(b) > s.room {
		return s.room, io.ErrShortWrite
	}
	s.room -= len(b)
	return len(b), nil
}

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
