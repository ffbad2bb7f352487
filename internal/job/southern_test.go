package job

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/soils"
)

// Ground south of the equator is told once, whatever its number; ground north of it never.
func TestSouthernYear(t *testing.T) {
	square := func(id string, south float64) field.Field {
		ring := orb.Ring{{-56, south}, {-55.99, south}, {-55.99, south + 0.01}, {-56, south + 0.01}, {-56, south}}
		return field.Field{ID: id, Shape: orb.MultiPolygon{{ring}}}
	}
	for _, c := range []struct {
		south []float64
		want  string
	}{{[]float64{33}, ""}, {[]float64{33, -33}, "field F2 lies"}, {[]float64{-33, 33, -31}, "2 fields (first F1) lie"}, {[]float64{0.001}, ""}} {
		var fields []field.Field
		for i, y := range c.south {
			fields = append(fields, square(fmt.Sprint("F", i+1), y))
		}
		var faults diag.List
		s := begin(fields, &soils.Survey{}, Options{}, &faults)
		s.tellSouthern()
		told := faults.Kept()
		if c.want == "" && len(told) > 0 || c.want != "" && (len(told) != 1 || !strings.HasPrefix(told[0].What, c.want+" south")) {
			t.Errorf("%v: told %v, want %q", c.south, told, c.want)
		}
	}
}
