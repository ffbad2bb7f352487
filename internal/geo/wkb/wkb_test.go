package wkb

import (
	"encoding/hex"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	orbwkb "github.com/paulmach/orb/encoding/wkb"
	"pgregory.net/rapid"
)

// shapes draws multipolygons, rings of any length and direction.
func shapes() *rapid.Generator[orb.MultiPolygon] {
	pt := rapid.Custom(func(t *rapid.T) orb.Point {
		return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "x"), rapid.Float64Range(-90, 90).Draw(t, "y")}
	})
	ring := rapid.Custom(func(t *rapid.T) orb.Ring { return rapid.SliceOfN(pt, 3, 9).Draw(t, "ring") })
	part := rapid.Custom(func(t *rapid.T) orb.Polygon { return rapid.SliceOfN(ring, 1, 3).Draw(t, "part") })
	return rapid.Custom(func(t *rapid.T) orb.MultiPolygon { return rapid.SliceOfN(part, 1, 4).Draw(t, "shape") })
}

// TestRoundTrip: what is written is read the same, by us and by orb's own reader, which shares no code with ours.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shape := shapes().Draw(t, "shape")
		b := Append(nil, shape)
		g, err := Read(b)
		if err != nil || !reflect.DeepEqual(g, Geometry{Shape: shape}) || len(b) != Size(shape) {
			t.Fatalf("%v came back as %v, %v", shape, g, err)
		}
		other, err := orbwkb.Unmarshal(b)
		if err != nil || !reflect.DeepEqual(other, shape) {
			t.Fatalf("orb reads %v, %v", other, err)
		}
	})
}

// TestKinds reads geometries put together by hand; the bytes follow OGC 06-103r4, clause
// 8.2. That GDAL writes the same is tested in the database codec.
func TestKinds(t *testing.T) {
	const (
		x0y0 = "0000000000000000" + "0000000000000000"
		x1y0 = "000000000000F03F" + "0000000000000000"
		x1y1 = "000000000000F03F" + "000000000000F03F"
		z    = "0000000000001C40"
	)
	ring := "04000000" + x0y0 + x1y0 + x1y1 + x0y0
	ringZ := "04000000" + x0y0 + z + x1y0 + z + x1y1 + z + x0y0 + z
	ringZM := "04000000" + x0y0 + z + z + x1y0 + z + z + x1y1 + z + z + x0y0 + z + z
	triangle := orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}}
	for _, tc := range []struct {
		name, hex string
		want      Geometry
		err       string
	}{
		{"polygon", "0103000000" + "01000000" + ring, Geometry{Shape: triangle}, ""},
		{"big-endian polygon", "0000000003" + "00000001" + "00000003" + strings.Repeat("3FF0000000000000", 6), Geometry{Shape: orb.MultiPolygon{{{{1, 1}, {1, 1}, {1, 1}}}}}, ""},
		{"empty polygon", "0103000000" + "00000000", Geometry{}, ""},
		{"polygon Z", "01EB030000" + "01000000" + ringZ, Geometry{Shape: triangle, Flattened: true}, ""},
		{"polygon M", "01D3070000" + "01000000" + ringZ, Geometry{Shape: triangle, Flattened: true}, ""},
		{"polygon ZM", "01BB0B0000" + "01000000" + ringZM, Geometry{Shape: triangle, Flattened: true}, ""},
		{"extended polygon Z with system", "01030000A0" + "E6100000" + "01000000" + ringZ, Geometry{Shape: triangle, Flattened: true}, ""},
		{"multipolygon of two, one big-endian", "0106000000" + "02000000" + "0103000000" + "01000000" + ring + "0000000003" + "00000000", Geometry{Shape: triangle}, ""},
		{"collection", "0107000000" + "03000000" + "0101000000" + x1y1 + "0103000000" + "01000000" + ring + "0104000000" + "01000000" + "0101000000" + x1y1,
			Geometry{Shape: triangle, Others: []string{"Point", "MultiPoint"}}, ""},
		{"line", "0102000000" + "02000000" + x0y0 + x1y1, Geometry{Others: []string{"LineString"}}, ""},
		{"empty collection", "0107000000" + "00000000", Geometry{}, ""},
		{"curved", "010A000000" + "01000000" + ring, Geometry{}, "it is a CurvePolygon, which is not read"},
		{"unknown", "01FF000000" + "01000000" + ring, Geometry{}, "it is a geometry of code 255, which is not read"},
		{"unknown thousand", "018B130000" + "01000000" + ring, Geometry{}, "it is a geometry of code 5003, which is not read"},
		{"point in a multipolygon", "0106000000" + "01000000" + "0101000000" + x1y1, Geometry{}, "it holds a Point where a Polygon must be"},
		{"no byte order", "0703000000" + "01000000" + ring, Geometry{}, "byte 0 of the geometry is 7"},
		{"nothing", "", Geometry{}, "the geometry breaks off"},
		{"cut", "0103000000" + "01000000" + ring[:40], Geometry{}, "byte 9 of the geometry promises 4 parts, for which there are no bytes"},
		{"many rings", "0103000000" + "FFFFFFFF" + ring, Geometry{}, "byte 5 of the geometry promises 4294967295 parts"},
		{"more behind", "0103000000" + "00000000" + "00", Geometry{}, "1 bytes are left over behind the geometry"},
		{"deep", strings.Repeat("0107000000"+"01000000", 100) + "0103000000" + "00000000", Geometry{}, "its collections are nested more than 16 deep"},
	} {
		b, err := hex.DecodeString(tc.hex)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Read(b)
		switch {
		case tc.err == "" && (err != nil || !reflect.DeepEqual(got, tc.want)):
			t.Errorf("%s: got %v, %v, want %v", tc.name, got, err, tc.want)
		case tc.err != "" && (err == nil || !strings.HasPrefix(err.Error(), tc.err)):
			t.Errorf("%s: got error %v, want %s", tc.name, err, tc.err)
		}
	}
}

// TestEveryCutIsAnError: a value that ends too early is never read as a whole one.
func TestEveryCutIsAnError(t *testing.T) {
	b := Append(nil, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, {{{5, 5}, {6, 5}, {6, 6}, {5, 5}}}})
	for n := range b {
		if g, err := Read(b[:n]); err == nil {
			t.Fatalf("the first %d of %d bytes are read as %v", n, len(b), g)
		}
	}
}

// FuzzWKB: whatever the bytes, reading ends, takes no more memory than they are worth, and what was read is written and
// read the same.
func FuzzWKB(f *testing.F) {
	f.Add(Append(nil, orb.MultiPolygon{{{{0, 0}, {1, 0}, {1, 1}, {0, 0}}}, {{{5, 5}, {6, 5}, {6, 6}, {5, 5}}}}))
	f.Add([]byte("\x01\x07\x00\x00\x00\x01\x00\x00\x00\x01\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\xf0\x3f\x00\x00\x00\x00\x00\x00\xf0\x3f"))
	f.Add([]byte("\x00\x80\x00\x00\x03\x00\x00\x00\x00"))
	f.Fuzz(func(t *testing.T, b []byte) {
		g, err := Read(b)
		if err != nil {
			return
		}
		if n := Size(g.Shape); n > 3*len(b)+9 {
			t.Fatalf("%d bytes became %d", len(b), n)
		}
		again := Append(nil, g.Shape)
		back, err := Read(again)
		if err != nil || string(Append(nil, back.Shape)) != string(again) {
			t.Fatalf("%v came back as %v, %v", g.Shape, back.Shape, err)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	ring := make(orb.Ring, 1000)
	for i := range ring {
		ring[i] = orb.Point{float64(i), float64(i % 7)}
	}
	blob := Append(nil, orb.MultiPolygon{{ring}})
	b.SetBytes(int64(len(blob)))
	for b.Loop() {
		if _, err := Read(blob); err != nil {
			b.Fatal(err)
		}
	}
}
