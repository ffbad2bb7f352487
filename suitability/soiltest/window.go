package soiltest

import (
	"slices"
	"time"

	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Tested returns what samples show of the pH of a zone. today is the day from which their age counts; the zero time means
// that it is not known. The windows are those of the profile. thin tells of windows that were dug, but by less than a third.
func (v *Voices) Tested(p *suitability.Profile, zone, field string, today time.Time) (t suitability.Tested, thin bool) {
	surface, subsoil := Windows(p)
	var thinTop, thinSub bool
	t.Surface, thinTop = read(v.For(zone, field, surface), surface, today)
	t.Subsoil, thinSub = read(v.For(zone, field, subsoil), subsoil, today)
	return t, thinTop || thinSub
}

// Windows returns the depths of the topsoil and the subsoil that pH is judged in.
func Windows(p *suitability.Profile) (surface, subsoil soils.Window) {
	r := &p.Rules
	return soils.Window{From: 0, To: unit.Depth(r.SurfaceTo.Value)}, soils.Window{From: unit.Depth(r.SubsoilFrom.Value), To: unit.Depth(r.SubsoilTo.Value)}
}

// leastShare is how much of a window must have been dug to stand for it: the top 3 in of 8, or 12 to 24 in of the subsoil.
// Source: proposal.
const leastShare = 1.0 / 3

// read puts the pH of samples together; nil where none has one, or too little was dug.
func read(voices []Voice, w soils.Window, today time.Time) (t *suitability.TestedPH, thin bool) {
	// a bag may have been sent for potassium alone
	voices = slices.DeleteFunc(voices, func(v Voice) bool { return !v.Sample.PH.Has() })
	if len(voices) == 0 {
		return nil, false
	}
	t = mean(voices, w)
	if float64(t.Covered) < leastShare*float64(w.Thickness()) {
		return nil, true
	}
	describe(t, voices, today)
	return t, false
}

// mean returns the mean over the centimetres that were dug, each the mean of the samples that hold it. A plain mean of the bags would
// count a layer twice where two bags hold it, and so lean to the depth that was dug more often. Bags are cut at the edges of the window;
// voices is not empty.
func mean(voices []Voice, w soils.Window) *suitability.TestedPH {
	var edges []unit.Depth
	for _, v := range voices {
		from, to, _ := layer(v.Sample, w)
		edges = append(edges, max(from, w.From), min(to, w.To))
	}
	slices.Sort(edges)
	// between two neighbours no bag begins or ends, so each span is held whole or not at all
	edges = slices.Compact(edges)
	t := &suitability.TestedPH{}
	sum := 0.0
	for i := 1; i < len(edges); i++ {
		ph, n := 0.0, 0.0
		for _, v := range voices {
			if from, to, _ := layer(v.Sample, w); from <= edges[i-1] && to >= edges[i] {
				ph, n = ph+float64(v.Sample.PH.Or(0)), n+1
			}
		}
		// a span between two bags that neither holds was not dug
		if n > 0 {
			sum += ph / n * float64(edges[i]-edges[i-1])
			t.Covered += edges[i] - edges[i-1]
		}
	}
	t.From, t.To = edges[0], edges[len(edges)-1]
	if t.Covered > 0 {
		t.PH = unit.PH(sum / float64(t.Covered))
	}
	return t
}

// describe says which samples a mean is of.
func describe(t *suitability.TestedPH, voices []Voice, today time.Time) {
	t.Samples = len(voices)
	t.Least, t.Most = voices[0].Sample.PH.Or(0), voices[0].Sample.PH.Or(0)
	farthest, worst := voices[0].Basis, 0
	ages := suitability.TestAges()
	for _, v := range voices {
		s := v.Sample
		t.Least, t.Most = min(t.Least, s.PH.Or(0)), max(t.Most, s.PH.Or(0))
		t.DepthAssumed = t.DepthAssumed || !s.Bottom.Has()
		t.WaterAssumed = t.WaterAssumed || s.PHAssumed
		farthest = max(farthest, v.Basis)
		// TestAges lists the best first, so the greatest index is the worst age
		worst = max(worst, slices.Index(ages, Age(s, today)))
		if s.Lab != "" && !slices.Contains(t.Laboratories, s.Lab) {
			t.Laboratories = append(t.Laboratories, s.Lab)
		}
		if d, ok := s.Date().Get(); ok {
			day := d.Format(time.DateOnly)
			// year, month, day: the text sorts as the days do
			t.Newest = max(t.Newest, day)
			if t.Oldest == "" || day < t.Oldest {
				t.Oldest = day
			}
		}
	}
	slices.Sort(t.Laboratories)
	t.Basis, t.Age = farthest.String(), ages[worst]
}

// Age returns how old a sample is on a day, of [suitability.TestAges]. A day that has not come says nothing of the age.
func Age(s *lab.Sample, today time.Time) string {
	day, ok := s.Date().Get()
	switch {
	case !ok || today.IsZero() || day.After(today):
		return suitability.AgeUnknown
	case s.Stale(today):
		return suitability.AgeOld
	}
	return suitability.AgeFresh
}
