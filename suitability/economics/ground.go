package economics

import (
	"math"
	"strings"
	"time"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Why a zone or a field is not worth sowing, stable codes.
const (
	WhyNotRated  = "not rated"       // nobody knows what it can carry
	WhyUnsuited  = "unsuited"        // never, however cheap
	WhyNoLime    = "no lime figure"  // lime may have to mend it, and nobody knows how much: test the soil
	WhyNoYield   = "no yield"        // the prices give no yield for marginal ground, so nobody knows whether it pays
	WhyLoses     = "loses"           // its value is likely under zero
	WhyWaits     = "waits"           // it would pay alone, but waiting for its lime costs the rest of the field more
	WhyNoGround  = "no ground"       // field: no zone of it may be sown
	WhyFieldCost = "cost of a field" // field: its zones do not pay what the field costs as a whole
)

// Whys lists them.
func Whys() []string {
	return []string{WhyNotRated, WhyUnsuited, WhyNoLime, WhyNoYield, WhyLoses, WhyWaits, WhyNoGround, WhyFieldCost}
}

// ground is what the sums need of a zone.
type ground struct {
	zone  *suitability.Zone
	why   string         // why it may not be sown at all; "" where money decides
	bare  bool           // there are no figures at all
	need  Range[float64] // lime product, kg/m²
	cap   unit.AreaRate  // of a yearly pass; 0 without lime
	wait  float64        // years until it can be sown, at the likely need
	yield Item           // that holds for it
	life  Item           // the same
	feed  *feed          // what fertilizer costs by the nutrient plan; nil without one for it
	paid  bool           // there is all that a value takes
	sown  bool           // worth sowing
}

// daysInYear turns days into years of the calendar.
const daysInYear = 365.2425

// groundOf gathers what the sums need. today is the zero time where the run has no date.
func groundOf(z *suitability.Zone, p *suitability.Profile, today time.Time) ground {
	// suited ground, unless the class says otherwise; what is not rated keeps these, but is bare and never in a sum
	g := ground{zone: z, yield: Yield, life: LifeSuited}
	switch z.Rating.Class {
	case suitability.NotRated:
		g.why, g.bare = WhyNotRated, true
	case suitability.Unsuited:
		g.why, g.yield, g.life = WhyUnsuited, YieldUnsuited, LifeUnsuited
	case suitability.Marginal:
		g.yield, g.life = YieldMarginal, LifeMarginal
	}
	// unsuited ground without a figure is priced all the same, as if it took no lime: who wants to know what it would cost is told so
	// (NoLime)
	if !z.Lime.Likely.Has() && g.why == "" {
		g.why, g.bare = WhyNoLime, true
	}
	g.lime(p)
	g.wait = waitOf(z, today)
	return g
}

// lime finds how much product the ground takes: the plan's, as much less and more as its band at 100 % CCE says.
func (g *ground) lime(p *suitability.Profile) {
	l := &g.zone.Lime
	likely, product := l.Likely.Or(0), l.Product.Or(0)
	if !(likely > 0 && product > 0) {
		return
	}
	// the product was rounded to the spreader's step, the band was not: the ratio carries the band over; a missing end is the likely
	// figure
	part := func(x unit.Opt[unit.AreaRate]) float64 { return float64(product * x.Or(likely) / likely) }
	// the rounding must not turn the order of the three around
	g.need = Range[float64]{min(part(l.Low), float64(product)), float64(product), max(part(l.High), float64(product))}
	if p != nil {
		g.cap = unit.ShortTonsPerAcre(p.Lime.Cap.Value)
	}
	if len(lime.Passes(product, g.cap)) != l.Passes { // the run was made with another cap
		// the least cap that makes as many passes
		g.cap = product / unit.AreaRate(max(1, l.Passes))
	}
}

// passes is in how many yearly passes a need goes on.
func (g *ground) passes(need float64) int {
	switch {
	case !(need > 0):
		return 0
	// the usual case, and one that is asked for in every draw
	case unit.AreaRate(need) <= g.cap:
		return 1
	}
	return len(lime.Passes(unit.AreaRate(need), g.cap))
}

// lead is how long it takes until the ground can be sown, in years: each pass more than planned is a year more.
func (g *ground) lead(need float64) float64 {
	more := g.passes(need) - g.passes(g.need.Likely)
	return max(0, g.wait+float64(more))
}

// waitOf is the time until the sowing window of the plan opens, or until its lime has worked where there is no window.
func waitOf(z *suitability.Zone, today time.Time) float64 {
	first, _, _ := strings.Cut(z.Lime.Window, "/")
	// a window may be missing, as where the run has no region; the wait for the lime is then all that is known
	if day, err := time.Parse(time.DateOnly, first); err == nil && !today.IsZero() {
		return math.Max(0, day.Sub(today).Hours()/24/daysInYear)
	}
	return float64(z.Lime.WaitMonths) / 12
}

// dayOf reads the day of a run; the zero time without one.
func dayOf(r *suitability.Result) time.Time {
	day, err := time.Parse(time.DateOnly, r.Provenance.Date)
	if err != nil {
		return time.Time{}
	}
	return day
}
