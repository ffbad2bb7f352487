package uncertainty

import (
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Field says how sure a field is. Its zones are drawn together: soils of one name are high or low in all of them, and the table of
// lime errs alike; bodies of soil and tests are each zone's own.
type Field struct {
	ID           string
	Class, Today Chances            // of the largest part of the field, ground outside the survey counted as not rated
	Suited       Interval           // m² in zones that are suited once corrected
	Lime         unit.Opt[Interval] // kg of lime over the zones that the plan gives a figure; missing without one, and where one of them has no range
	Enough       unit.Opt[float64]  // chance that at least [Options].Enough of it is suited once corrected; missing where nothing was asked
	Draws        int
	Error        float64 // as of [Zone], of Enough too
}

// of draws a field from the draws of its zones; d is used again from field to field.
func (d *fieldDraws) of(r *suitability.Result, f *suitability.Field, of []*estimate, o Options) Field {
	*d = fieldDraws{field: f, zones: d.zones[:0], from: d.from[:0], ranged: d.ranged[:0], suited: d.suited[:0], lime: d.lime[:0]}
	for _, i := range f.Zones {
		if i < 0 || i >= len(r.Zones) {
			continue
		}
		d.zones, d.from = append(d.zones, &r.Zones[i]), append(d.from, d.own(of[i]))
		d.ranged = append(d.ranged, !(r.Zones[i].Lime.Likely.Or(0) > 0))
	}
	d.want, d.asked = o.Enough.Of(f)
	for n := 0; n < o.Most; {
		for range min(batch, o.Most-n) {
			d.once(n)
			n++
		}
		if n >= o.Least && d.widest(n) <= o.Error {
			break
		}
	}
	return d.sum()
}

// own returns the draws of a zone: those of its ground, or of a twin where an earlier zone of the field has them.
func (d *fieldDraws) own(e *estimate) *estimate {
	k := 0
	for _, x := range d.from {
		if x.ground == e.ground {
			k++
		}
	}
	// Two zones on one map unit are not one zone: their soils err together, but which soil lies where is each one's own.
	if k > 0 {
		return e.twin(k)
	}
	return e
}

// fieldDraws is a field in the making.
type fieldDraws struct {
	field        *suitability.Field
	zones        []*suitability.Zone
	from         []*estimate
	ranged       []bool // by zone: its lime is none, or was drawn
	class, today counts
	suited, lime []float64
	asked        bool
	want         unit.Area // of suited ground
	enough       int       // draws that have it
}

// widest is the largest error of what is counted.
func (d *fieldDraws) widest(n int) float64 {
	w := max(d.class.widest(n), d.today.widest(n))
	if d.asked {
		w = max(w, halfWidth(d.enough, n))
	}
	return w
}

// once takes draw n of every zone.
func (d *fieldDraws) once(n int) {
	var now, today [4]float64
	lime, has := 0.0, false
	for i, z := range d.zones {
		x := d.from[i].at(n)
		now[x.class] += float64(z.Area)
		today[x.today] += float64(z.Area)
		// Only zones that the plan limes, so that the interval is of the figure beside which it stands.
		if z.Lime.Likely.Has() && x.hasNeed {
			lime, has, d.ranged[i] = lime+x.need*float64(z.Area), true, true
		}
	}
	d.class[largest(now, d.field.Uncovered)]++
	d.today[largest(today, d.field.Uncovered)]++
	d.suited = append(d.suited, now[suitability.Suited])
	if now[suitability.Suited] >= float64(d.want)*(1-1e-9) { // half a field is half of it, however its zones add up
		d.enough++
	}
	if has {
		d.lime = append(d.lime, lime)
	}
}

// largest returns the class of most area, as a field's sum does: of equals the worse.
func largest(area [4]float64, uncovered unit.Area) suitability.Class {
	best := suitability.NotRated
	most := area[best] + float64(uncovered)
	for _, c := range []suitability.Class{suitability.Unsuited, suitability.Marginal, suitability.Suited} {
		if a := area[c]; a > most || a == most && a > 0 && best == suitability.NotRated {
			best, most = c, a
		}
	}
	return best
}

func (d *fieldDraws) sum() Field {
	n := len(d.suited)
	f := Field{ID: d.field.ID, Class: d.class.chances(n), Today: d.today.chances(n), Draws: n}
	zones := 0.0
	for _, e := range d.from {
		zones = max(zones, e.error)
	}
	if zones > 0 { // else nothing varies
		f.Error = d.widest(n)
	}
	if d.asked {
		f.Enough = unit.Some(float64(d.enough) / float64(n))
	}
	f.Suited, _ = intervalOf(d.suited)
	// A method whose error nobody published has a figure and no range: a sum over the other zones would be none of the field.
	if i, ok := intervalOf(d.lime); ok && !slices.Contains(d.ranged, false) {
		f.Lime = unit.Some(i)
	}
	return f
}
