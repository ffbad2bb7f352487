package economics

import (
	"slices"

	"rootworthy/suitability"
)

// choose finds the zones of a field that are worth sowing together: those whose sum of likely values is the greatest. A field is sown at once, so each
// waits for the slowest; without a value all that may be sown stay in.
//
// Of every time at which some zone is ready, the zones that are ready by then and pay when sown then are the best choice for it; so the best
// of these choices is the best of all. Of equals the earlier is taken.
func (b *book) choose(f *suitability.Field) plot {
	var may []*ground
	for _, i := range f.Zones {
		// what may not be sown at all was settled before money is asked
		if g := &b.grounds[i]; g.why == "" {
			may = append(may, g)
		}
	}
	if len(may) == 0 {
		return plot{why: b.whyNone(f)}
	}
	// without a value nothing can be weighed, but the cost of what may be sown is still of use
	if !b.valued {
		return plot{grounds: may, leads: leads(may)}
	}
	// Nothing sown is worth zero: a choice must beat that.
	best, most, gross := []*ground(nil), 0.0, 0.0
	for _, at := range times(may) {
		set, sum := b.paying(may, at)
		// Before the field's own cost, to say afterwards whether that was what sank it.
		gross = max(gross, sum)
		if sum -= b.likely.v[PerField] * b.likely.later(at); len(set) > 0 && sum > most {
			best, most = set, sum
		}
	}
	b.excuse(may, best, gross > 0)
	if best == nil {
		// excuse has given every zone a reason; the first stands for the field
		return plot{why: may[0].why}
	}
	return plot{grounds: best, leads: leads(best)}
}

// whyNone says why no ground of a field may be sown: what keeps out all of its zones, if that is one thing.
func (b *book) whyNone(f *suitability.Field) string {
	why := ""
	for _, i := range f.Zones {
		g := &b.grounds[i]
		if why != "" && g.why != why {
			return WhyNoGround
		}
		why = g.why
	}
	if why == "" {
		return WhyNoGround
	}
	return why
}

// times lists when some zone is ready, the earliest first.
func times(may []*ground) []float64 {
	var out []float64
	for _, g := range may {
		out = append(out, g.wait)
	}
	// Zones of one soil are ready on one day; each day is tried once.
	slices.Sort(out)
	return slices.Compact(out)
}

// paying returns the zones that are ready by a time and pay when sown then, with what they are worth.
func (b *book) paying(may []*ground, at float64) (set []*ground, sum float64) {
	for _, g := range may {
		if g.wait > at {
			continue
		}
		// judged at the field's time and not at its own: waiting may turn a gain into a loss
		if x := g.sow(&b.likely, at).value() * float64(g.zone.Area); x > 0 {
			set, sum = append(set, g), sum+x
		}
	}
	return set, sum
}

// excuse says of the zones left out why they are. gross says whether the zones alone would pay, were it not for the cost of a field.
func (b *book) excuse(may, chosen []*ground, gross bool) {
	for _, g := range may {
		if slices.Contains(chosen, g) {
			continue
		}
		switch alone := g.sow(&b.likely, g.wait).value(); {
		// it would not pay by itself even when sown as soon as it can be, so nothing else is to blame
		case !(alone > 0):
			g.why = WhyLoses
		case chosen == nil && gross:
			g.why = WhyFieldCost
		default:
			g.why = WhyWaits
		}
	}
}
