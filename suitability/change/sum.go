package change

import (
	"cmp"
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// State is how a zone is rated: its class once corrected and today, and what limits each; "" where nothing does.
type State struct {
	Class, Today            suitability.Class
	Limiting, LimitingToday suitability.Code
}

// StateOf returns the state of a zone.
func StateOf(z *suitability.Zone) State {
	r := &z.Rating
	return State{r.Class, r.ClassToday, r.Limiting, r.LimitingToday}
}

// Turn is ground whose class, or class today, is another in the second run.
type Turn struct {
	From, To State
	Area     unit.Area
}

// Sum is what changed between two runs. Ground that both have is Alike, in Turns, in Survey, or Small; ground that one has alone is in Only, or
// Small.
type Sum struct {
	Alike  unit.Area    // the same class and the same class today, or outside the survey of both
	Turns  []Turn       // by falling area
	Survey unit.Area    // inside the survey of one run and outside that of the other
	Only   [2]unit.Area // ground of one run alone
	// Small is what would stand in Turns, Survey or Only, but lies in parts too small or too narrow to be told.
	Small unit.Area

	Surface, Subsoil Moved // pH of topsoil and subsoil
	// Lime counts a figure of 0 as one: ground that needs none is known to need none.
	Lime Moved // likely figure, short tons an acre at 100 % CCE
	// Tons is lime that the second run asks for beyond the first, in kilograms over the ground with a figure in both, its small parts too: a sum needs no
	// patches that anybody could act on.
	Tons unit.Mass
	// Unlike is ground on which one run asks for pure lime and the other for lime as sold, whose quality nobody states: neither figure tells the
	// other, so it is in none of the above. Small parts are left out.
	Unlike unit.Area
}

// Both is the ground that both runs have, less what is Small.
func (s *Sum) Both() unit.Area {
	all := s.Alike + s.Survey
	for _, t := range s.Turns {
		all += t.Area
	}
	return all
}

// Sum adds up all pairs.
func (c *Comparison) Sum() Sum {
	var s Sum
	turns := map[Turn]unit.Area{} // keys without their area
	for i := range c.Fields {
		for _, p := range c.Fields[i].Pairs {
			a, b := p.A.Zone(c.A), p.B.Zone(c.B)
			large := p.Area - p.Small
			switch {
			case p.B == Nowhere:
				s.Only[0] += large
			case p.A == Nowhere:
				s.Only[1] += large
			case a == nil && b == nil, a != nil && b != nil && !turned(a, b):
				s.Alike += p.Area
				large = p.Area // nothing of it is a change, so nothing is too small to be one
			case a == nil || b == nil:
				s.Survey += large
			default:
				turns[Turn{From: StateOf(a), To: StateOf(b)}] += large
			}
			s.Small += p.Area - large
			if a != nil && b != nil {
				s.figures(p, a, b)
			}
		}
	}
	for t, area := range turns {
		if t.Area = area; area > 0 {
			s.Turns = append(s.Turns, t)
		}
	}
	// All parts of the key break ties, since a map hands its keys out in any order.
	slices.SortFunc(s.Turns, func(x, y Turn) int {
		return cmp.Or(cmp.Compare(y.Area, x.Area), x.From.compare(y.From), x.To.compare(y.To))
	})
	return s
}

// turned says whether a class differs. What limits may differ within a class; the list of ground tells it, but it is no turn.
func turned(a, b *suitability.Zone) bool {
	return a.Rating.Class != b.Rating.Class || a.Rating.ClassToday != b.Rating.ClassToday
}

func (s State) compare(t State) int {
	return cmp.Or(cmp.Compare(s.Class, t.Class), cmp.Compare(s.Today, t.Today), cmp.Compare(s.Limiting, t.Limiting), cmp.Compare(s.LimitingToday, t.LimitingToday))
}

// figures adds what a pair shows of pH and lime.
func (s *Sum) figures(p Pair, a, b *suitability.Zone) {
	s.Surface.add(p, figure(a.Rating.Values.PHSurface), figure(b.Rating.Values.PHSurface))
	s.Subsoil.add(p, figure(a.Rating.Values.PHSubsoil), figure(b.Rating.Values.PHSubsoil))
	before, after := likely(a), likely(b)
	if unlike(a, b) {
		s.Unlike += p.Area - p.Small
		return
	}
	s.Lime.add(p, before, after)
	if x, ok := before.Get(); ok && after.Has() {
		s.Tons += unit.ShortTonsPerAcre(after.Or(0) - x).Over(p.Area)
	}
}

// unlike says whether two zones are to get two kinds of lime. No lime at all is of both.
func unlike(a, b *suitability.Zone) bool {
	return a.Lime.AsSold != b.Lime.AsSold && a.Lime.Likely.Or(0) > 0 && b.Lime.Likely.Or(0) > 0
}

func figure(x unit.Opt[unit.PH]) unit.Opt[float64] {
	if v, ok := x.Get(); ok {
		return unit.Some(float64(v))
	}
	return unit.None[float64]()
}

// likely is the likely lime of a zone in short tons an acre.
func likely(z *suitability.Zone) unit.Opt[float64] {
	if v, ok := z.Lime.Likely.Get(); ok {
		return unit.Some(v.ShortTonsPerAcre())
	}
	return unit.None[float64]()
}
