package sampling

import (
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Plan is what to sample, and where.
type Plan struct {
	Options Options // filled
	Result  *suitability.Result
	Fields  []Field            // those with a bag, in the order of the result
	Bags    []Bag              // by field and zone, topsoil before subsoil
	Zones   []Zone             // those with a bag, in that order
	Left    []Left             // zones without one, and why
	Cost    float64            // of all bags at the prices of the options
	Study   *uncertainty.Study // how sure the result is as it stands
}

// Field is one field to walk.
type Field struct {
	Field *suitability.Field
	Stops []Stop      // in the order of walking
	Way   unit.Length // from the first stop to the last, straight between them
}

// Stop is one place to dig.
type Stop struct {
	Number int       // 1… within the field
	At     orb.Point // longitude, latitude, seven decimals
	Bags   []int     // indexes into Plan.Bags of what is filled here
}

// Bag is one sample as the laboratory gets it.
type Bag struct {
	ID       string // zone id and a letter; subsoil says so
	Zone     *suitability.Zone
	Deep     bool
	From, To unit.Depth
	Cores    int
	Middle   orb.Point // of its cores
}

// Zone is what the bags of a zone are for.
type Zone struct {
	Zone      *suitability.Zone
	Top, Deep int // bags
	Worth     Worth
	Inside    unit.Length // how far its cores keep from the zone's own line
}

// Left is a zone that gets no bag. Why is one of [Reasons].
type Left struct {
	Zone *suitability.Zone
	Why  string
}

// Why a zone gets no bag.
const (
	NoRoom    = "no room"         // nowhere is it clear of the edge
	NoWorth   = "little to learn" // a bag would put hardly anything right
	Tested    = "tested"          // lately
	NoBudget  = "budget spent"    // others put more right for the money
	NotAsked  = "not asked for"   // its field is not among those to sample
	NoAnswer  = "not rated"       // no test of pH can rate it
	deepFrom  = 30                // cm, 12 in
	deepTo    = 60                // cm, 24 in: a third of the subsoil's window, which is enough to speak for it
	letterMax = 26
)

// Reasons lists them.
func Reasons() []string { return []string{NoWorth, Tested, NoBudget, NoRoom, NoAnswer, NotAsked} }

// New plans the sampling of a result. Equal results and options give equal plans. The error says which option is out of
// range, or which field is not in the result.
func New(ctx context.Context, r *suitability.Result, o Options) (*Plan, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	// A misspelt field would else give a plan that samples nothing, without a word.
	for _, id := range o.Fields {
		if !slices.ContainsFunc(r.Fields, func(f suitability.Field) bool { return f.ID == id }) {
			return nil, fmt.Errorf("the run has no field %q", id)
		}
	}
	o = o.filled()
	p := &Plan{Options: o, Result: r}
	all, err := p.prospects(ctx)
	if err != nil {
		return nil, err
	}
	// only looked up, never ranged over
	noRoom := map[*prospect]bool{}
	choose(all, o, func(x *prospect, bags int) bool {
		x.room = roomIn(&r.Fields[x.field], x.zone, o.Clear(), bags*o.Cores)
		noRoom[x] = x.room == nil && x.top+x.deep == 0
		return x.room != nil
	})
	if err := ctx.Err(); err != nil {
		return nil, context.Cause(ctx)
	}
	p.gather(all, noRoom)
	p.Study = uncertainty.Of(r, uncertainty.Options{Seed: o.Seed})
	return p, nil
}

// prospects looks at every zone that may be sampled.
func (p *Plan) prospects(ctx context.Context) (all []*prospect, err error) {
	grounds := uncertainty.NewGrounds(p.Result, uncertainty.Options{Seed: p.Options.Seed})
	seen := map[outlookKey]*outlooks{}
	for i := range p.Result.Fields {
		f := &p.Result.Fields[i]
		for _, k := range f.Zones {
			// an index that a damaged run may have
			if k < 0 || k >= len(p.Result.Zones) {
				continue
			}
			if ctx.Err() != nil {
				return nil, context.Cause(ctx)
			}
			z := &p.Result.Zones[k]
			if len(p.Options.Fields) > 0 && !slices.Contains(p.Options.Fields, f.ID) {
				p.Left = append(p.Left, Left{z, NotAsked})
				continue
			}
			if z.Rating.Class == suitability.NotRated {
				p.Left = append(p.Left, Left{z, NoAnswer})
				continue
			}
			x := &prospect{zone: z, field: i, canTop: !young(z.Rating.Tested.Surface), canDeep: slices.Contains(z.Rating.HingesOn, suitability.SubsoilPH) && !young(z.Rating.Tested.Subsoil)}
			// Thousands of zones lie on the same soil: what bags would show of it is worked out once for all of them.
			key := outlookKey{grounds.Of(z), z.Rating.Class, z.Lime.Likely}
			if seen[key] == nil {
				seen[key] = survey(key.ground, z, p.Options)
			}
			x.outlooks = seen[key]
			all = append(all, x)
		}
	}
	return all, nil
}

// outlookKey is what zones must share to have one outlook.
type outlookKey struct {
	ground *uncertainty.Ground
	class  suitability.Class
	likely unit.Opt[unit.AreaRate]
}

// young says whether a test is as good as a new one; one of unknown age is not.
func young(t *suitability.TestedPH) bool { return t != nil && t.Age == suitability.AgeFresh }

// gather puts the chosen bags in place.
func (p *Plan) gather(all []*prospect, noRoom map[*prospect]bool) {
	last := -1
	var places []orb.Point
	// of each place, which bags are filled there
	var fills [][]int
	// a field is walked once all its zones have their places: one way through all of them
	finish := func() {
		if last >= 0 && len(places) > 0 {
			p.walk(&p.Result.Fields[last], places, fills)
		}
		places, fills = nil, nil
	}
	for _, x := range all {
		// all comes by field
		if x.field != last {
			finish()
			last = x.field
		}
		if x.top+x.deep == 0 {
			p.Left = append(p.Left, Left{x.zone, p.whyNot(x, noRoom[x])})
			continue
		}
		// the room last looked for may be that of a step that did not fit
		x.room = roomIn(&p.Result.Fields[x.field], x.zone, p.Options.Clear(), max(x.top, x.deep)*p.Options.Cores)
		a, b := p.bags(x)
		places, fills = append(places, a...), append(fills, b...)
		p.Zones = append(p.Zones, Zone{x.zone, x.top, x.deep, x.worth(x.top, x.deep), x.room.inside})
		p.Cost += float64(x.top)*p.Options.Price + float64(x.deep)*p.Options.DeepPrice
	}
	finish()
	// by reason, and within one as the result has them: reports tell each reason once
	slices.SortStableFunc(p.Left, func(a, b Left) int { return slices.Index(Reasons(), a.Why) - slices.Index(Reasons(), b.Why) })
}

// whyNot says why a zone was left out. The reasons are asked for from the hardest to the softest: where there is no room, money is no
// matter.
func (p *Plan) whyNot(x *prospect, noRoom bool) string {
	if noRoom {
		return NoRoom
	}
	if !x.canTop && !x.canDeep {
		return Tested
	}
	// Asked again without a limit: was it the money, or is there nothing to learn?
	free := p.Options
	free.Money, free.Samples = 0, 0
	if _, ok := x.best(newPurse(free)); ok || x.asks() {
		return NoBudget
	}
	return NoWorth
}

// bags adds the bags of a zone and returns its places, each with the bags that are filled there.
func (p *Plan) bags(x *prospect) (places []orb.Point, fills [][]int) {
	n := max(x.top, x.deep)
	o, topsoil := &p.Options, p.surface()
	var deeps []Bag
	// bags of topsoil come first, so those of the subsoil are numbered from base+x.top on before they are appended
	base := len(p.Bags)
	for i, part := range parts(x.room.points, n) {
		at := cores(part, o.Cores)
		name := x.zone.ID
		if n > 1 {
			// A zone gets three bags of a depth at most, so the letters do not run out.
			name += "-" + string(rune('A'+i%letterMax))
		}
		if i < x.top {
			p.Bags = append(p.Bags, Bag{ID: name, Zone: x.zone, From: topsoil.From, To: topsoil.To, Cores: len(at), Middle: x.room.frame.out(middleOf(at))})
		}
		// The first of the cores lie far apart, so these few still speak for the whole part.
		deep := at[:min(len(at), o.DeepCores)]
		if i < x.deep {
			deeps = append(deeps, Bag{ID: name + "-deep", Zone: x.zone, Deep: true, From: deepFrom, To: deepTo, Cores: len(deep), Middle: x.room.frame.out(middleOf(deep))})
		}
		for k, q := range at {
			var into []int
			if i < x.top {
				into = append(into, base+i)
			}
			if i < x.deep && k < len(deep) {
				into = append(into, base+x.top+i)
			}
			if len(into) > 0 {
				places, fills = append(places, x.room.frame.out(q)), append(fills, into)
			}
		}
	}
	p.Bags = append(p.Bags, deeps...)
	return places, fills
}

// surface is the depth of a topsoil bag: the window that the profile judges.
func (p *Plan) surface() soils.Window {
	profile := p.Result.Profile
	if profile == nil {
		profile = suitability.DefaultProfile()
	}
	return soils.Window{From: 0, To: unit.Depth(profile.Rules.SurfaceTo.Value)}
}

// walk puts the places of a field in order.
func (p *Plan) walk(f *suitability.Field, places []orb.Point, fills [][]int) {
	// the same plane as that of the zones' rooms
	m := frameAt(f.Shape.Bound().Center())
	at := make([]orb.Point, len(places))
	for i, q := range places {
		at[i] = m.in(q)
	}
	out := Field{Field: f}
	order := walk(at)
	for n, i := range order {
		out.Stops = append(out.Stops, Stop{n + 1, places[i], fills[i]})
	}
	out.Way = unit.Length(length(at, order))
	p.Fields = append(p.Fields, out)
}
