package main

import (
	"math"
	"math/rand/v2"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// world says how the ground is made under a survey that is known.
type world struct {
	name     string
	reach    float64                    // metres over which soil stays alike
	together float64                    // share of the variance of pH that a component has in a whole zone; the rest changes from place to place
	even     bool                       // pH is anywhere between low and high alike, not most often at the value
	lime     func(r *rand.Rand) float64 // need over the screening table
}

// worlds are the one that our judgements describe, and ones that they do not.
func worlds() []world {
	// On a scale of logarithms the sum of two even draws is a triangle around 1: from half the table's need to twice it,
	// most often the need itself.
	band := func(r *rand.Rand) float64 { return math.Exp(math.Ln2 * (r.Float64() + r.Float64() - 1)) }
	return []world{
		{"as judged", 0, 1, false, band},
		{"soil alike over 40 m", 40, 1, false, band},
		{"soil alike over 100 m", 100, 1, false, band},
		{"soil alike over 200 m", 200, 1, false, band},
		{"pH changes within a zone", 100, 0.4, false, band},
		{"pH anywhere in its range", 0, 1, true, band},
		{"table off by half", 0, 1, false, func(r *rand.Rand) float64 { return 1.5 * band(r) }},
	}
}

// cell is the side of the squares that ground is made of, in metres.
const cell = 20.0

// steps is how finely the range of a component is walked.
const steps = 400

// soil is a component with what it is at every step of its range.
// Lists are by step of the range; a step stands for the same quantile in all of them.
type soil struct {
	// of the soil series, by which zones err together
	name      string
	share     float64
	top, deep []unit.Opt[float64]
	class     [4][]suitability.Class // by the worst class of what else has a range, then by step; without such by 0 alone
	need      []unit.Opt[unit.AreaRate]
	reading   *suitability.PHReading
	others    []suitability.Ranged
	even      bool
}

// other makes what else has a range, for a whole zone, and returns its worst class.
func (s *soil) other(l *luck) (worst suitability.Class) {
	for _, o := range s.others {
		u := share(l.of(string(o.Code) + " " + s.name))
		v := o.Low + u*(o.High-o.Low)
		if !s.even {
			v = within(u, o.Low, o.Value, o.High)
		}
		worst = max(worst, s.reading.Judged(o.Code, v))
	}
	return worst
}

// soilsOf walks the components of a zone by the rules of the program, but on its own.
func soilsOf(p *suitability.Profile, z *suitability.Zone, even bool) (out []soil, rest float64) {
	sum := 0.0
	for _, c := range z.Rating.Components {
		sum += max(0, float64(c.Percent.Or(0)))
	}
	// Percents that add up to less leave ground that nobody described; to more, they are brought to a whole.
	whole := max(100, sum)
	for i := range z.Rating.Components {
		c := &z.Rating.Components[i]
		if c.Percent.Or(0) <= 0 {
			continue
		}
		reading := p.Reading(c, z.Rating.Target.PH)
		s := soil{name: c.Name, share: float64(c.Percent.Or(0)) / whole, reading: reading, others: reading.Ranged(), even: even}
		for k := range steps {
			// The middle of the step, so that neither end of the range is met.
			u := (float64(k) + 0.5) / steps
			top, deep := reading.Means(func(low, value, high unit.PH) unit.PH {
				if even {
					return low + unit.PH(u)*(high-low)
				}
				return within(u, low, value, high)
			})
			s.top, s.deep, s.need = append(s.top, top), append(s.deep, deep), append(s.need, reading.Lime(top))
			class, _ := reading.Class(top, deep)
			s.class[0] = append(s.class[0], class)
			for _, worst := range suitability.Classes() {
				// Class by class, because what else limits a soil is drawn for a zone once and the pH place by place.
				if worst != suitability.NotRated && len(s.others) > 0 {
					class, _ = reading.ClassWith(top, deep, worst)
					s.class[worst] = append(s.class[worst], class)
				}
			}
		}
		out = append(out, s)
	}
	return out, 1 - sum/whole
}

// within is the triangular quantile by bisection of its distribution: another way to it than the program's.
func within[T ~float64](u float64, low, value, high T) T {
	below := func(x T) float64 {
		switch {
		case high <= low:
			return 1
		case x < value:
			return float64((x - low) * (x - low) / ((high - low) * (value - low)))
		case value < high:
			return 1 - float64((high-x)*(high-x)/((high-low)*(high-value)))
		}
		return 1
	}
	if high <= low {
		return value
	}
	a, b := low, high
	// A thousand-millionth of the range.
	for range 30 {
		if m := (a + b) / 2; below(m) < u {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// truth is a zone as it is.
// at is cell by cell, row by row; bags are dug in these cells.
type truth struct {
	soils  []soil
	at     []place
	class  suitability.Class
	need   unit.Opt[float64] // kg/m²
	factor float64           // of the need over the table
}

// place is one cell: its soil, -1 for what the survey does not describe, and the step of its range.
type place struct {
	x, y float64
	soil int
	step int
}

// maker makes ground of one world, and remembers what zones on one map unit share.
type maker struct {
	world
	profile *suitability.Profile
	random  *rand.Rand
	// by the first component of the rating: zones of a farm on one unit share the list, and the walk over the steps is the
	// dearest part
	known map[*suitability.ComponentRating]ground
}

// ground is what all zones of one rating have in common; rest is the share that the survey does not describe.
type ground struct {
	soils []soil
	rest  float64
}

func newMaker(w world, p *suitability.Profile, r *rand.Rand) *maker {
	return &maker{w, p, r, map[*suitability.ComponentRating]ground{}}
}

// surface returns one that says which soil lies where, even from 0 to 1.
// Where the world has no reach, soils lie in bodies of about the size that the survey draws, as the judgements of the
// program have it.
func (w *maker) surface(area, side float64) func(x, y float64) float64 {
	if w.reach > 0 {
		f := newRandomField(w.random, w.reach)
		return func(x, y float64) float64 { return share(f.at(x, y)) }
	}
	// strips side by side: their shape does not matter, only that each is one body
	// As many bodies as the zone has areas of the least size that is drawn at 1:24,000; each is one soil throughout.
	bodies := make([]float64, int(area/float64(w.profile.SmallestZone(24000))+0.5)+1)
	for i := range bodies {
		bodies[i] = w.random.Float64()
	}
	n := float64(max(1, len(bodies)-1))
	return func(x, y float64) float64 { return bodies[min(int(x/side*n), len(bodies)-1)] }
}

// make draws a zone: bodies of soil by one surface, pH by another, class and need by counting cells. Zones of one luck have what a soil
// is like, and how far lime needs lie from the table, in common; nil is luck of the zone's own.
func (w *maker) make(z *suitability.Zone, l *luck) *truth {
	r, p := w.random, w.profile
	if l == nil {
		l = w.newLuck()
	}
	t := &truth{factor: l.factor}
	key := &z.Rating.Components[0]
	g, ok := w.known[key]
	if !ok {
		g.soils, g.rest = soilsOf(p, z, w.even)
		w.known[key] = g
	}
	t.soils = g.soils
	rest := g.rest
	// Whole cells, so that all count alike.
	side := math.Ceil(math.Sqrt(float64(z.Area))/cell) * cell
	kinds, local := w.surface(float64(z.Area), side), newRandomField(r, max(w.reach, cell))
	common, other := make([]float64, len(t.soils)), make([]suitability.Class, len(t.soils))
	for i := range common {
		common[i], other[i] = l.of("pH "+t.soils[i].name), t.soils[i].other(l)
	}
	n := int(math.Ceil(math.Sqrt(float64(z.Area)) / cell))
	by := map[suitability.Class]float64{}
	need, weight := 0.0, 0.0
	for i := range n * n {
		c := place{x: (float64(i%n) + 0.5) * cell, y: (float64(i/n) + 0.5) * cell}
		c.soil = pick(t.soils, rest, kinds(c.x, c.y))
		if c.soil >= 0 {
			s := &t.soils[c.soil]
			deviate := common[c.soil]
			if w.together < 1 {
				// Variances add up to 1, so the sum is a standard normal deviate again.
				deviate = math.Sqrt(w.together)*deviate + math.Sqrt(1-w.together)*local.at(c.x, c.y)
			}
			u := share(deviate)
			c.step = min(int(u*steps), steps-1)
			// Without anything else that has a range, other is 0 and so is the list's first index.
			by[s.class[other[c.soil]][c.step]]++
			if x, ok := s.need[c.step].Get(); ok {
				need, weight = need+float64(x), weight+1
			}
		} else {
			by[suitability.NotRated]++
		}
		t.at = append(t.at, c)
	}
	of := func(c suitability.Class) float64 { return 100 * by[c] / float64(n*n) }
	rated := of(suitability.Suited) + of(suitability.Marginal) + of(suitability.Unsuited)
	t.class = p.Dominant(suitability.Shares{Suited: of(suitability.Suited), Marginal: of(suitability.Marginal), Unsuited: of(suitability.Unsuited), Rated: rated})
	if weight > 0 {
		t.need = unit.Some(need / weight * t.factor)
	}
	return t
}

// pick returns the soil that a value from 0 to 1 falls to.
func pick(soils []soil, rest, u float64) int {
	for i, s := range soils {
		if u -= s.share; u < 0 {
			return i
		}
	}
	// The shares fill the ground, and rounding alone left u above them.
	if rest < 1e-9 {
		return len(soils) - 1
	}
	return -1
}
