package overlay

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/paulmach/orb"
)

var overlays = flag.Int("overlays", 20000, "how many pairs of field and polygon TestLong cuts")

// count is told of each survey and its fields that runAll has cut, once and not again for other options.
var count func(c *Coverage, fields []orb.MultiPolygon)

// TestLong goes through all random cases in turn, each seed another, until that many pairs of a field and a polygon
// whose boxes meet have been cut and checked:
//
//	go test ./internal/geo/overlay -run TestLong -timeout 0 -overlays 10000000 -seed 1 -v
func TestLong(t *testing.T) {
	pairs := 0
	count = func(c *Coverage, fields []orb.MultiPolygon) {
		var found []uint32
		for _, f := range fields {
			var g figure
			g.load(f)
			found = c.tree.Load().Search(g.box, found[:0])
			pairs += len(found)
		}
	}
	defer func() { count = nil }()
	kinds := []struct {
		name string
		one  func(testing.TB, *rand.Rand)
	}{{"polyominoes", polyominoCase}, {"triangles", triangleCase}, {"indifference", indifferenceCase}, {"symmetry", symmetryCase}, {"scribbles", scribbleCase}}
	s, told := *seed, time.Now()
	for ; pairs < *overlays && !t.Failed(); s++ {
		for _, k := range kinds {
			if k.name == "scribbles" && s%8 != 0 {
				continue // most of its time goes into what it is checked against
			}
			k.one(prefixed{t, fmt.Sprintf("%s, -seed %d: ", k.name, s)}, rand.New(rand.NewPCG(s, 7)))
		}
		if time.Since(told) > time.Minute {
			told = time.Now()
			t.Logf("%d pairs, seed %d", pairs, s)
		}
	}
	t.Logf("%d pairs of field and polygon, seeds %d to %d", pairs, *seed, s-1)
}
