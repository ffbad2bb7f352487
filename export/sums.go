package export

import (
	"cmp"
	"slices"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Areas holds an area for each class.
type Areas [4]unit.Area

// Of returns the area of a class.
func (a Areas) Of(c suitability.Class) unit.Area {
	if int(c) < len(a) {
		return a[c]
	}
	return 0
}

// LimitArea is how much of a field a criterion limits.
type LimitArea struct {
	Code suitability.Code
	Area unit.Area
}

// Sum is one field added up from its zones.
type Sum struct {
	Field               *suitability.Field
	Zones               []*suitability.Zone // by number
	ByClass, ByToday    Areas
	LimeFirst           unit.Area         // ground that is worse today than it will be once limed
	Limits, LimitsToday []LimitArea       // by falling area, then in the order of suitability.Codes
	Low, Likely, High   unit.Mass         // lime at 100 % CCE over the zones that have a figure
	Limed, NoFigure     unit.Area         // ground with a lime figure above zero; rated ground without any figure
	Floor, Ceiling      bool              // some figure is a floor; some is a ceiling
	Product             unit.Mass         // as spread
	Score               unit.Opt[float64] // area-weighted mean score of the rated zones
	HasLime, HasProduct bool              // whether any zone has a figure, a product
	Rank                int               // 1 is first; 0 when the field has no answer
	AsSold, Pure        bool              // some zone's figure above zero is lime as sold, which no sum of pure lime can hold; some is pure
	Tested              unit.Area         // ground whose pH was tested, at one depth at least
	SurfaceOff          unit.Opt[float64] // tested surface pH less the survey's, mean by area over the zones that have both
	SubsoilOff          unit.Opt[float64] // likewise
}

// Suited returns the share of the whole field that is suited, 0…1; ground that is not rated or outside the survey
// counts as not suited, because nobody has shown that it is.
func (s Sum) Suited() float64 { return share(s.ByClass.Of(suitability.Suited), s.Field.Area) }

// share is a part of a whole, 0…1. Ground that the survey covers twice may make parts exceed it, so it is capped.
func share(part, whole unit.Area) float64 {
	if whole <= 0 {
		return 0
	}
	return min(float64(part)/float64(whole), 1)
}

// Class returns the class that holds the largest part of the field, ground outside the survey counted as not rated. Of
// equal parts the worse class wins, and any class before not rated.
func (s Sum) Class() suitability.Class {
	best := suitability.NotRated
	// Ground that nobody rated comes first only to be displaced by anything as large.
	most := s.ByClass.Of(best) + s.Field.Uncovered
	for _, c := range []suitability.Class{suitability.Unsuited, suitability.Marginal, suitability.Suited} {
		a := s.ByClass.Of(c)
		// The classes from the worst to the best, and only a larger area displaces one.
		if a > most || (a == most && a > 0 && best == suitability.NotRated) {
			best, most = c, a
		}
	}
	return best
}

// Sums adds up every field, in the order of the result, and ranks those that have an answer: by the share of the whole
// field that is suited, then by score, then by area, then by id. It is a plain order of merit of the soil, not of
// money, distance or owner.
func Sums(r *suitability.Result) []Sum {
	out := make([]Sum, len(r.Fields))
	for i := range r.Fields {
		out[i] = sum(r, &r.Fields[i])
	}
	rank(out)
	return out
}

// sum adds up one field; its rank comes later, among the others.
func sum(r *suitability.Result, f *suitability.Field) Sum {
	// Zones by number, so that sums of floats have one order and every file the same last digit.
	s := Sum{Field: f, Zones: ZonesOf(r, f)}
	limits, today := map[suitability.Code]unit.Area{}, map[suitability.Code]unit.Area{}
	var scored, rated float64
	for _, z := range s.Zones {
		s.ByClass[z.Rating.Class] += z.Area
		s.ByToday[z.Rating.ClassToday] += z.Area
		if z.LimeFirst() {
			s.LimeFirst += z.Area
		}
		// A zone that nothing limits has the empty code, which ByArea leaves out.
		limits[z.Rating.Limiting] += z.Area
		today[z.Rating.LimitingToday] += z.Area
		// Ground that is not rated has no score; as 0 it would drag a field down for want of data.
		if x, ok := z.Rating.Score.Get(); ok {
			scored += x * float64(z.Area)
			rated += float64(z.Area)
		}
		s.addLime(z)
	}
	if rated > 0 {
		s.Score = unit.Some(scored / rated)
	}
	s.Limits, s.LimitsToday = ByArea(limits), ByArea(today)
	s.addTests()
	return s
}

// addLime counts a missing figure as missing, not as none needed.
func (s *Sum) addLime(z *suitability.Zone) {
	likely, ok := z.Lime.Likely.Get()
	if !ok {
		// Not rated ground has no figure by its nature and is told as not rated.
		if z.Rating.Class != suitability.NotRated {
			s.NoFigure += z.Area
		}
		return
	}
	s.HasLime = true
	if likely > 0 {
		s.Limed += z.Area
		s.AsSold, s.Pure = s.AsSold || z.Lime.AsSold, s.Pure || !z.Lime.AsSold
	}
	s.Likely += likely.Over(z.Area)
	// A figure without a band (by test, error not known) counts as its own low and high: left out, the low end would be
	// too low and the high end too.
	s.Low += z.Lime.Low.Or(likely).Over(z.Area)
	s.High += z.Lime.High.Or(likely).Over(z.Area)
	s.Floor = s.Floor || z.Lime.Bound == "at least"
	s.Ceiling = s.Ceiling || z.Lime.Bound == "at most"
	if m, ok := z.Lime.ProductMass.Get(); ok {
		s.HasProduct = true
		s.Product += m
	}
}

// ByArea lists limits by falling area, then in the order of suitability.Codes; no limit is no entry.
func ByArea(areas map[suitability.Code]unit.Area) []LimitArea {
	var out []LimitArea
	// In the order of the codes and not of the map, so that equal areas stay in one order.
	for _, c := range suitability.Codes() {
		if a := areas[c]; a > 0 {
			out = append(out, LimitArea{c, a})
		}
	}
	slices.SortStableFunc(out, func(a, b LimitArea) int { return cmp.Compare(b.Area, a.Area) })
	return out
}

// rank numbers the fields that have an answer. The id settles what nothing else does, so that the order of the input cannot.
func rank(sums []Sum) {
	var order []*Sum
	for i := range sums {
		// A field without an answer has no place: last would say that it is the worst.
		if sums[i].Field.Trouble == "" && len(sums[i].Zones) > 0 {
			order = append(order, &sums[i])
		}
	}
	slices.SortStableFunc(order, func(a, b *Sum) int {
		return cmp.Or(cmp.Compare(b.Suited(), a.Suited()), cmp.Compare(b.Score.Or(-1), a.Score.Or(-1)),
			cmp.Compare(b.Field.Area, a.Field.Area), cmp.Compare(a.Field.ID, b.Field.ID))
	})
	for i, s := range order {
		s.Rank = i + 1
	}
}
