package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// overrule puts tested pH in the place of the survey's, finding by finding. What the survey says stays beside it. All
// other criteria remain the survey's: no laboratory sees rock, water or slope.
func (p *Profile) overrule(findings []Finding, t Tested) {
	for i := range findings {
		p.overruleOne(&findings[i], t.Of(findings[i].Criterion))
	}
}

// overruleOne does so for one finding. Where a hard layer leaves no subsoil there is none to test either.
func (p *Profile) overruleOne(f *Finding, t *TestedPH) {
	if t == nil || f.NotApplicable {
		return
	}
	// the caller has picked t by the criterion, so only the two pH criteria come here with a test
	curve := p.SubsoilPH
	if f.Criterion == SurfacePH {
		curve = p.SurfacePH
	}
	found := curve.finding(unit.Some(float64(t.PH)))
	found.Criterion, found.Covered = f.Criterion, cover(t.Covered)
	found.Tested, found.Survey, found.SurveyClass = true, f.Value, f.Class
	if f.Tested { // it was overruled before: the survey's value is the one kept then
		found.Survey, found.SurveyClass = f.Survey, f.SurveyClass
	}
	if f.Criterion == SurfacePH {
		p.noteMicronutrients(&found)
	}
	*f = found
}

// beside returns the tests with what the survey says in their place: the mean by percent over its components. t is not
// changed. It is called once the components are rated, since only their findings know what the survey says window by window.
func (t Tested) beside(components []ComponentRating) Tested {
	with := func(x *TestedPH, code Code) *TestedPH {
		if x == nil {
			return nil
		}
		// a copy: the same test may stand behind several zones
		y := *x
		y.Survey = weighted(components, func(c *ComponentRating) unit.Opt[unit.PH] {
			if v, ok := c.finding(code).Survey.Get(); ok {
				return unit.Some(unit.PH(v))
			}
			return unit.None[unit.PH]()
		})
		return &y
	}
	return Tested{with(t.Surface, SurfacePH), with(t.Subsoil, SubsoilPH)}
}

// phOf reads the pH of a horizon: the tested one where its middle lies in the depth that was tested.
func (t Tested) phOf(h *soils.Horizon) unit.Opt[unit.PH] {
	// a horizon is tested or not as a whole: the depth looked for is the top of a horizon, and a horizon is not cut for it
	middle := (h.Top.Or(0) + h.Bottom.Or(0)) / 2
	for _, x := range []*TestedPH{t.Surface, t.Subsoil} {
		if x != nil && x.From <= middle && middle < x.To {
			return unit.Some(x.PH)
		}
	}
	return soils.PHOf(h)
}
