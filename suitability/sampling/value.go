package sampling

import (
	"math"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// mostBags is how many bags of one depth a zone may get: more of them tell of the zone's inside, which no rate here follows.
// Source: proposal.
const mostBags = 3

// draws is how often a zone is drawn and sampled: a chance is then known to about 4 in 100, 19 times in 20; differences between
// numbers of bags, which share the draws, far better.
const draws = 800

// outlook is what may be expected of a zone after so many bags.
type outlook struct {
	wrong   float64 // chance that its class is wrong
	changes float64 // chance that its class is another than now
	astray  float64 // lime that is spread and not needed, or needed and not spread, kg/m²
}

// outlooks holds one by bags of topsoil and of subsoil.
type outlooks [mostBags + 1][mostBags + 1]outlook

// survey sets out what bags would show of a ground. now is the zone's class as it stands.
func survey(g *uncertainty.Ground, z *suitability.Zone, o Options) *outlooks {
	s := &trial{ground: g, now: z.Rating.Class, plan: float64(z.Lime.Likely.Or(0))}
	// stream 1, apart from the draws by which the zone's own chances were found
	r := g.Rand(1)
	var d uncertainty.Draw
	for range draws {
		g.Draw(&d, r)
		for k := range mostBags {
			// all bags that a zone may get are dug in each draw; fewer bags are the first of them
			s.top[k], _ = g.Bag(&d, o.Cores, r)
			_, s.deep[k] = g.Bag(&d, o.DeepCores, r)
		}
		// one quality of laboratory for a draw, so that numbers of bags are compared on equal terms
		s.quality = float64(uncertainty.BufferTest(1, r))
		s.draw(&d)
	}
	return s.sum()
}

// trial adds up the draws of a zone.
type trial struct {
	ground    *uncertainty.Ground
	now       suitability.Class
	plan      float64 // kg/m² as it stands
	top, deep [mostBags]unit.Opt[float64]
	quality   float64
	total     outlooks
	limed     int // draws with a need
}

// draw adds one draw of the ground, as every number of bags would find it.
func (s *trial) draw(d *uncertainty.Draw) {
	// of the ground as drawn: what the bags are to find out
	need, hasNeed := d.Need.Get()
	right := spread(d.Class, float64(need))
	if hasNeed {
		s.limed++
	}
	for t := range mostBags + 1 {
		top := mean(s.top[:t])
		rate := s.plan
		if t > 0 { // a lime test sees what the table cannot: how strongly this soil buffers
			rate = float64(s.ground.Table(top).Or(0)) * d.Factor * s.quality
		}
		for b := range mostBags + 1 {
			class := s.ground.After(top, mean(s.deep[:b]))
			// All numbers of bags see the same draw, so that their differences are not drowned in the draws.
			x := &s.total[t][b]
			if class != d.Class {
				x.wrong++
			}
			if class != s.now {
				x.changes++
			}
			// a draw whose need nobody can name says nothing of lime astray
			if hasNeed {
				x.astray += math.Abs(s.planned(class, rate, t+b) - right)
			}
		}
	}
}

// planned is what a plan puts on the zone after so many bags. Where only the subsoil was tested, ground that was given up
// gets the survey's figure at last.
func (s *trial) planned(class suitability.Class, rate float64, bags int) float64 {
	if bags > 0 && rate == 0 && s.now == suitability.Unsuited {
		rate = float64(s.ground.Table(unit.None[float64]()).Or(0))
	}
	return spread(class, rate)
}

// spread is what a plan puts on ground of a class: nothing on what cannot carry a stand.
func spread(class suitability.Class, rate float64) float64 {
	if class == suitability.Suited || class == suitability.Marginal {
		return rate
	}
	return 0
}

// sum divides by the draws; lime astray by those alone that have a need.
func (s *trial) sum() *outlooks {
	out := s.total
	for t := range out {
		for b := range out[t] {
			x := &out[t][b]
			x.wrong /= draws
			x.changes /= draws
			x.astray /= float64(max(1, s.limed))
		}
	}
	return &out
}

// mean is that of the bags which have a reading.
func mean(bags []unit.Opt[float64]) unit.Opt[float64] {
	sum, n := 0.0, 0.0
	for _, b := range bags {
		if x, ok := b.Get(); ok {
			sum, n = sum+x, n+1
		}
	}
	if n == 0 {
		return unit.None[float64]()
	}
	return unit.Some(sum / n)
}
