package field

import (
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/arrange"
)

// FuzzMend draws rings on a lattice of 16 × 16, where nearly everything coincides: what comes out is valid, turned
// right, and mending it again changes nothing.
func FuzzMend(f *testing.F) {
	f.Add([]byte{0x00, 0x40, 0x44, 0x04, 0x00}, uint8(0))
	f.Add([]byte{0x00, 0x44, 0x40, 0x04, 0x11, 0x13, 0x33, 0x31, 0x11}, uint8(4))
	f.Fuzz(func(t *testing.T, corners []byte, split uint8) {
		if len(corners) > 200 {
			return
		}
		var shape orb.MultiPolygon
		for i, ring := range rings(corners, int(split)) {
			if i%3 == 0 {
				shape = append(shape, orb.Polygon{})
			}
			last := len(shape) - 1
			shape[last] = append(shape[last], ring)
		}
		m := mend(shape)
		if bad := arrange.CheckAll(onGrid(m.shape)); len(m.shape) > 0 && !bad.OK() {
			t.Fatalf("%v was mended to %v, which is not valid: %v", shape, m.shape, bad)
		}
		for _, p := range m.shape {
			for k, r := range p {
				if (r.Orientation() == orb.CCW) != (k == 0) || r[0] != r[len(r)-1] {
					t.Fatalf("ring %d of %v runs the wrong way or is open", k, p)
				}
			}
		}
		if again := mend(m.shape); len(m.shape) > 0 && (len(words(again.report)) > 0 || !again.shape.Equal(m.shape)) {
			t.Fatalf("mending %v again gives %v: %q", m.shape, again.shape, words(again.report))
		}
	})
}

// rings cuts corners, a nibble for x and one for y, into rings of the given length.
func rings(corners []byte, length int) []orb.Ring {
	if length < 1 {
		length = len(corners)
	}
	var out []orb.Ring
	for len(corners) > 0 {
		n := min(length, len(corners))
		var r orb.Ring
		for _, c := range corners[:n] {
			r = append(r, orb.Point{-91 + float64(c>>4)*1e-3, 33 + float64(c&15)*1e-3})
		}
		out = append(out, r)
		corners = corners[n:]
	}
	return out
}
