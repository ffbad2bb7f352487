package overlay

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
)

// written puts shapes into a coverage file.
func written(t testing.TB, shapes []orb.MultiPolygon) []byte {
	t.Helper()
	var b bytes.Buffer
	w, err := NewWriter(&b, []byte("made by a test"))
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range shapes {
		if err := w.Add(uint32(i%7), s); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// manyShapes is enough for several blocks, with a polygon too wide for offsets, one without ground, and a bow-tie.
func manyShapes() (shapes []orb.MultiPolygon) {
	rnd := rand.New(rand.NewPCG(*seed, 6))
	for range 2500 {
		shapes = append(shapes, randomField(rnd, orb.Point{rnd.Float64() * 30000, rnd.Float64() * 30000}))
	}
	return append(shapes, orb.MultiPolygon{{{{-2e5, -2e5}, {3e5, -2e5}, {3e5, 10}, {-2e5, 10}, {-2e5, -2e5}}}}, nil,
		orb.MultiPolygon{{{{0, 0}, {900, 900}, {900, 0}, {0, 900}, {0, 0}}}})
}

// TestFile checks that a coverage read from a file, block by block, gives what the one in memory gives: with a cache
// that holds everything, and with one that holds a single block.
func TestFile(t *testing.T) {
	shapes := manyShapes()
	keys := make([]uint32, len(shapes))
	for i := range keys {
		keys[i] = uint32(i % 7)
	}
	fields := append(shapes[:200:200], shapes[len(shapes)-3:]...)
	opt := Options{Gaps: true, Boundary: true}
	want := runAll(t, coverageOf(t, shapes, keys), fields, opt)
	b := written(t, shapes)
	for _, cache := range []int{0, 1} {
		c, info, err := Open(bytes.NewReader(b), int64(len(b)), cache)
		if err != nil {
			t.Fatal(err)
		}
		if string(info) != "made by a test" || c.Len() != len(shapes) || len(c.file.places) < 3 {
			t.Errorf("info %q, %d polygons in %d blocks", info, c.Len(), len(c.file.places))
		}
		if got := runAll(t, c, fields, opt); !reflect.DeepEqual(got, want) {
			t.Errorf("cache %d: not what the coverage in memory gives", cache)
		}
		if n := c.file.used.Len(); cache == 1 && n != 1 {
			t.Errorf("%d blocks are kept", n)
		}
		if c.Add(1, shapes[0]) == nil {
			t.Error("a coverage from a file takes polygons")
		}
		if r := c.Repairs(); len(r) != 1 || r[0].Number != len(shapes)-1 {
			t.Errorf("repairs %+v", r)
		}
	}
}

// TestDamagedFile changes and cuts off single bytes: it must be told, when opening or at the latest when the block is
// needed.
func TestDamagedFile(t *testing.T) {
	shapes := manyShapes()
	whole := written(t, shapes)
	cutAll := func(b []byte) error {
		c, _, err := Open(bytes.NewReader(b), int64(len(b)), 0)
		if err != nil {
			return err
		}
		c.Prepare()
		for id := range c.polygons {
			var s soil
			if err := c.view(uint32(id), &s); err != nil {
				run := c.Run(t.Context(), sequence(shapes[id:id+1]), Options{Workers: 2}, func(Cut) error { return nil })
				if !errors.Is(run, ErrDamaged) {
					t.Errorf("Run says %v of a block that cannot be read", run)
				}
				return err
			}
		}
		return nil
	}
	if err := cutAll(whole); err != nil {
		t.Fatal(err)
	}
	rnd := rand.New(rand.NewPCG(*seed, 8))
	for i := range 25 {
		b := bytes.Clone(whole)
		at := len(fileMagic) + rnd.IntN(len(b)-len(fileMagic))
		if i%5 == 4 {
			b = b[:at]
		} else {
			b[at] ^= 1 << rnd.IntN(8)
		}
		if err := cutAll(b); !errors.Is(err, ErrDamaged) {
			t.Errorf("byte %d of %d changed or last: %v", at, len(b), err)
		}
	}
}

// FuzzOpen reads any bytes as a coverage file, with checksums put right so that it gets behind them.
func FuzzOpen(f *testing.F) {
	small := written(f, []orb.MultiPolygon{{{{{0, 0}, {9, 0}, {9, 9}, {0, 0}}}}})
	f.Add(small[len(fileMagic) : len(small)-footerSize])
	f.Fuzz(func(t *testing.T, body []byte) {
		var d directory
		if d.decode(body, int64(len(body))) {
			if again := d.encode(nil, 0); !bytes.Equal(again[:len(again)-footerSize], body) {
				t.Errorf("a directory changes when it is written again")
			}
		}
		if s, err := decodeSlab(body); err == nil && !bytes.Equal(s.encode(nil), body) {
			t.Error("a block changes when it is written again")
		}
	})
}

// TestDirectoryOrder checks that neighbours share blocks: a field in a large survey needs few of them.
func TestDirectoryOrder(t *testing.T) {
	var shapes []orb.MultiPolygon
	rnd := rand.New(rand.NewPCG(1, 9))
	for _, i := range rnd.Perm(60 * 60) {
		x, y := float64(i%60)*1000, float64(i/60)*1000
		shapes = append(shapes, geoCircle(x+500, y+500, 500, 100))
	}
	b := written(t, shapes)
	c, _, err := Open(bytes.NewReader(b), int64(len(b)), 0)
	if err != nil {
		t.Fatal(err)
	}
	field := orb.MultiPolygon{{{{30200, 30200}, {31800, 30300}, {31700, 31900}, {30200, 30200}}}}
	if cut := runAll(t, c, []orb.MultiPolygon{field}, Options{})[0]; len(cut.Pieces) < 3 || c.file.used.Len() > 3 {
		t.Errorf("%d pieces from %d blocks of %d", len(cut.Pieces), c.file.used.Len(), len(c.file.places))
	}
}

func geoCircle(cx, cy, r float64, n int) orb.MultiPolygon {
	var ring orb.Ring
	for i := range n {
		x, y := unitCircle(float64(i) / float64(n))
		ring = append(ring, orb.Point{cx + r*x, cy + r*y})
	}
	return orb.MultiPolygon{{append(ring, ring[0])}}
}
