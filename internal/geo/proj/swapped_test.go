package proj

import (
	"testing"

	"github.com/paulmach/orb"
)

func TestLooksSwapped(t *testing.T) {
	survey := bound(-91.6, 33, -91, 33.8)
	for name, c := range map[string]struct {
		data orb.Bound
		want bool
	}{
		"right":     {bound(-91.2, 33.1, -91.1, 33.2), false},
		"swapped":   {bound(33.1, -91.2, 33.2, -91.1), true},
		"elsewhere": {bound(-80, 40, -79, 41), false},
		"no place":  {bound(33.1, -95, 33.2, -94), false},
		"empty":     {bound(1, 1, -1, -1), false},
	} {
		if got := LooksSwapped(c.data, survey); got != c.want {
			t.Errorf("%s: LooksSwapped = %v, want %v", name, got, c.want)
		}
	}
	if LooksSwapped(bound(33.1, -91.2, 33.2, -91.1), orb.Bound{Min: orb.Point{1, 1}, Max: orb.Point{-1, -1}}) {
		t.Error("nothing can look swapped against an empty survey")
	}
}
