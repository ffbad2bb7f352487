package uncertainty

import (
	"math"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// steps is how finely the range of a component is walked: the chance of a class is off by less than one step. The range is walked once
// and drawn from many times: a draw is then a look into a table and not a mean over horizons.
const steps = 512

// component is one soil of a map unit at every step of its ranges. All its horizons move together along their ranges, by one step of pH.
type component struct {
	share            float64 // of the zone, 0…1
	reading          *suitability.PHReading
	acid             *fortune            // of its pH
	surface, subsoil []unit.Opt[float64] // by step; one step where nothing varies
	needs            []unit.Opt[float64] // kg/m² by the table at surface
	others           []walk              // what else has a range that its class changes in
	floor            suitability.Class   // worst class of what has a range and one class all along it; not rated without any
	known            [7][4][4]verdict    // by state of surface and subsoil, and by the worst class of the others
}

// walk is the class of a criterion at every step of its range.
type walk struct {
	luck  *fortune
	class []suitability.Class
}

// verdict is the class at a state; known once asked for.
type verdict struct {
	known        bool
	class, today suitability.Class
}

// newComponent walks the ranges of a component, on a field with drainage works where drained. fixed leaves every value as it was found.
func newComponent(p *suitability.Profile, c *suitability.ComponentRating, target unit.PH, drained bool, l *luck, fixed bool) *component {
	out := &component{reading: p.Reading(c, target), acid: l.of("pH\x00" + c.Name)}
	if drained {
		out.reading.DeclareDrained()
	}
	// a single step where nothing varies spares the walk
	n := 1
	if !fixed && varies(c) {
		n = steps
	}
	for i := range n {
		// The middle of each step, so that a walk over all of them has the mean of the range.
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
	if !fixed {
		out.walkOthers(c.Name, l)
	}
	return out
}

// walkOthers walks the ranges of all that is not pH.
func (c *component) walkOthers(name string, l *luck) {
	for _, r := range c.reading.Ranged() {
		w := walk{luck: l.of(string(r.Code) + "\x00" + name), class: make([]suitability.Class, steps)}
		same := true
		for i := range w.class {
			w.class[i] = c.reading.Judged(r.Code, triangle(middle(i), r.Low, r.Value, r.High))
			same = same && w.class[i] == w.class[0]
		}
		// A criterion that cannot change the class need not be drawn; its class is kept as the least that holds.
		if same {
			c.floor = max(c.floor, w.class[0])
			continue
		}
		c.others = append(c.others, w)
	}
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

// plain is a rate as a number, kg/m².
func plain(r unit.Opt[unit.AreaRate]) unit.Opt[float64] {
	if v, ok := r.Get(); ok {
		return unit.Some(float64(v))
	}
	return unit.None[float64]()
}

// judge returns the class at a pH of surface and subsoil with the worst class of what else has a range; not rated stands for
// all of it as the rating has it. It asks the rules once for each state that they tell apart.
func (c *component) judge(p *suitability.Profile, surface, subsoil unit.Opt[float64], others suitability.Class) *verdict {
	// the rules are asked once by state: some hundred of them stand for thousands of draws
	v := &c.known[surfaceState(p, surface)][subsoilState(p, subsoil)][others]
	switch {
	case v.known:
	case others == suitability.NotRated:
		v.class, v.today = c.reading.Class(surface, subsoil)
	default:
		v.class, v.today = c.reading.ClassWith(surface, subsoil, others)
	}
	v.known = true
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
		// two states to a grade, of which the second is the one that lime corrects
		s++
	}
	return s
}

// subsoilState numbers the same of a subsoil pH; 0 is no value. Lime does not reach it, so its class is all.
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
