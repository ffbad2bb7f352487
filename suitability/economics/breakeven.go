package economics

import (
	"math"

	"rootworthy/soils/unit"
)

// ledger adds up grounds at likely values in the parts that a break-even is solved from. Each is a present value. They are sums over
// grounds of several fields and need not be sown at one time: discounting has been done on the way in.
type ledger struct {
	costs  float64 // of liming and establishing
	hay    float64 // what a kg/m² of hay on all ground brings
	mass   float64 // kilograms of hay, discounted like their price
	beside float64 // gains besides hay
	yearly float64 // what a unit of stand brings, discounted to today from sowing
}

// enter adds a zone that is sown after lead years.
func (l *ledger) enter(g *ground, v *values, lead float64) {
	area, o := float64(g.zone.Area), g.sow(v, lead)
	// stand is the worth today of one unit a year over the stand, so a yearly figure times stand is its present value
	l.costs += o.now * area
	l.hay += v.perTon * o.stand * area
	l.mass += v.v[g.yield] * o.stand * area
	l.beside += v.beside * o.stand * area
	l.yearly += o.gain * v.later(lead) * area
}

// breakEven solves for each of the three, all else likely.
func (l *ledger) breakEven(v *values) BreakEven {
	var out BreakEven
	if l.hay > 0 {
		// Under zero the gains besides hay pay for everything; no yield of hay is asked for then.
		if y := (l.costs - l.beside) / l.hay; y >= 0 {
			out.Yield = unit.Some(unit.AreaRate(y))
		}
	}
	if l.mass > 0 {
		// the value at likely prices; each unit on the price of a kilogram moves it by mass, so the price may fall by value over mass
		now := l.mass*v.perTon + l.beside - l.costs
		// under zero other gains pay without any hay sold; no price is asked for then
		if h := v.v[Hay] - now/l.mass; h >= 0 && !math.IsInf(h, 0) {
			out.Hay = unit.Some(PerMass(h))
		}
	}
	// In years of the stand: from sowing on, since all gains begin there.
	if n, ok := YearsToRecover(v.v[DiscountRate], l.costs, l.yearly); ok {
		out.Life = unit.Some(Years(n))
	}
	return out
}
