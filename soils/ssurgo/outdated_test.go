package ssurgo

import (
	"testing"

	"github.com/paulmach/orb"
)

// Shapes of the same corners are equal only when these are parted into rings and parts alike.
func TestFingerprintKnowsRings(t *testing.T) {
	outer := orb.Ring{{0, 0}, {9, 0}, {9, 9}, {0, 0}}
	hole := orb.Ring{{4, 2}, {6, 2}, {6, 4}, {4, 2}}
	joined := append(outer.Clone(), hole...)
	sums := map[[16]byte]string{}
	for name, shape := range map[string]orb.MultiPolygon{
		"a hole": {{outer, hole}}, "one ring": {{joined}}, "two parts": {{outer}, {hole}}, "other rings": {{joined[:5], joined[5:]}}, "without the hole": {{outer}},
	} {
		sum := fingerprint("561", shape)
		if other, twice := sums[sum]; twice {
			t.Errorf("%s counts as equal to %s", name, other)
		}
		sums[sum] = name
		if fingerprint("561", shape.Clone()) != sum || fingerprint("562", shape) == sum {
			t.Errorf("%s: equal shapes of one unit, and only they, have one sum", name)
		}
	}
}
