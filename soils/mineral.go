package soils

import (
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// litterLimit is the thickness beyond which an organic surface is the soil and not litter on it.
// Source: proposal; near the 20 cm (8 in) epipedon limits of Keys to Soil Taxonomy, which is from memory, not checked.
const litterLimit unit.Depth = 20

// MineralSurface returns the component with depths counted from its mineral surface, and how many centimetres of
// litter were skipped; zero means that nothing was. Survey depths count from the top of the litter, so without this
// the first acid "horizon" of woodland soil is its leaves.
//
// Leading organic horizons are skipped unless the order is Histosols, unless they are thicker than 20 cm, or no mineral
// horizon lies below: then they are the soil. Horizons, restrictions and moisture layers move up alike; what lay
// wholly in the litter is left out, what began in it begins at zero. The component given is not changed.
func (c Component) MineralSurface() (mineral Component, skipped unit.Depth) {
	n := c.leadingOrganic()
	// organic to the bottom is peat, even where nobody recorded the order
	if n == 0 || n == len(c.Horizons) || strings.EqualFold(c.Order, "Histosols") {
		return c, 0
	}
	// the next top stands in for a bottom that was not recorded
	skipped = c.Horizons[n-1].Bottom.Or(c.Horizons[n].Top.Or(0))
	if skipped <= 0 || skipped > litterLimit {
		return c, 0
	}
	c.Horizons = slices.Clone(c.Horizons[n:])
	for i := range c.Horizons {
		h := &c.Horizons[i]
		h.Top, h.Bottom = lift(h.Top, skipped), lift(h.Bottom, skipped)
	}
	// a restriction has no other place to count from, so it moves with the horizons, its range too
	c.Restrictions = slices.Clone(c.Restrictions)
	for i := range c.Restrictions {
		r := &c.Restrictions[i]
		r.Top, r.Bottom = lift(r.Top, skipped), lift(r.Bottom, skipped)
		r.TopLow, r.TopHigh = lift(r.TopLow, skipped), lift(r.TopHigh, skipped)
	}
	c.Months = liftMonths(c.Months, skipped)
	return c, skipped
}

// leadingOrganic returns how many horizons from the top are organic.
func (c Component) leadingOrganic() int {
	for i := range c.Horizons {
		if !c.Horizons[i].Organic() {
			return i
		}
	}
	return len(c.Horizons)
}

// Organic says whether the horizon is an organic one: master horizon O, or a name that begins with O.
func (h *Horizon) Organic() bool { return h.Master == "O" || strings.HasPrefix(h.Name, "O") }

// liftMonths moves moisture layers up by cm; layers that end in the litter are left out.
func liftMonths(months []Month, cm unit.Depth) []Month {
	months = slices.Clone(months)
	for i := range months {
		var layers []MoistureLayer
		for _, l := range months[i].Layers {
			if bottom, ok := l.Bottom.Get(); ok && bottom <= cm {
				continue
			}
			l.Top, l.Bottom = lift(l.Top, cm), lift(l.Bottom, cm)
			l.TopLow, l.TopHigh = lift(l.TopLow, cm), lift(l.TopHigh, cm)
			layers = append(layers, l)
		}
		months[i].Layers = layers
	}
	return months
}

// lift moves a depth up; what lay in the litter comes to lie at the surface.
func lift(d unit.Opt[unit.Depth], cm unit.Depth) unit.Opt[unit.Depth] {
	if v, ok := d.Get(); ok {
		return unit.Some(max(0, v-cm))
	}
	return d
}
