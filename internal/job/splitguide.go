package job

import (
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/raster"
	"rootworthy/raster/interp"
	"rootworthy/raster/managementzone"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/soiltest"
)

// guide is what a split follows in one field: points to draw a surface through.
type guide struct {
	of, by   string          // the property, and how a notice calls it
	points   []interp.Sample // in the plane; pH, or kg/m² of lime
	step     float64         // by which means of zones must differ at least, in the unit of the points; 0 means any
	floor    bool            // values under zero mean none
	inWords  func([]managementzone.Zone) string
	why, fix string // why there is nothing to follow, though the field was sampled; what to do about it
}

// guide gathers what the split asked for follows in a field (of the plane); ok is false where the field has no sampled spot.
func (s *screening) guide(field orb.MultiPolygon) (g guide, ok bool) {
	spots := s.topsoilSpots(field)
	if len(spots) == 0 {
		return g, false
	}
	if s.opt.Tests.Split.By == SplitByLime {
		return s.limeGuide(spots), true
	}
	g = guide{of: "surface pH", by: "tested pH", inWords: phInWords}
	top, _ := soiltest.Windows(s.opt.Profile)
	for _, x := range spots {
		// nil where none of the spot's samples says enough of that depth.
		if t := soiltest.Together(x.samples, top, s.opt.Lime.Date); t != nil {
			g.points = append(g.points, interp.Sample{At: x.at, Value: float64(t.PH)})
		}
	}
	return g, len(g.points) > 0
}

// phInWords and limeInWords write the means of zones behind "means", in the unit that the trade uses.
func phInWords(zones []managementzone.Zone) (out string) {
	for _, z := range zones {
		out += fmt.Sprintf(" %.2f", z.Mean)
	}
	return out
}

// limeGuide asks the lime method at every spot. A surface through the requirement is not the requirement at the surface's
// pH: a buffered clay and a sand of one pH need different lime, and only the sample knows which of them it is.
//
// Fewer than half of the spots with a figure are no surface of the field: those that a method refuses are not like the
// rest (too acid for its buffer, mostly), and to draw over them would be to guess at the worst ground. The mean of a zone
// follows the same rule.
func (s *screening) limeGuide(spots []spot) guide {
	t := s.opt.Tests
	// The same question as for the zones' own lime, or the lines would follow another need than the rates.
	ask := s.limeAsk()
	g := guide{of: "lime", by: fmt.Sprintf("the lime requirement (%s, to pH %g)", t.Method.Name, float64(ask.Target)), floor: true}
	// Over all answers of the field, refused spots left out: one step for the whole of it.
	var need perSpread
	var refusal *lime.Refusal // of the first spot that has one
	for _, x := range spots {
		var answers []limeplan.Answer
		for _, one := range x.samples {
			a := limeplan.Ask(one, *t.Method, ask)
			answers = append(answers, a)
			need.add(a, lime.Product{ECCE: s.opt.Lime.ECCE, Moisture: s.opt.Lime.Moisture})
			if a.Refusal != nil && refusal == nil {
				refusal = a.Refusal
			}
		}
		if v, ok := meanFigure(answers); ok {
			g.points = append(g.points, interp.Sample{At: x.at, Value: v})
		}
	}
	// why does not stop the gathering of the rest, but [screening.split] goes no further.
	if 2*len(g.points) < len(spots) {
		g.why = fmt.Sprintf("it can be worked out at %d of %d sampled spots only", len(g.points), len(spots))
		if refusal != nil {
			g.why += " (" + refusal.What + ")"
			g.fix = refusal.Fix
		}
	}
	step := s.opt.Lime.Step
	// The spreader's step of the run, else that of the crop profile, which is written in short tons per acre.
	if step == 0 {
		step = unit.ShortTonsPerAcre(s.opt.Profile.Lime.Step.Value)
	}
	g.step = need.figure(step)
	g.inWords = limeInWords
	return g
}

func limeInWords(zones []managementzone.Zone) (out string) {
	for _, z := range zones {
		out += fmt.Sprintf(" %.2f", unit.AreaRate(z.Mean).ShortTonsPerAcre())
	}
	return out + " short tons/ac"
}

// perSpread weighs what is spread against what the method asks for: a weak or wet lime is spread by more.
type perSpread struct{ asked, spread unit.AreaRate }

// add weighs one answer in; refusals weigh nothing.
func (p *perSpread) add(a limeplan.Answer, product lime.Product) {
	if v, ok := a.Figure(); ok {
		p.asked, p.spread = p.asked+v, p.spread+a.Need.AsSpread(product)
	}
}

// figure returns the step of the figure, kg/m², that a spreader's step amounts to: zones that the spreader would
// give the same rate need no line between them. It is 0 where nothing is spread.
func (p *perSpread) figure(step unit.AreaRate) float64 {
	if p.spread <= 0 {
		return 0
	}
	return float64(step * p.asked / p.spread)
}

// meanFigure is the mean of what the method asks for, kg/m²; ok is false where it has no figure.
func meanFigure(answers []limeplan.Answer) (mean float64, ok bool) {
	n := 0.0
	for _, a := range answers {
		if v, has := a.Figure(); has {
			mean, n = mean+float64(v), n+1
		}
	}
	if n == 0 {
		return 0, false
	}
	return mean / n, true
}

// noNegative raises what is below zero to it: kriging can swing under the least of its points, and there is no lime to
// take away.
func noNegative(g *raster.Grid[float64]) {
	f := g.Frame()
	for row := range f.Rows {
		for col := range f.Cols {
			if v, ok := g.At(col, row); ok && v < 0 {
				g.Set(col, row, 0)
			}
		}
	}
}

// placeTopsoil finds the spots at which topsoil was dug, with the samples of it, in the order of the samples. It is done
// once: every field looks through them.
func (s *screening) placeTopsoil() {
	top, _ := soiltest.Windows(s.opt.Profile)
	known := map[orb.Point]int{}
	for i := range s.opt.Tests.Samples {
		x := &s.opt.Tests.Samples[i]
		p, ok := x.Place.Point.Get()
		if !ok || !soiltest.Bears(x, top) {
			continue
		}
		at, ok := s.plane.Forward(p)
		if !ok {
			continue // off the plane, and so in no field
		}
		k, ok := known[at]
		if !ok {
			k = len(s.topsoil)
			known[at] = k
			s.topsoil = append(s.topsoil, spot{at: at})
		}
		s.topsoil[k].samples = append(s.topsoil[k].samples, x)
	}
}

// topsoilSpots returns the spots inside a field at which topsoil was dug.
func (s *screening) topsoilSpots(field orb.MultiPolygon) (out []spot) {
	box := field.Bound()
	for _, x := range s.topsoil {
		// The box first: nearly every spot lies in another field.
		if box.Contains(x.at) && planar.MultiPolygonContains(field, x.at) {
			out = append(out, x)
		}
	}
	return out
}
