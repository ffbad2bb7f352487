package soils

import (
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// Restriction is a layer that stops roots or water. Source: SSURGO corestrictions.
type Restriction struct {
	Kind            string // reskind in the survey's words, e.g. "Fragipan", "Lithic bedrock"; empty when not recorded
	Hardness        string // reshard
	Top, Bottom     unit.Opt[unit.Depth]
	TopLow, TopHigh unit.Opt[unit.Depth] // the range of Top: resdept_l, resdept_h
	ByName          bool                 // taken from the designation of a horizon, as the survey has no table of restrictions
}

// Soft says whether roots get through in part: a contrast of texture or plinthite, not rock, pan or cement. A kind
// that was not recorded is hard.
// Source: proposal; the kinds are those of the SSURGO domain restriction_kind.
func (r Restriction) Soft() bool { return among(r.Kind, softKinds) }

// Bedrock says whether the layer is rock, hard or soft. Source: the three bedrock kinds counted by the agency's
// brockdepmin; "Bedrock" alone is a word of older surveys.
func (r Restriction) Bedrock() bool { return among(r.Kind, bedrockKinds) }

var (
	softKinds    = []string{"Abrupt textural change", "Strongly contrasting textural stratification", "Plinthite"}
	bedrockKinds = []string{"Lithic bedrock", "Paralithic bedrock", "Densic bedrock", "Bedrock"}
)

// among compares without regard to case: exports differ in it.
func among(word string, words []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.EqualFold(w, word) })
}

// Rock says whether the horizon is rock by its designation: R or Cr, with or without a number before it.
func (h *Horizon) Rock() bool {
	name := strings.TrimLeft(h.Name, "0123456789")
	return h.Master == "R" || h.Master == "Cr" || strings.HasPrefix(name, "Cr") ||
		name == "R" || (h.Master == "" && strings.HasPrefix(name, "R"))
}

// rockKind is the kind given to a rock horizon that has no row among the restrictions.
const rockKind = "Bedrock"

// Shallowest returns the restriction with the least depth among those that keep accepts (nil accepts all), as the
// survey lists them. Of two at one depth it is the first by kind. ok is false when there is none with a depth.
func (c Component) Shallowest(keep func(Restriction) bool) (r Restriction, ok bool) {
	for _, x := range c.Restrictions {
		// restrictions are sorted by kind within a depth, so "less" and not "or equal" keeps the first of equals
		if top, has := x.Top.Get(); has && (keep == nil || keep(x)) && (!ok || top < r.Top.Or(0)) {
			r, ok = x, true
		}
	}
	return r, ok
}

// HardRestriction returns the shallowest layer that roots do not get through: a restriction that is not [Restriction.Soft],
// or a rock horizon, which counts at its top even when the survey lists no restriction for it (Kind is then "Bedrock").
func (c Component) HardRestriction() (r Restriction, ok bool) {
	r, ok = c.Shallowest(func(r Restriction) bool { return !r.Soft() })
	for i := range c.Horizons {
		h := &c.Horizons[i]
		if top, has := h.Top.Get(); has && h.Rock() && (!ok || top < r.Top.Or(0)) {
			r, ok = Restriction{Kind: rockKind, Top: h.Top, Bottom: h.Bottom}, true
		}
	}
	return r, ok
}

// SoftRestriction returns the shallowest layer that is [Restriction.Soft].
func (c Component) SoftRestriction() (r Restriction, ok bool) { return c.Shallowest(Restriction.Soft) }
