package uncertainty

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Ground is the soil of a zone as it may be. Zones on one map unit with as many bodies share it, unless they were
// tested. It is not safe for use by several goroutines at once.
type Ground struct {
	profile    *suitability.Profile
	options    Options
	seed       uint64
	components []*component
	rest       float64 // share that the survey does not describe, 0…1
	bodies     int     // 0: as mapped
	top, deep  tested
	lime       limeModel
	varies     bool // the class may differ from draw to draw
}

// tested is a tested pH of a zone; sd is what it may be off by.
type tested struct {
	ok     bool
	ph, sd float64
}

// draw returns what the pH may be.
func (t tested) draw(r *rand.Rand) unit.Opt[float64] {
	if !t.ok {
		return unit.None[float64]()
	}
	return unit.Some(t.ph + t.sd*r.NormFloat64())
}

// newGround gathers what is known of the soil of a zone. drained says that works are declared on its field.
func newGround(p *suitability.Profile, z *suitability.Zone, drained bool, bodies int, l *luck, o Options) *Ground {
	g := &Ground{profile: p, options: o, seed: seedOf(z, bodies), bodies: bodies, lime: limeOf(p, z, l, o)}
	sum := 0.0
	for i := range z.Rating.Components {
		sum += max(0, float64(z.Rating.Components[i].Percent.Or(0)))
	}
	// Percents of a unit that add up to more than a hundred are shares of their sum; those that add up to less leave a rest.
	whole := max(100, sum)
	// 0 when the percents fill the whole
	g.rest = 1 - sum/whole
	g.top, g.deep = testedOf(z.Rating.Tested.Surface, o), testedOf(z.Rating.Tested.Subsoil, o)
	kinds := 0
	for i := range z.Rating.Components {
		c := &z.Rating.Components[i]
		// a component without a percent has no chance to be met
		if pct := float64(c.Percent.Or(0)); pct > 0 {
			x := newComponent(p, c, z.Rating.Target.PH, drained, l, o.NoSpread)
			x.share = pct / whole
			g.varies = g.varies || len(x.surface) > 1 || len(x.others) > 0
			g.components = append(g.components, x)
			kinds++
		}
	}
	if g.rest > 1e-9 {
		kinds++
	}
	// one kind of soil in any number of bodies is the same ground in every draw
	g.varies = g.varies || bodies > 0 && kinds > 1 || g.top.sd > 0 || g.deep.sd > 0
	return g
}

// testedOf returns a test with what it may be off by: what its bags miss of the zone, and more when it is not young.
func testedOf(t *suitability.TestedPH, o Options) tested {
	if t == nil {
		return tested{}
	}
	x := tested{ok: true, ph: float64(t.PH)}
	if o.NoSpread {
		return x
	}
	// Bags of one zone err independently of each other, so that four of them halve the error.
	x.sd = BagSD(cores) / math.Sqrt(float64(max(1, t.Samples)))
	if t.Age != suitability.AgeFresh {
		// Independent errors add up as squares: what the bag missed, and what the years did since.
		x.sd = math.Hypot(x.sd, oldSD)
	}
	return x
}

// cores is how many a bag is taken to hold where nobody says.
// Source: common practice, no source.
const cores = 10

// BagSD returns the standard deviation of the pH that a laboratory reads of a bag of n cores from one soil.
func BagSD(n int) float64 {
	return math.Sqrt(coreSD*coreSD/float64(max(1, n)) + labSD*labSD)
}

// seedOf makes every ground draw on its own, whatever its place in the result.
func seedOf(z *suitability.Zone, bodies int) uint64 {
	h := fnv.New64a()
	for _, s := range []string{z.SurveyArea, z.MapUnitKey} {
		h.Write([]byte(s))
		// A mark between the parts: "AR0" and "171" must not hash as "AR01" and "71".
		h.Write([]byte{0})
	}
	// at most mostBods, which a byte holds
	h.Write([]byte{byte(bodies)})
	if alone(z) {
		h.Write([]byte(z.ID))
	}
	return h.Sum64()
}

// alone says whether a zone differs from all others on its map unit: it was tested.
func alone(z *suitability.Zone) bool { return z.Rating.Tested.Any() || z.Lime.Test != nil }

// Rand returns the source that a ground is drawn with; stream keeps uses apart.
func (g *Ground) Rand(stream uint64) *rand.Rand {
	return rand.New(rand.NewPCG(g.options.Seed+stream, g.seed))
}

// Bodies returns how many bodies of soil the zone is taken to hold; 0 where it is as mapped.
func (g *Ground) Bodies() int { return g.bodies }
