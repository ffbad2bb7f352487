package ssurgo

import (
	"fmt"

	"rootworthy/internal/diag"
	"rootworthy/soils"
)

// examine tells of horizons that cannot lie as they are written. None has been seen in a real export.
func (a *area) examine(c *soils.Component) {
	for i := range c.Horizons {
		h := &c.Horizons[i]
		top, okTop := h.Top.Get()
		bottom, okBottom := h.Bottom.Get()
		switch {
		// asked first: the others compare depths
		case !okTop || !okBottom:
			a.horizonFault(c, h, "depth missing", "a depth is not recorded", "the horizon takes part in no mean over depth")
		case bottom <= top:
			a.horizonFault(c, h, "no thickness", fmt.Sprintf("it lies from %g to %g cm", top, bottom), "the horizon takes part in no mean over depth")
		// Horizons are sorted by depth, so looking at the one before is enough. A gap between two is no fault: the
		// survey leaves out what was not described.
		case i > 0 && top < c.Horizons[i-1].Bottom.Or(0):
			a.horizonFault(c, h, "overlap", fmt.Sprintf("it begins at %g cm, above the end of the one before it", top), "both count in means over depth")
		}
	}
}

// examineUnit tells of percents that sum to more than a hundred; less is common and says that minor soils are not listed.
func (a *area) examineUnit(u *soils.MapUnit) {
	if total := u.TotalPercent(); total > 100 {
		a.faults.Notice(diag.Fault{File: a.path("comp"), Feature: "mukey " + u.Key, Field: "comppct_r", Kind: "percents",
			What: fmt.Sprintf("the components of %s sum to %g percent", u.Symbol, float64(total)), Fix: "means divide by their sum"})
	}
}

// horizonFault tells of a horizon by its key, name and component: three ways to find it in the file. The horizon is kept: whoever rates
// it sees that a depth is missing.
func (a *area) horizonFault(c *soils.Component, h *soils.Horizon, kind, what, fix string) {
	a.faults.Add(diag.Fault{File: a.path("chorizon"), Feature: "chkey " + h.Key, Field: "hzdept_r", Kind: kind,
		What: fmt.Sprintf("horizon %q of %s: %s", h.Name, c.Name, what), Fix: fix})
}
