package shapefile

import (
	"encoding/binary"
	"encoding/json"
	"reflect"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"
)

// FuzzShapefile: whatever a .shp and .shx hold, reading ends; what was read and can be written is read back the same.
func FuzzShapefile(f *testing.F) {
	cols, rs := two()
	files := write(f, "a", cols, rs)
	f.Add(files["a.shp"].Data, files["a.shx"].Data)
	f.Add(files["a.shp"].Data[:300], files["a.shx"].Data[:108])
	f.Fuzz(func(t *testing.T, shp, shx []byte) {
		got, _, err := readAll(t, fstest.MapFS{"a.shp": {Data: shp}, "a.shx": {Data: shx}}, "a.shp")
		if err != nil {
			return
		}
		var rs []row
		for _, k := range got {
			rs = append(rs, row{k.shape, []any{k.index}})
		}
		enc, err := NewEncoder([]Column{{Name: "place", Type: 'N'}}, rowsOf(rs))
		if err != nil {
			return // corners that are no numbers
		}
		if enc.n != len(rs) {
			t.Fatalf("encoder counts %d rows of %d", enc.n, len(rs))
		}
		again, faults, err := readAll(t, write(t, "b", []Column{{Name: "place", Type: 'N'}}, rs), "b.shp")
		if err != nil || faults.Faults() > 0 || len(again) != len(got) {
			t.Fatalf("%d of %d records came back: %v %v", len(again), len(got), err, faults)
		}
		for i := range again {
			if a, b := corners(again[i].shape), corners(got[i].shape); !reflect.DeepEqual(a, b) {
				t.Fatalf("record %d changed from %v to %v", i, b, a)
			}
		}
	})
}

// corners counts the corners of a shape, closing ones left out: the writer closes rings, turns them, and the reader
// may sort rings that cross each other in another way.
func corners(mp orb.MultiPolygon) map[orb.Point]int {
	out := map[orb.Point]int{}
	for _, p := range mp {
		for _, r := range p {
			if n := len(r); n > 1 && r[0] == r[n-1] {
				r = r[:n-1]
			}
			for _, pt := range r {
				out[pt]++
			}
		}
	}
	return out
}

// nulls returns a .shp of n null shapes.
func nulls(n int) []byte {
	b := (&Encoder{bounds: noBox()}).header(int64(headerSize/2 + 6*n))
	for i := range n {
		b = binary.BigEndian.AppendUint32(b, uint32(i+1))
		b = binary.BigEndian.AppendUint32(b, nullSize/2)
		b = binary.LittleEndian.AppendUint32(b, shapeNull)
	}
	return b
}

// FuzzDBF: whatever a .dbf and .cpg hold, reading ends and every value is good JSON; texts that are read are written
// and read back the same.
func FuzzDBF(f *testing.F) {
	cols, rs := two()
	files := write(f, "a", cols, rs)
	f.Add(files["a.dbf"].Data, "UTF-8")
	f.Add(files["a.dbf"].Data, "1252")
	f.Add(files["a.dbf"].Data[:230], "")
	f.Fuzz(func(t *testing.T, dbf []byte, cpg string) {
		got, _, err := readAll(t, fstest.MapFS{"a.shp": {Data: nulls(3)}, "a.dbf": {Data: dbf}, "a.cpg": {Data: []byte(cpg)}}, "a.shp")
		if err != nil {
			return
		}
		for _, k := range got {
			for i, v := range k.values {
				if !json.Valid([]byte(v)) {
					t.Fatalf("value %d of record %d is %q, no JSON", i, k.index, v)
				}
				checkTextComesBack(t, v)
			}
		}
	})
}

// checkTextComesBack writes a text cell and reads it.
func checkTextComesBack(t *testing.T, v string) {
	var s string
	if json.Unmarshal([]byte(v), &s) != nil || len(s) > maxTextWidth {
		return
	}
	clean, err := Column{Type: 'C'}.format(s)
	if err != nil {
		t.Fatal(err)
	}
	again, faults, err := readAll(t, write(t, "b", []Column{{Name: "v", Type: 'C'}}, []row{{nil, []any{clean}}}), "b.shp")
	if err != nil || faults.Faults() > 0 || len(again) != 1 {
		t.Fatal(err, faults)
	}
	var back string
	if json.Unmarshal([]byte(again[0].values[0]), &back); back != trimRight(clean) {
		t.Fatalf("%q came back as %q", clean, back)
	}
}

func trimRight(s string) string {
	for len(s) > 0 && s[len(s)-1] == ' ' {
		s = s[:len(s)-1]
	}
	return s
}
