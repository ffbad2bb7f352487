package main

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/uncertainty"
)

// luck is what zones have in common: a normal deviate for each soil and property, and the factor of lime needs over the table.
type luck struct {
	// The deviate of a soil is drawn when it is first asked for, and kept: that is what makes zones err together.
	random *rand.Rand
	// by property and soil
	known  map[string]float64
	factor float64
}

// newLuck draws the factor of lime at once and deviates when they are asked for.
func (w *maker) newLuck() *luck {
	return &luck{w.random, map[string]float64{}, w.lime(w.random)}
}

// of returns the deviate of a name.
func (l *luck) of(name string) float64 {
	v, ok := l.known[name]
	if !ok {
		v = l.random.NormFloat64()
		l.known[name] = v
	}
	return v
}

// zonesOfField is how many zones the fields of [together] have.
const zonesOfField = 4

// holding lays fields of several zones, whose map units have their first soil in common where the survey has such.
func holding(units []soils.MapUnit, fields int, seed uint64) *estate {
	p := suitability.DefaultProfile()
	r := rand.New(rand.NewPCG(seed, 0xf1e1d))
	by := map[string][]int{}
	var names []string
	for i, u := range units {
		// Water and pits have no chances to compare.
		if p.RateUnit(u, suitability.RateOptions{}).Class == suitability.NotRated {
			continue
		}
		name := firstSoil(u)
		if by[name] == nil {
			names = append(names, name)
		}
		by[name] = append(by[name], i)
	}
	// The commonest soils first. Stable, and names are in the order of the units: the same seed makes the same farm.
	slices.SortStableFunc(names, func(a, b string) int { return len(by[b]) - len(by[a]) })
	names = names[:max(1, len(names)/2)] // soils that several map units have
	out := &estate{Result: &suitability.Result{Profile: p}}
	for k := range fields {
		of := by[names[r.IntN(len(names))]]
		f := suitability.Field{ID: fmt.Sprintf("F%d", k+1)}
		for n := range zonesOfField {
			u := units[of[r.IntN(len(of))]]
			z := suitability.Zone{ID: fmt.Sprintf("%s/%d", f.ID, n+1), FieldID: f.ID, Number: n + 1, Area: unit.Acres(5 + 15*r.Float64()), SurveyArea: u.Area, MapUnitKey: u.Key}
			z.Rating = p.RateUnit(u, suitability.RateOptions{})
			z.Lime = limeplan.Plan(p, z.Rating, z.Area, limeplan.Options{})
			// Zones have no shape: nothing here looks at where they lie.
			f.Zones, f.Area = append(f.Zones, len(out.Zones)), f.Area+z.Area
			out.Zones, out.units = append(out.Zones, z), append(out.units, u)
		}
		out.Fields = append(out.Fields, f)
	}
	return out
}

// firstSoil is the name of the soil with the largest percent.
func firstSoil(u soils.MapUnit) string {
	best := slices.MaxFunc(u.Components, func(a, b soils.Component) int { return int(100 * (a.Percent.Or(0) - b.Percent.Or(0))) })
	return best.Name
}

// held is how often the truth of fields lay in their intervals.
type held struct {
	// Counts: fields made, those of them whose interval held the suited ground, those that have an interval for lime, and
	// those whose interval held it.
	lime, limed    float64
	suited, fields float64
}

// fieldsHold makes fields many times over, their soils erring together or each zone for itself, and counts.
func fieldsHold(r *estate, times int, seed uint64, shared bool) (h held) {
	// What the program says does not change with the truth, so it is asked once.
	study := uncertainty.Of(r.Result, uncertainty.Options{Seed: seed})
	m := newMaker(worlds()[0], r.Profile, rand.New(rand.NewPCG(seed, 0x70f)))
	for i, f := range r.Fields {
		said := &study.Fields[i]
		for range times {
			// nil is luck of each zone's own.
			var l *luck
			if shared {
				l = m.newLuck()
			}
			lime, suited := 0.0, 0.0
			for _, at := range f.Zones {
				z := &r.Zones[at]
				t := m.make(z, l)
				// Only zones that the program has a figure for: the sum it gives is of those.
				if need, ok := t.need.Get(); ok && z.Lime.Likely.Has() {
					lime += need * float64(z.Area)
				}
				if t.class == suitability.Suited {
					suited += float64(z.Area)
				}
			}
			h.fields++
			// Sums of the same areas in another order differ in their last bits; a millionth of a square metre is none.
			if said.Suited.Low-1e-6 <= suited && suited <= said.Suited.High+1e-6 {
				h.suited++
			}
			if want, ok := said.Lime.Get(); ok && want.High > 0 {
				h.limed++
				if want.Low <= lime && lime <= want.High {
					h.lime++
				}
			}
		}
	}
	return h
}

// together tells whether intervals of fields hold, where soils of one name err together, and where they do not.
func together(out io.Writer, units []soils.MapUnit, fields, times int, seed uint64) {
	r := holding(units, fields, seed)
	fmt.Fprintf(out, "\n%d fields of %d zones, made %d times\n\n| soils of one name | lime of the field in its 90 %% | suited ground in its 90 %% |\n| --- | --- | --- |\n", fields, zonesOfField, times)
	for _, shared := range []bool{true, false} {
		h := fieldsHold(r, times, seed, shared)
		name := "err together, as judged"
		if !shared {
			name = "err zone by zone"
		}
		fmt.Fprintf(out, "| %s | %.3f | %.3f |\n", name, h.lime/max(1, h.limed), h.suited/max(1, h.fields))
	}
}
