package taskdata

import (
	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// boxOf is the box of all fields of a run.
func boxOf(r *suitability.Result) (box orb.Bound) {
	first := true
	for i := range r.Fields {
		if len(r.Fields[i].Shape) == 0 {
			continue
		}
		// A union with an empty box would take in the place at 0, 0.
		if b := r.Fields[i].Shape.Bound(); first {
			box, first = b, false
		} else {
			box = box.Union(b)
		}
	}
	return box
}
