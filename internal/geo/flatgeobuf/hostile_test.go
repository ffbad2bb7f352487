package flatgeobuf

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

// TestCutAnywhere: what stands before the cut is kept, and told; a file without a whole feature is one sentence.
func TestCutAnywhere(t *testing.T) {
	b := made(t, grid(3))
	kept := map[int]bool{}
	for n := range b {
		l, got, faults, err := readAll(b[:n])
		switch {
		case err != nil && (!strings.HasPrefix(err.Error(), "f.fgb: ") || strings.Contains(err.Error(), "\n") || len(got) > 0):
			t.Fatalf("%d of %d bytes: %d features, %v", n, len(b), len(got), err)
		case err == nil && (faults.Faults() != 1 || l.Count != 9 || len(got) > 8):
			t.Fatalf("%d of %d bytes: %d features, %v", n, len(b), len(got), faults)
		}
		kept[len(got)] = true
	}
	if len(kept) != 9 {
		t.Errorf("kept %v", kept)
	}
}

// Lengths and offsets that lead outside are found before anything is reserved for them.
func TestNoFlatGeobuf(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "f.fgb: is empty"},
		{"fgb", "f.fgb: is no FlatGeobuf"},
		{`{"type":"FeatureCollection"}`, "f.fgb: is no FlatGeobuf"},
		{"fgb\x02fgb\x00", "f.fgb: is FlatGeobuf of version 2, where 3 is read"},
		{"fgb\x03fgb\x00\xff\xff\xff\xff", "f.fgb: header: a length of 4294967295 bytes is more than the 16777216 any has"},
		{"fgb\x03fgb\x00\x08\x00\x00\x00\xff\xff\xff\x7f\x00\x00\x00\x00", "f.fgb: its header is damaged"},
		{"fgb\x03fgb\x01\x00\x00\x00\x00", "f.fgb: its header is damaged"},
	} {
		if _, _, _, err := readAll([]byte(tc.text)); err == nil || !strings.HasPrefix(err.Error(), tc.want) {
			t.Errorf("%q: %v, want %s", tc.text, err, tc.want)
		}
	}
}

// TestCountsAreNotBelieved: a header that counts more than there is, or less.
func TestCountsAreNotBelieved(t *testing.T) {
	write := func(count, node int) []byte {
		e := &encoder{columns: zoneColumns(), all: noBox()}
		var features []byte
		for s, v := range zones().Rows {
			b, _, err := e.make(s, v)
			if err != nil {
				t.Fatal(err)
			}
			features = append(features, b...)
		}
		e.b.reset()
		head := e.b.finish(e.b.table(num(headerKind, uint64(kindMultiPolygon), 1), num(headerCount, uint64(count), 8), num(headerNodeSize, uint64(node), 2)))
		out := append([]byte("fgb\x03fgb\x00"), head...)
		return append(out, features...)
	}
	for _, tc := range []struct {
		count, node, features int
		want                  string
	}{
		{0, 0, 3, ""},
		{3, 0, 3, ""},
		{2, 0, 2, "bytes are left over behind the 2 features"},
		{5, 0, 3, "it breaks off after 3 of 5 features: it ends there"},
		{1 << 50, 0, 3, "it breaks off after 3 of"},
		{1 << 50, 16, 0, "it claims to have 1125899906842624 features; it is damaged"},
		{1 << 39, 16, 0, "is cut off within its index"},
	} {
		_, got, faults, err := readAll(write(tc.count, tc.node))
		said := faults.String()
		if err != nil {
			said = err.Error()
		}
		if len(got) != tc.features || !strings.Contains(said, tc.want) || tc.want == "" && strings.Contains(said, "breaks") {
			t.Errorf("%d, %d: %d features, %v, %s", tc.count, tc.node, len(got), err, said)
		}
	}
}

// repeating returns a file with one feature of n parts that are all the same, bigger than their bytes.
func repeating(n, points int) []byte {
	e := &encoder{}
	e.b.reset()
	xy := e.b.numbers(2*points, 8, func(i int) uint64 { return uint64(i) })
	part := e.b.table(ref(geometryXY, xy))
	parts := make([]offset, n)
	for i := range parts {
		parts[i] = part
	}
	g := e.b.table(ref(geometryParts, e.b.list(parts)), num(geometryType, uint64(kindMultiPolygon), 1))
	one := bytes.Clone(e.b.finish(e.b.table(ref(featureGeometry, g))))
	e.b.reset()
	head := e.b.finish(e.b.table(num(headerNodeSize, 0, 2)))
	return append(append([]byte("fgb\x03fgb\x00"), head...), one...)
}

// TestPartsThatRepeatThemselves: offsets that lead to the same points again and again cost no more than their bytes.
func TestPartsThatRepeatThemselves(t *testing.T) {
	_, got, faults, err := readAll(repeating(1, 1000))
	if err != nil || len(got) != 1 || got[0].Reason != "" || len(got[0].Geometry[0][0]) != 1000 {
		t.Errorf("a sound one: %v %v %v", got, faults, err)
	}
	_, got, faults, err = readAll(repeating(10_000, 1000))
	if err != nil || len(got) != 1 || got[0].Reason != "its points repeat themselves" || faults.Faults() != 1 {
		t.Errorf("%v %v %v", got, faults, err)
	}
}

// TestOddFeatures: other kinds, empty ones, values that cannot be.
func TestOddFeatures(t *testing.T) {
	e := &encoder{}
	col := func(name string, kind columnType) offset {
		at := e.b.text(name)
		return e.b.table(ref(columnName, at), num(columnKind, uint64(kind), 1))
	}
	e.b.reset()
	list := e.b.list([]offset{col("a", typeInt), col("b", typeBinary), col("c", typeJSON), col("d", typeFloat), col("e", 99)})
	file := append([]byte("fgb\x03fgb\x00"), e.b.finish(e.b.table(ref(headerColumns, list), num(headerNodeSize, 0, 2)))...)
	add := func(kind geometryKind, properties []byte) {
		e.b.reset()
		p := e.b.bytes(properties)
		g := e.b.table(num(geometryType, uint64(kind), 1))
		file = append(file, e.b.finish(e.b.table(ref(featureGeometry, g), ref(featureProperties, p)))...)
	}
	add(1, []byte("\x00\x00\xfe\xff\xff\xff\x03\x00\xcd\xcc\xcc\x3d"))
	add(kindPolygon, []byte("\x01\x00\x01\x00\x00\x00x\x02\x00\x09\x00\x00\x00{\"x\": 1 }"))
	add(kindCollection, []byte("\x02\x00\x01\x00\x00\x00{"))
	add(10, []byte("\x04\x00"))
	add(1, []byte("\x07\x00"))
	add(1, []byte("\x02\x00\xff\xff\xff\xff"))
	add(1, []byte("\x02"))
	file = append(file, 4, 0, 0, 0, 9, 9, 9, 9)
	_, got, faults, err := readAll(file)
	var lines []string
	for _, f := range got {
		s := f.Reason
		for _, p := range f.Properties {
			s += " " + p.Name + "=" + string(p.Value)
		}
		lines = append(lines, s)
	}
	want := []string{
		`it is a Point, not a polygon a=-2 b=null c=null d=0.1 e=null`,
		`its geometry is empty a=null b=null c={"x":1} d=null e=null`,
		`its geometry is empty a=null b=null c="{" d=null e=null`,
		`it is a CurvePolygon, not a polygon a=null b=null c=null d=null e=null`,
		`it is a Point, not a polygon a=null b=null c=null d=null e=null`,
		`it is a Point, not a polygon a=null b=null c=null d=null e=null`,
		`it is a Point, not a polygon a=null b=null c=null d=null e=null`,
		`its bytes are damaged`,
	}
	if err != nil || strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("%v\n%s\nwant\n%s", err, strings.Join(lines, "\n"), strings.Join(want, "\n"))
	}
	for _, part := range []string{"value for column 8 of 5", "its value for e cannot be read", "its value for c cannot be read", "its attributes break off", "its value for b is binary"} {
		if !strings.Contains(faults.String(), part) {
			t.Errorf("%s is not told:\n%v", part, faults)
		}
	}
}

func TestErrorsAreReturned(t *testing.T) {
	l, err := Open("f", bytes.NewReader(made(t, grid(3))), &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	stop := errors.New("enough")
	if err := l.Features(func(feature.Feature) error { return stop }); err != stop {
		t.Errorf("the caller's error: %v", err)
	}
}

// FuzzFlatGeobuf: whatever the bytes, reading ends and gives no more points than they have room for; what was read and
// can be written is read back the same.
func FuzzFlatGeobuf(f *testing.F) {
	var small bytes.Buffer
	if err := Write(&small, zones()); err != nil {
		f.Fatal(err)
	}
	f.Add(small.Bytes())
	f.Add(small.Bytes()[:small.Len()-40])
	f.Add(repeating(3, 2))
	f.Fuzz(func(t *testing.T, b []byte) {
		_, got, _, err := readAll(b)
		if err != nil {
			return
		}
		points := 0
		var rs []row
		for _, g := range got {
			for _, part := range g.Geometry {
				for _, r := range part {
					points += len(r)
				}
			}
			rs = append(rs, row{g.Geometry, []any{g.Index}})
		}
		if points > len(b)/16+1 {
			t.Fatalf("%d points in %d bytes", points, len(b))
		}
		var out bytes.Buffer
		if Write(&out, Content{Columns: []feature.Column{{Name: "i", Type: feature.Integer}}, Rows: rowsOf(rs)}) != nil {
			return // corners that are no numbers, rings that surround nothing
		}
		_, again, _, err := readAll(out.Bytes())
		if err != nil || len(again) != len(got) || countPoints(again) < points {
			t.Fatalf("%d features came back of %d: %v", len(again), len(got), err)
		}
	})
}

func countPoints(fs []feature.Feature) (n int) {
	for _, f := range fs {
		for _, part := range f.Geometry {
			for _, r := range part {
				n += len(r)
			}
		}
	}
	return n
}

func BenchmarkWrite10000(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := Write(&out, circles()); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(out.Len()))
	}
}

func BenchmarkRead10000(b *testing.B) {
	file := made(b, circles())
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if _, got, _, err := readAll(file); err != nil || len(got) != 10_000 {
			b.Fatal(err)
		}
	}
}

// circles is a layer of 10,000 zones of 60 corners with 5 columns.
func circles() Content {
	values := []any{"Home Z1", 4, 6.5, true, "2024-09-15"}
	return Content{Columns: zoneColumns(), Rows: func(yield func(orb.MultiPolygon, []any) bool) {
		for i := range 10_000 {
			var ring orb.Ring
			for k := range 15 {
				ring = append(ring, orb.Point{float64(i%100) + float64(k)/32, 0}, orb.Point{float64(i%100) + float64(k)/32 + 1./64, 1. / 256})
			}
			for k := range 30 {
				ring = append(ring, orb.Point{float64(i%100) + float64(30-k)/64, float64(i/100) / 4})
			}
			if !yield(orb.MultiPolygon{{ring}}, values) {
				return
			}
		}
	}}
}
