package uncertainty

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Study says how sure the zones and fields of a result are, in its order.
type Study struct {
	Zones  []Zone
	Fields []Field
}

// Zone says how sure a zone is.
type Zone struct {
	ID, FieldID  string
	Area         unit.Area
	Class, Today Chances            // of the zone as a whole, once corrected and today
	Spots        Chances            // of a spot in it taken blindly, once corrected: the shares to expect
	Need         unit.Opt[Interval] // lime at 100 % CCE in kg/m² (as sold where the plan's is), were the zone limed; missing without a figure, or a published error of it
	Draws        int
	Error        float64 // that Class and Today may be off by, 19 times in 20; 0 where nothing varies
	Bodies       int     // of soil that the zone is taken to hold; 0 as mapped
}

// Of studies a result. Equal results and options give equal studies.
func Of(r *suitability.Result, o Options) *Study {
	o = o.filled()
	s, grounds := &Study{}, NewGrounds(r, o)
	// only looked up, never ranged over
	estimates := map[*Ground]*estimate{}
	of := make([]*estimate, len(r.Zones))
	for i := range r.Zones {
		z := &r.Zones[i]
		g := grounds.Of(z)
		e := estimates[g]
		if e == nil {
			// A county has a few hundred grounds under many thousand zones: each is drawn once.
			e = g.estimate()
			estimates[g] = e
		}
		of[i] = e
		s.Zones = append(s.Zones, Zone{ID: z.ID, FieldID: z.FieldID, Area: z.Area, Class: e.class, Today: e.today, Spots: e.spots,
			Need: e.need, Draws: len(e.draws), Error: e.error, Bodies: g.bodies})
	}
	var d fieldDraws
	for i := range r.Fields {
		s.Fields = append(s.Fields, d.of(r, &r.Fields[i], of, o))
	}
	return s
}

// Grounds keeps the grounds of a result, each made once.
type Grounds struct {
	profile *suitability.Profile
	options Options
	scales  map[string]unit.Opt[int]
	drained map[string]bool // by field ID: works are declared there
	luck    *luck
	made    map[groundKey]*Ground
}

// groundKey is what zones must share to share a ground.
type groundKey struct {
	first  *suitability.ComponentRating // zones on one map unit share their components
	zone   string                       // of a tested zone, which stands alone
	bodies int
	// the lime of a draw is to it
	target unit.PH
	// works lift what a draw finds, even where the ratings with and without them are one
	drained bool
}

// NewGrounds returns the grounds of a result.
func NewGrounds(r *suitability.Result, o Options) *Grounds {
	g := &Grounds{profile: r.Profile, options: o.filled(), scales: map[string]unit.Opt[int]{}, drained: map[string]bool{},
		luck: &luck{o.Seed, map[string]*fortune{}}, made: map[groundKey]*Ground{}}
	if g.profile == nil { // runs of the first programs do not keep it
		g.profile = suitability.DefaultProfile()
	}
	for _, a := range r.Provenance.Surveys {
		g.scales[a.Symbol] = a.Scale
	}
	for i := range r.Fields {
		g.drained[r.Fields[i].ID] = r.Fields[i].Drained
	}
	return g
}

// Of returns the ground of a zone of the result.
func (g *Grounds) Of(z *suitability.Zone) *Ground {
	bodies := 0
	if !g.options.AsMapped {
		bodies = bodiesOf(g.profile, z.Area, g.scales[z.SurveyArea])
	}
	key := groundKey{bodies: bodies, target: z.Rating.Target.PH, drained: g.drained[z.FieldID]}
	// by the address of the first: zones of one map unit share the list, others do not
	if len(z.Rating.Components) > 0 {
		key.first = &z.Rating.Components[0]
	}
	if alone(z) {
		key.zone = z.ID
	}
	made := g.made[key]
	if made == nil {
		made = newGround(g.profile, z, key.drained, bodies, g.luck, g.options)
		g.made[key] = made
	}
	return made
}
