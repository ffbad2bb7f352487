package limeplan

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Basis of a figure. One of tests is BasisTest with the name of the method behind it.
const (
	BasisTest     = "test: "
	BasisTestedPH = "survey screening at tested pH" // the texture is the survey's and no method was at work
)

// Answer is what a lime method says of one sample: a requirement, or a refusal.
type Answer struct {
	ID      string
	PH      unit.Opt[unit.PH]      // in water
	PHCaCl2 unit.Opt[unit.PHCaCl2] // in calcium chloride, where water was not measured
	Need    lime.Requirement
	Refusal *lime.Refusal // nil where there is a requirement
}

// Of returns the answer about a sample before anything was asked: what the sample is called, and the one pH to show of it.
func Of(s *lab.Sample) Answer {
	a := Answer{ID: SampleID(s), PH: s.PH}
	if !s.PH.Has() {
		a.PHCaCl2 = s.PHCaCl2
	}
	return a
}

// Ask asks a method about a sample.
func Ask(s *lab.Sample, m lime.Method, a lime.Ask) Answer {
	out := Of(s)
	var err error
	// an error that is no refusal would be a value that no soil can have; it is told as a refusal, so that the other samples still count
	if out.Need, err = m.Require(lime.SoilOf(s), a); err != nil && !errors.As(err, &out.Refusal) {
		out.Refusal = &lime.Refusal{Method: m.Name, Code: lime.BadValue, What: err.Error(), Fix: "correct the sample"}
	}
	// a sample that asks for no lime was not misled by its depth into any
	if out.Need.Rate.Amount() > 0 && elsewhere(s, out.Need.Depth) {
		out.Need.Notes = append(out.Need.Notes, suitability.LimeOtherDepth)
	}
	return out
}

// elsewhere says whether a sample was dug to a depth that is more than a third off the soil that its figure is for: acidity
// on sod changes from inch to inch.
// Source of the third: proposal.
// A sample or a method that does not name its depth is not doubted.
func elsewhere(s *lab.Sample, figure unit.Opt[unit.Depth]) bool {
	dug, okDug := s.Bottom.Get()
	of, ok := figure.Get()
	return ok && okDug && 3*math.Abs(float64(dug-of)) > float64(of)
}

// SampleID is what a sample is called: its id, or the laboratory's number where the bag had none, or else the line it
// stands in, so that every sample can be told from its neighbours.
func SampleID(s *lab.Sample) string {
	if name := cmp.Or(s.ID, s.LabNumber); name != "" || s.Line == 0 {
		return name
	}
	return fmt.Sprintf("line %d", s.Line)
}

// Tests is what a zone's topsoil samples say of lime. The zero value says nothing.
type Tests struct {
	Method  string   // its name; "" when none was chosen
	Answers []Answer // of the samples that speak for the zone's topsoil; none where the method was not asked
	Old     bool     // some sample is older than can be trusted
	Wide    bool     // the samples speak for more than the zone

	Level unit.Opt[unit.AreaRate] // what a surface through the samples says of the zone; missing means their plain mean
	Fit   *suitability.SurfaceFit // of that surface
}

// PlanByTests is [Plan] for a zone with laboratory tests: the plain mean of what the method asks for over the samples,
// each counted once. Refused samples are left out of it, and told; where the method refuses more than half, the figure is
// the survey's band, at the tested pH where there is one. The rate of a method that states no quality of lime is spread as it
// stands, whatever the product.
func PlanByTests(p *suitability.Profile, r suitability.UnitRating, area unit.Area, o Options, t Tests) suitability.Lime {
	return plan(p, r, area, o, &t)
}

// byTests fills in the figure from samples and returns what is spread of the product, before the spreader's steps; ok is
// false when the survey's band must stand in.
func byTests(l *suitability.Lime, t *Tests, o Options) (product unit.AreaRate, ok bool) {
	if len(t.Answers) == 0 {
		return 0, false
	}
	// kept even where the survey's band stands in: the reader must see what the laboratory said of each bag
	l.Test = &suitability.LimeTest{Method: t.Method}
	pooled := pooledNeed{sure: true}
	for _, a := range t.Answers {
		l.Test.Samples = append(l.Test.Samples, a.record())
		if a.Refusal == nil {
			pooled.add(a.Need)
		}
	}
	switch n := pooled.n; {
	// half of the samples is still a picture of the zone, under half is what the method happened to like
	case 2*n < len(t.Answers):
		addNotes(l, suitability.LimeMethodRefused)
		return 0, false
	case n < len(t.Answers):
		addNotes(l, suitability.LimePartRefused)
	}
	if level, ok := t.Level.Get(); ok {
		pooled.bring(level, unit.AreaRate(t.Fit.Off()))
		l.Test.Fit = t.Fit
	}
	l.Basis = BasisTest + t.Method
	pooled.fill(l)
	need, field := pooled.mean()
	// the source measured its rate in agricultural lime; without a named effectiveness that lime is what is spread
	if field && o.ECCE == 0 {
		addNotes(l, suitability.LimeFieldProduct)
	}
	return need.AsSpread(lime.Product{ECCE: o.ECCE, Moisture: o.Moisture}), true
}

// Figure returns what the method asks for, as figures of zones are written; ok is false where it refused.
func (a Answer) Figure() (amount unit.AreaRate, ok bool) {
	if a.Refusal != nil {
		return 0, false
	}
	amount, _ = inFigure(a.Need.Rate)
	return amount, true
}

// record keeps an answer with the zone.
func (a Answer) record() suitability.SampleLime {
	s := suitability.SampleLime{ID: a.ID, PH: a.PH, PHCaCl2: a.PHCaCl2}
	if a.Refusal != nil {
		s.Refusal, s.What = a.Refusal.Code, a.Refusal.What
		return s
	}
	amount, _ := inFigure(a.Need.Rate)
	s.Figure, s.Why = unit.Some(amount), whyTest(a.Need.Why)
	return s
}

// whyTest tells a pH that was tested from one that the survey gives.
func whyTest(why string) string {
	if why == lime.AtTarget {
		return suitability.WhyTestAtTarget
	}
	return why
}

// inFigure returns a rate as figures of zones are written: as calcium carbonate, or as it stands where its quality is not
// stated.
func inFigure(r lime.Rate) (amount unit.AreaRate, asSold bool) {
	if carbonate, ok := r.Carbonate(); ok {
		return carbonate, false
	}
	return r.Amount(), r.Amount() > 0
}
