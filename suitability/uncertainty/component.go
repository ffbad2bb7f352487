package uncertainty

import (
	"math"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// steps is how finely the range of a component is walked: the chance of a class is off by less than one step.
const steps = 512

// component is one soil of a map unit at every step of its range.
type component struct {
	share            float64 // of the zone, 0…1
	reading          *suitability.PHReading
	surface, subsoil []unit.Opt[float64] // by step; one step where nothing varies
	needs            []unit.Opt[float64] // kg/m² by the table at surface
	known            [7][4]verdict       // by state of surface and subsoil
}

// verdict is the class at a state; known once asked for.
type verdict struct {
	known        bool
	class, today suitability.Class
}

// newComponent walks the range of a component. fixed leaves every value as it was found.
func newComponent(p *suitability.Profile, c *suitability.ComponentRating, target unit.PH, fixed bool) *component {
	out := &component{reading: p.Reading(c, target)}
	n := 1
	if !fixed && varies(c) {
		n = steps
	}
	for i := range n {
		u := (float64(i) + 0.5) / float64(n)
		top, deep := out.reading.Means(func(low, value, high unit.PH) unit.PH {
			if n == 1 {
				return value
			}
			return unit.PH(triangle(u, float64(low), float64(value), float64(high)))
		})
		out.surface, out.subsoil = append(out.surface, top), append(out.subsoil, deep)
		out.needs = append(out.needs, plain(out.reading.Lime(top)))
	}
	return out
}

// varies says whether some horizon has a range of pH.
func varies(c *suitability.ComponentRating) bool {
	for _, h := range c.Horizons {
		if v, ok := h.PH.Get(); ok && (h.PHLow.Or(v) < v || h.PHHigh.Or(v) > v) {
			return true
		}
	}
	return false
}

func plain(r unit.Opt[unit.AreaRate]) unit.Opt[float64] {
	if v, ok := r.Get(); ok {
		return unit.Some(float64(v))
	}
	return unit.None[float64]()
}

// judge returns the class at a pH of surface and subsoil. It asks the rules once for each state that they tell apart.
func (c *component) judge(p *suitability.Profile, surface, subsoil unit.Opt[float64]) *verdict {
	v := &c.known[surfaceState(p, surface)][subsoilState(p, subsoil)]
	if !v.known {
		v.known = true
		v.class, v.today = c.reading.Class(surface, subsoil)
	}
	return v
}

// surfaceState numbers what the rules tell apart of a surface pH: its class, and whether lime corrects it.
func surfaceState(p *suitability.Profile, v unit.Opt[float64]) int {
	x, ok := v.Get()
	if !ok {
		return 0
	}
	x = math.Round(x*1e6) / 1e6 // as the rules do
	s := 1 + 2*grade(p.SurfacePH.Score(x))
	if x >= p.Rules.LimeCorrectsFrom.Value && x <= p.Rules.LimeCorrectsTo.Value {
		s++
	}
	return s
}

func subsoilState(p *suitability.Profile, v unit.Opt[float64]) int {
	if x, ok := v.Get(); ok {
		return 1 + grade(p.SubsoilPH.Score(x))
	}
	return 0
}

// grade is the class of a score as 0, 1, 2 from suited to unsuited.
func grade(score float64) int {
	switch {
	case score >= suitability.SuitedMark:
		return 0
	case score >= suitability.MarginalMark:
		return 1
	}
	return 2
}
