package sampling

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Worth is what bags are expected to put right in a zone.
type Worth struct {
	WrongNow, WrongThen float64   // chance that the class is wrong, before and after
	Changes             float64   // chance that the class will be another
	AstrayNow           unit.Mass // lime expected where it is not needed, or lacking where it is
	AstrayThen          unit.Mass
}

// ground returns the ground expected to get its right class.
func (w Worth) ground(z *suitability.Zone) unit.Area {
	return unit.Area((w.WrongNow - w.WrongThen) * float64(z.Area))
}

// prospect is a zone and what bags of topsoil and subsoil would put right in it. It is asked again after each bag, since the next one is
// worth less.
type prospect struct {
	zone      *suitability.Zone
	field     int
	outlooks  *outlooks
	top, deep int // bags so far
	canTop    bool
	canDeep   bool
	room      *room // nil until it was looked for
}

// worth returns what so many bags put right.
func (p *prospect) worth(top, deep int) Worth {
	a, b := p.outlooks[0][0], p.outlooks[top][deep]
	area := p.zone.Area
	return Worth{a.wrong, b.wrong, b.changes, unit.Mass(a.astray * float64(area)), unit.Mass(b.astray * float64(area))}
}

// score weighs it in acres.
func (p *prospect) score(top, deep int, o Options) float64 {
	w := p.worth(top, deep)
	return w.ground(p.zone).Acres() + (w.AstrayNow-w.AstrayThen).ShortTons()/o.Tons
}

// step is one more bag, or two together: what it adds and costs.
type step struct {
	prospect  *prospect
	top, deep int
	adds      float64
	cost      float64
	bags      int
}

// What a bag must put right to be worth taking: so much of its zone, since less is lost in the noise of the draws, and so
// many acres.
// Source: proposal.
const leastShare, leastAcres = 0.01, 0.1

// asks says whether the lime of a zone is still a budget that a test must turn into a rate, and no bag is planned for it.
func (p *prospect) asks() bool {
	return p.canTop && p.top == 0 && p.zone.Lime.Likely.Or(0) > 0 && p.zone.Lime.Test == nil
}

// best returns the step that adds most for its cost; ok is false when none is worth it, or none can be paid.
func (p *prospect) best(w *purse) (best step, ok bool) {
	o := w.options
	from := p.score(p.top, p.deep, o)
	// Both together as well: where topsoil and subsoil must be right for a class to change, neither bag alone is worth anything.
	for _, s := range []step{{top: 1}, {deep: 1}, {top: 1, deep: 1}} {
		t, d := p.top+s.top, p.deep+s.deep
		if t > mostBags || d > mostBags || s.top > 0 && !p.canTop || s.deep > 0 && !p.canDeep {
			continue
		}
		s.prospect, s.bags = p, s.top+s.deep
		s.adds = p.score(t, d, o) - from
		s.cost = o.costOf(s.top, s.deep)
		if !w.pays(s.bags, s.cost) || s.adds < max(leastAcres, leastShare*p.zone.Area.Acres()) {
			continue
		}
		// Of equals the earlier in the list, which is the cheaper one.
		if !ok || s.adds*best.cost > best.adds*s.cost*(1+1e-9) {
			best, ok = s, true
		}
	}
	return best, ok
}

// costOf is what bags cost: money where there is a price, else their number.
func (o Options) costOf(top, deep int) float64 {
	if o.Price > 0 {
		return float64(top)*o.Price + float64(deep)*o.DeepPrice
	}
	return float64(top + deep)
}
