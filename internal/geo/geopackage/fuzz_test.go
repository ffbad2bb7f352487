package geopackage

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// FuzzGeoPackageBlob: whatever a blob holds, reading ends; what was read is written and read the same.
func FuzzGeoPackageBlob(f *testing.F) {
	blob, _ := shapeBlob(orb.MultiPolygon{{square(-86, 38, 1)}, {square(-80, 38, 1)}})
	f.Add(blob)
	lite, err := hex.DecodeString("0001E6100000" + strings.Repeat("0000000000000000", 4) + "7C" + "06000000" + "01000000" + "69" + "03000000" + "01000000" + "03000000" + strings.Repeat("000000000000F03F", 6) + "FE")
	if err != nil {
		f.Fatal(err)
	}
	if g, err := readBlob(lite); err != nil || len(g.Shape) != 1 {
		f.Fatalf("SpatiaLite seed: %v %v", g, err)
	}
	f.Add(lite)
	f.Fuzz(func(t *testing.T, b []byte) {
		before := bytes.Clone(b)
		g, err := readBlob(b)
		if !bytes.Equal(b, before) {
			t.Fatal("the blob was changed")
		}
		again, bound := shapeBlob(g.Shape)
		if err != nil || bound.Min != bound.Min || again == nil { // NaN
			return
		}
		back, err := readBlob(again)
		once, _ := shapeBlob(back.Shape)
		if err != nil || !bytes.Equal(once, again) {
			t.Fatalf("%v came back as %v, %v", g.Shape, back.Shape, err)
		}
	})
}

// FuzzGeoPackage changes bytes of a sound database, three of place and one of value each: reading ends, in one sentence
// if it fails.
func FuzzGeoPackage(f *testing.F) {
	file := made(f, zones(), samples())
	f.Add([]byte{})
	f.Add([]byte{0, 0, 103, 5, 0, 16, 0, 5})
	f.Fuzz(func(t *testing.T, edits []byte) {
		b := bytes.Clone(file)
		for ; len(edits) >= 4; edits = edits[4:] {
			at := int(binary.BigEndian.Uint32(edits)>>8) % len(b)
			b[at] = edits[3]
		}
		err := readEverything(t.Context(), b, &diag.List{})
		if err != nil {
			for _, line := range strings.Split(err.Error(), "\n") { // one for each table
				if !strings.HasPrefix(line, "f.gpkg: ") {
					t.Fatalf("an error without its file: %q", err)
				}
			}
		}
	})
}
