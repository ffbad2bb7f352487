package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/whatif"
)

// ask is a what-if: which numbers are moved. The zero value moves none.
type ask struct {
	limits           map[string]float64 // of whatif.Limits, those that differ from the profile
	suited, marginal soils.DrainageClass
	target           unit.PH
	works            string // "all": every field drained; "none"; "" as declared
	key              string // tells one what-if from another
}

// Names of the parameters that are not limits of curves.
const (
	paramDrainSuited, paramDrainMarginal = "drainage.suited", "drainage.marginal"
	paramTarget, paramWorks              = "target", "works"
)

// readAsk takes a what-if from the parameters of an address. Values that equal the profile's move nothing.
func readAsk(q url.Values, p *suitability.Profile, target unit.PH) (a ask, err error) {
	a.limits = map[string]float64{}
	for _, l := range whatif.Limits(p) {
		v, ok, err := numberOf(q, l.Key)
		if err != nil {
			return ask{}, err
		}
		if ok && v != l.Value {
			a.limits[l.Key] = v
		}
	}
	if a.suited, err = drainageOf(q, paramDrainSuited, whatif.WettestSuited(p)); err != nil {
		return ask{}, err
	}
	if a.marginal, err = drainageOf(q, paramDrainMarginal, whatif.WettestMarginal(p)); err != nil {
		return ask{}, err
	}
	v, ok, err := numberOf(q, paramTarget)
	if err != nil {
		return ask{}, err
	}
	if ok && unit.PH(v) != target {
		a.target = unit.PH(v)
	}
	if a.works = q.Get(paramWorks); a.works != "" && a.works != "all" && a.works != "none" {
		return ask{}, fmt.Errorf("%s: %q is not known; it is all or none", paramWorks, a.works)
	}
	a.key = a.text(p)
	return a, nil
}

// numberOf reads a number; an empty parameter is none.
func numberOf(q url.Values, name string) (v float64, ok bool, err error) {
	s := strings.TrimSpace(q.Get(name))
	if s == "" {
		return 0, false, nil
	}
	v, err = strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, false, fmt.Errorf("%s: %q is not a number", name, s)
	}
	return v, true, nil
}

// drainageOf reads a drainage class, the usual one where none is given.
func drainageOf(q url.Values, name string, usual soils.DrainageClass) (soils.DrainageClass, error) {
	s := q.Get(name)
	if s == "" {
		return usual, nil
	}
	c, ok := soils.ParseDrainage(s)
	if !ok || c == soils.DrainageUnknown {
		return 0, fmt.Errorf("%s: %q is not a drainage class", name, s)
	}
	return c, nil
}

// text writes what is moved, "" when nothing is.
func (a *ask) text(p *suitability.Profile) string {
	var parts []string
	for k, v := range a.limits {
		parts = append(parts, fmt.Sprintf("%s=%g", k, v))
	}
	if a.drains(p) {
		parts = append(parts, fmt.Sprintf("drainage=%d,%d", a.suited, a.marginal))
	}
	if a.target != 0 {
		parts = append(parts, fmt.Sprintf("target=%g", float64(a.target)))
	}
	if a.works != "" {
		parts = append(parts, "works="+a.works)
	}
	slices.Sort(parts)
	return strings.Join(parts, "&")
}

// drains says whether the limits of drainage are moved.
func (a *ask) drains(p *suitability.Profile) bool {
	return a.suited != whatif.WettestSuited(p) || a.marginal != whatif.WettestMarginal(p)
}

// profile returns the profile with everything moved.
func (a *ask) profile(p *suitability.Profile) (*suitability.Profile, error) {
	moved, err := whatif.Apply(p, a.limits)
	if err == nil && a.drains(p) {
		moved, err = whatif.Drainage(moved, a.suited, a.marginal)
	}
	return moved, err
}
