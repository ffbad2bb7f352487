package uncertainty

import (
	"math"
	"math/rand/v2"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// limeModel says how far a need may lie from its figure.
type limeModel struct {
	table     *fortune // how far needs lie from the table
	low, high float64  // logarithms of the ends of the screening band over its figure
	byTest    bool     // the figure is that of a method on samples
	figure    unit.Opt[float64]
	sd        unit.Opt[float64] // of the figure by a method; missing where nobody published it
}

// limeOf chooses between the two ways to be off: that of the texture table, or that of the method whose figure the plan has.
func limeOf(p *suitability.Profile, z *suitability.Zone, l *luck, o Options) limeModel {
	m := limeModel{table: l.of("table"), byTest: strings.HasPrefix(z.Lime.Basis, limeplan.BasisTest)}
	if !o.NoSpread {
		m.low, m.high = math.Log(p.Lime.LowFactor.Value), math.Log(p.Lime.HighFactor.Value)
	}
	if !m.byTest {
		return m
	}
	m.figure = plain(z.Lime.Likely)
	// where nobody published an error sd stays missing, and finish gives no need at all
	switch t := z.Lime.Test; {
	case o.NoSpread:
		m.sd = unit.Some(0.0)
	case t != nil && t.Error.Has():
		m.sd = unit.Some(float64(t.Error.Or(0)))
	}
	return m
}

// factor draws what the need is over the figure at the same pH. A method's error is the zone's own; the table's is common to all.
func (m limeModel) factor(r *rand.Rand, step func(*fortune) int) float64 {
	if m.byTest {
		return max(0, 1+m.sd.Or(0)*r.NormFloat64())
	}
	// on the scale of logarithms half and twice lie equally far from once, so that the middle of the draws is the figure itself where the profile says half and twice
	return math.Exp(triangle(middle(step(m.table)), m.low, 0, m.high))
}

// finish returns the need of a zone from the sum of shares times figures and the shares that have one. By a method it is
// the method's; where nobody published its error there is no need that could be drawn.
func (m limeModel) finish(sum, weight, factor float64) unit.Opt[unit.AreaRate] {
	if m.byTest {
		// the figure is the zone's as it stands: a method measured the ground itself, whatever soil is drawn
		if x, ok := m.figure.Get(); ok && m.sd.Has() {
			return unit.Some(unit.AreaRate(x * factor))
		}
		return unit.None[unit.AreaRate]()
	}
	if weight == 0 {
		return unit.None[unit.AreaRate]()
	}
	return unit.Some(unit.AreaRate(sum / weight * factor))
}
