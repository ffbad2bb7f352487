package job

import (
	"cmp"
	"context"
	"fmt"

	"rootworthy/internal/diag"
	"rootworthy/internal/ordered"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/soiltest"
)

// Tests is what laboratories sent, and how lime is to be taken from it.
type Tests struct {
	Samples []lab.Sample
	Method  *lime.Method // nil: the tests rate the ground, and lime stays the survey's band at the tested pH
	Ask     lime.Ask     // its Target is that of the run

	Surface *interp.Method // how points are made a surface, that zones read pH and lime from; nil: zones take their own bags
	Split   *Split         // with Surface: zones are split along a surface of topsoil pH or of lime; nil: they are not
}

// applyTests puts the tests in the place of survey values, zone by zone, and plans the lime of those zones again. A zone
// without a sample stays as it was.
func (s *screening) applyTests(ctx context.Context) error {
	t := s.opt.Tests
	if t == nil || len(t.Samples) == 0 {
		return nil
	}
	located := lab.Locate(t.Samples, s.testGround(), s.faults)
	s.tellPlaces(located)
	s.tellAges()
	s.tellLayers()
	a := &assay{screening: s, voices: soiltest.Sort(t.Samples, located), asked: make([]bool, len(t.Samples)), answers: make([]limeplan.Answer, len(t.Samples))}
	var todo []*suitability.Zone
	// Drains are the field's and not the zone's: who laid them knows fields.
	drained := map[string]bool{}
	for i := range s.done {
		// a zone knows its field by id only
		// Fields in trouble have no zones and so are never asked for.
		drained[s.done[i].field.ID] = s.done[i].field.Drained
		for j := range s.done[i].zones {
			todo = append(todo, &s.done[i].zones[j])
		}
	}
	// the units are looked up by several workers, and the answers of the method are shared among zones
	a.askAll(todo)
	if err := a.makeSurfaces(ctx, located); err != nil {
		return err
	}
	// the index is the zone, so that what is told comes in the order of zones whatever the workers
	told, err := ordered.Map(ctx, len(todo), s.opt.Workers, func(i int) (bool, error) { return a.test(todo[i], drained[todo[i].FieldID]), nil })
	if err != nil {
		return err
	}
	a.tell(todo, told)
	return nil
}

// assay is the tests at work on the zones.
// ground is by field id; nil where no surfaces are asked for.
type assay struct {
	*screening
	voices  *soiltest.Voices
	asked   []bool            // by sample: the method was asked
	answers []limeplan.Answer // by sample
	ground  map[string]*sampledField
}

// limeAsk is what a lime method is asked for: what the user said of it, to the target of the run.
func (s *screening) limeAsk() lime.Ask {
	ask := s.opt.Tests.Ask
	ask.Target = s.opt.Target.PH
	// The same target as for the band of the survey: two of them in one table would look like an effect of the tests.
	if ask.Target == 0 {
		ask.Target = s.opt.Profile.DefaultTarget().PH
	}
	return ask
}

// askAll asks the method about every sample that speaks for the topsoil of some zone, each once.
func (a *assay) askAll(zones []*suitability.Zone) {
	if a.opt.Tests.Method == nil {
		return
	}
	ask := a.limeAsk()
	surface, _ := soiltest.Windows(a.opt.Profile)
	for _, z := range zones {
		for _, v := range a.voices.For(z.ID, z.FieldID, surface) {
			// A bag may speak for many zones (of its field, of its map unit); its answer is one.
			if !a.asked[v.Index] {
				a.asked[v.Index], a.answers[v.Index] = true, limeplan.Ask(v.Sample, *a.opt.Tests.Method, ask)
			}
		}
	}
}

// test rates and limes one zone again by its samples; thin tells of a window that was dug by too little.
func (a *assay) test(z *suitability.Zone, drained bool) (thin bool) {
	// thin: the zone has samples, but of too little of the depth in which pH is judged.
	tested, thin := a.voices.Tested(a.opt.Profile, z.ID, z.FieldID, a.opt.Lime.Date)
	tests := a.limeTests(z)
	a.readSurfaces(z, &tested, &tests)
	// no sample speaks for it: rated and limed by the survey, as it stands
	if !tested.Any() && len(tests.Answers) == 0 {
		return thin
	}
	// Every zone's key has a number: zones were made from numbers.
	number := a.units.number[z.MapUnitKey]
	// The scale of the survey says below which area a zone is unsure, and tests do not change that.
	scale := a.units.areas[z.SurveyArea].Scale
	z.Rating = a.opt.Profile.ForZone(a.units.rate(number, drained, tested, z.Rating.Terrain), z.Area, scale)
	z.Lime = limeplan.PlanByTests(a.opt.Profile, z.Rating, z.Area, a.opt.Lime, tests)
	return thin
}

// limeTests gathers what the method says of the samples of a zone's topsoil.
func (a *assay) limeTests(z *suitability.Zone) (t limeplan.Tests) {
	if a.opt.Tests.Method == nil {
		return t
	}
	t.Method = a.opt.Tests.Method.Name
	surface, _ := soiltest.Windows(a.opt.Profile)
	for _, v := range a.voices.For(z.ID, z.FieldID, surface) {
		t.Answers = append(t.Answers, a.answers[v.Index])
		// One old sample marks the whole plan: a mean is no fresher than what went into it.
		t.Old = t.Old || soiltest.Age(v.Sample, a.opt.Lime.Date) == suitability.AgeOld
		// A bag of a whole field or map unit is right on average, which the single zone may be far from.
		t.Wide = t.Wide || v.Basis == lab.ByField || v.Basis == lab.ByMapUnit
	}
	return t
}

// tell reports what the tests could not answer: refused samples, each once, and windows that were dug too little.
func (a *assay) tell(zones []*suitability.Zone, thin []bool) {
	// a refusal that no zone asked about is no news
	wanted := make([]bool, len(a.answers)) // samples of zones whose lime was asked for
	surface, _ := soiltest.Windows(a.opt.Profile)
	for i, z := range zones {
		if thin[i] {
			a.faults.Notice(diag.Fault{Feature: "zone " + z.ID, Ground: z.FieldID, Field: "depth", Kind: "dug too little", What: "its samples cover under a third of the depth that pH is judged in, so the survey's pH stands",
				Fix: "sample 0 to 8 in and 12 to 24 in"})
		}
		if z.Lime.Test != nil {
			for _, v := range a.voices.For(z.ID, z.FieldID, surface) {
				wanted[v.Index] = true
			}
		}
	}
	// Once for each sample, not for each zone that it speaks for.
	for i, w := range wanted {
		if no := a.answers[i].Refusal; w && no != nil {
			s := &a.opt.Tests.Samples[i]
			a.faults.Add(diag.Fault{File: s.File, Line: s.Line, Feature: cmp.Or(s.ID, s.LabNumber), Field: "lime by " + no.Method, Kind: no.Code, What: no.What, Fix: no.Fix})
		}
	}
}

// tellAges tells which samples are old, undated or from the future; without a day to count from, that nobody can tell.
func (s *screening) tellAges() {
	// The clock is never read here, or a run repeated next year would give another answer.
	if s.opt.Lime.Date.IsZero() {
		s.faults.Notice(diag.Fault{File: s.opt.Tests.Samples[0].File, Field: "date", Kind: "no day to count from", What: "how old the tests are is not known", Fix: "give today with --date"})
		return
	}
	lab.CheckAge(s.opt.Tests.Samples, s.opt.Lime.Date, s.faults)
}

// tellLayers tells of samples that can change nothing: of a depth between the windows, or without a pH in water.
func (s *screening) tellLayers() {
	samples := s.opt.Tests.Samples
	surface, subsoil := soiltest.Windows(s.opt.Profile)
	for _, l := range lab.Layers(samples) {
		first := &samples[l.Samples[0]]
		// all samples of a layer are alike in this, so the first speaks for them
		if !soiltest.Bears(first, surface) && !soiltest.Bears(first, subsoil) {
			s.faults.Notice(diag.Fault{File: first.File, Field: "depth", Kind: "between the windows", What: fmt.Sprintf("%s: pH is judged in %g to %g and %g to %g cm, so these change nothing",
				l, float64(surface.From), float64(surface.To), float64(subsoil.From), float64(subsoil.To))})
		}
	}
	for i := range samples {
		if x := &samples[i]; x.PHCaCl2.Has() && !x.PH.Has() {
			s.faults.Notice(diag.Fault{File: x.File, Line: x.Line, Feature: x.ID, Field: "pH", Kind: "pH in calcium chloride", What: "pH in calcium chloride is not turned into pH in water, so the rating keeps the survey's",
				Fix: "ask the laboratory for pH in water"})
		}
	}
}
