package soiltest

import (
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// Voice is a sample that speaks for a zone.
type Voice struct {
	Index  int // in the list that was located
	Sample *lab.Sample
	Basis  lab.Basis
}

// Voices knows which samples speak for which ground. Get it from [Sort].
type Voices struct {
	// by id; a composite of a field is under the field alone, every other sample under the zones that it was placed in
	zones, fields map[string][]Voice
}

// Sort hands out located samples; l[i] belongs to samples[i]. Those that were not placed speak for nothing.
func Sort(samples []lab.Sample, l []lab.Located) *Voices {
	v := &Voices{map[string][]Voice{}, map[string][]Voice{}}
	for i := range samples {
		voice := Voice{i, &samples[i], l[i].Basis}
		switch {
		// a composite speaks for every zone of its field, so it is kept by field
		case voice.Basis == lab.ByField:
			v.fields[l[i].Field] = append(v.fields[l[i].Field], voice)
		default:
			for _, z := range l[i].Zones {
				v.zones[z] = append(v.zones[z], voice)
			}
		}
	}
	return v
}

// For returns the samples that speak for a window of depth in a zone, in their own order: the nearest that there are.
func (v *Voices) For(zone, field string, w soils.Window) []Voice {
	var best []Voice
	// farther than any basis
	nearest := len(rank)
	// nearest is decided among those that bear on the window: a zone with topsoil bags alone still hears the field's composite of the
	// subsoil
	for _, x := range slices.Concat(v.zones[zone], v.fields[field]) {
		if !Bears(x.Sample, w) || rank[x.Basis] > nearest {
			continue
		}
		if rank[x.Basis] < nearest {
			nearest, best = rank[x.Basis], nil
		}
		best = append(best, x)
	}
	// zones before fields above; back to the order of the files, which is the one that people know
	slices.SortStableFunc(best, func(a, b Voice) int { return a.Index - b.Index })
	return best
}

// rank orders the bases by how much ground a sample speaks for, the least first.
var rank = [...]int{lab.ByZone: 0, lab.ByPoint: 0, lab.ByMapUnit: 1, lab.ByField: 2}

// Bears says whether a sample was dug in a window of depth, by more than half of its layer.
func Bears(s *lab.Sample, w soils.Window) bool {
	from, to, ok := layer(s, w)
	return ok && 2*(min(to, w.To)-max(from, w.From)) > to-from
}

// layer returns the layer of a sample; one that does not say is taken as the topsoil, and only where that is asked for. A bottom without
// a top is dug from the surface.
func layer(s *lab.Sample, w soils.Window) (from, to unit.Depth, ok bool) {
	to, ok = s.Bottom.Get()
	if !ok {
		return 0, w.To, w.From == 0
	}
	from = s.Top.Or(0)
	return from, to, to > from
}
