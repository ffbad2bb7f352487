package web

import (
	"encoding/json"
	"reflect"
	"testing"

	"github.com/paulmach/orb"
)

// The outline to be corrected has the field's corners to the last digit, with every part and hole, and none of the points
// that zones put into a straight line.
func TestBoundaryIsExact(t *testing.T) {
	s := serve(t, nil)
	l, err := s.server.shelf.open(s.server.shelf.get(1))
	if err != nil {
		t.Fatal(err)
	}
	f := &l.result.Fields[0]
	corners := cornersOf(f.Shape, straight)
	brought := orb.Ring{{-78.1992536, 32.6146078}, {-78.1940287, 32.6140667}, {-78.1926425, 32.6161407}, {-78.1931756, 32.618395}, {-78.1990403, 32.6184851}, {-78.1992536, 32.6146078}}
	if !corners[0][0].Equal(brought) || len(f.Shape[0][0]) <= len(brought) { // as testdata/demo/fields.geojson has it
		t.Fatalf("corners %v of %d points", corners[0][0], len(f.Shape[0][0]))
	}
	hole := orb.Ring{{-78.19, 32.61}, {-78.1899, 32.6101}, {-78.1898, 32.61}, {-78.19, 32.61}}
	f.Shape = orb.MultiPolygon{{corners[0][0], hole}, corners[0]}
	for i, z := range l.zones {
		if z.FieldID != f.ID {
			continue
		}
		code, text := s.get("/run/1/boundary?zone=" + string(rune('0'+i)))
		var got boundary
		if err := json.Unmarshal([]byte(text), &got); err != nil || code != 200 {
			t.Fatalf("%d %s", code, text)
		}
		if got.ID != f.ID || !reflect.DeepEqual(got.Coordinates, f.Shape) {
			t.Errorf("got %+v", got)
		}
		break
	}
	for _, wrong := range []string{"", "?zone=-1", "?zone=999", "?zone=x"} {
		if code, _ := s.get("/run/1/boundary" + wrong); code != 404 {
			t.Errorf("%q: %d", wrong, code)
		}
	}
}
