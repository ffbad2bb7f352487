package web

import (
	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// scene is a run as it is, or as it would be with limits moved.
type scene struct {
	*loaded
	ask     ask
	profile *suitability.Profile
	result  *suitability.Result // with the zones of this scene
	zones   []*suitability.Zone // in the order of the run
	sums    []export.Sum
	kept    int // zones whose lime stands as tested, though it might move
	drawn   *drawn
}

// moved says whether the class of a zone is another than in the run.
func (s *scene) moved(i int) bool { return s.zones[i].Rating.Class != s.loaded.zones[i].Rating.Class }

// scene returns the run under a what-if. The latest is kept.
func (l *loaded) scene(a ask) (*scene, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.plain == nil {
		l.plain = &scene{loaded: l, profile: l.result.Profile, result: l.result, zones: l.zones, sums: l.sums, drawn: &drawn{}}
	}
	switch {
	case a.key == "":
		s := *l.plain
		s.ask = a
		return &s, nil
	case l.last != nil && l.last.ask.key == a.key:
		return l.last, nil
	}
	s, err := l.rate(a)
	if err == nil {
		l.last = s
	}
	return s, err
}

// rate rates every zone again. Zones on one map unit share their rating, as they do in a run.
func (l *loaded) rate(a ask) (*scene, error) {
	p, err := a.profile(l.result.Profile)
	if err != nil {
		return nil, err
	}
	w := &rerating{loaded: l, ask: a, profile: p, options: planOptions(&l.result.Provenance, p), rated: map[sameGround]suitability.UnitRating{}, areas: map[string]suitability.SurveyArea{}}
	for _, area := range l.result.Provenance.Surveys {
		w.areas[area.Symbol] = area
	}
	if a.target != 0 {
		if w.target, err = p.ChosenTarget(a.target); err != nil {
			return nil, err
		}
	}
	all := make([]suitability.Zone, len(l.zones))
	s := &scene{loaded: l, ask: a, profile: p, zones: make([]*suitability.Zone, len(l.zones)), drawn: &drawn{}}
	for i, z := range l.zones {
		all[i] = w.zone(z)
		s.zones[i] = &all[i]
	}
	s.kept = w.kept
	r := *l.result
	r.Zones, r.Profile = all, p
	r.Fields = append([]suitability.Field(nil), r.Fields...)
	at := 0
	for i := range r.Fields { // zones now stand in the order of the files
		r.Fields[i].Zones = make([]int, len(r.Fields[i].Zones))
		for j := range r.Fields[i].Zones {
			r.Fields[i].Zones[j] = at
			at++
		}
	}
	s.result, s.sums = &r, export.Sums(&r)
	return s, nil
}

// rerating is one pass over the zones of a run.
type rerating struct {
	*loaded
	ask     ask
	profile *suitability.Profile
	target  suitability.Target // the zero value keeps that of the run
	options limeplan.Options
	areas   map[string]suitability.SurveyArea
	rated   map[sameGround]suitability.UnitRating
	kept    int
}

// sameGround is what zones have in common that get the same rating; zone is the id of one that was tested.
type sameGround struct {
	area, unit, zone string
	drained          bool
}

func (w *rerating) zone(z *suitability.Zone) suitability.Zone {
	out := *z
	area := w.areas[z.SurveyArea]
	key := sameGround{area: z.SurveyArea, unit: z.MapUnitKey, drained: w.drained(z.FieldID)}
	if z.Rating.Tested.Any() {
		key.zone = z.ID
	}
	r, ok := w.rated[key]
	if !ok {
		opt := suitability.RateOptions{Drained: key.drained, Scale: area.Scale, General: area.General, Target: z.Rating.Target, Tested: z.Rating.Tested}
		if w.target.PH != 0 {
			opt.Target = w.target
		}
		r = w.profile.Again(z.Rating, opt)
		w.rated[key] = r
	}
	out.Rating = w.profile.ForZone(r, z.Area, area.Scale)
	out.Lime = w.lime(z, out.Rating)
	return out
}

func (w *rerating) drained(field string) bool {
	switch w.ask.works {
	case "all":
		return true
	case "none":
		return false
	}
	i, ok := w.field[field]
	return ok && w.result.Fields[i].Drained
}

// lime plans the lime of a zone again. What a method made of samples is kept where nothing that it depends on moved: the
// samples themselves are not in a run.
func (w *rerating) lime(z *suitability.Zone, r suitability.UnitRating) suitability.Lime {
	limed := func(c suitability.Class) bool {
		return c != suitability.NotRated && (c != suitability.Unsuited || w.options.IncludeUnsuited)
	}
	if z.Lime.Test != nil && r.Target.PH == z.Rating.Target.PH && limed(r.Class) == limed(z.Rating.Class) {
		w.kept++
		return z.Lime
	}
	return limeplan.Plan(w.profile, r, z.Area, w.options)
}

// target is the pH that a run limes to; where zones differ, that of the first.
func (l *loaded) target() unit.PH {
	if len(l.zones) > 0 {
		return l.zones[0].Rating.Target.PH
	}
	return l.result.Profile.DefaultTarget().PH
}
