package web

import (
	"cmp"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// sift says which zones to list, and in which order. The zero value lists all in the order of the files.
type sift struct {
	class  string // a class as every output writes it; "" any
	factor string // a criterion that limits, once corrected or today; "none"; "" any
	lime   string // of limeSifts; "" any
	sure   string // high, medium, low; "" any
	field  string // a field id; "" any
	find   string // text in the names of field, zone and soil
	sort   string // of sorts; "" the order of the files
	from   int    // first row, from 0
	show   string // what the map shows: "" class, "today", "lime"
}

// The ways to sift by lime.
var limeSifts = []choice{{"", "any"}, {"some", "needs lime"}, {"0", "needs none"}, {"over1", "over 1 ton/ac"}, {"over2", "over 2 tons/ac"}, {"missing", "no figure"}}

// The orders. A stroke before a name turns one round.
var sorts = []string{"zone", "class", "area", "factor", "lime", "sure"}

type choice struct{ Value, Label string }

func readSift(q url.Values) sift {
	s := sift{class: q.Get("class"), factor: q.Get("factor"), lime: q.Get("lime"), sure: q.Get("sure"), field: q.Get("field"),
		find: strings.ToLower(strings.TrimSpace(q.Get("find"))), sort: q.Get("sort"), show: q.Get("show")}
	if n, err := strconv.Atoi(q.Get("from")); err == nil && n > 0 {
		s.from = n - 1
	}
	if s.show != "today" && s.show != "lime" {
		s.show = ""
	}
	return s
}

// searchText is what a search looks through.
func searchText(z *suitability.Zone) string {
	return strings.ToLower(strings.Join([]string{z.ID, z.FieldName, z.Symbol, z.MapUnit}, "\n"))
}

// zones returns the places of the zones that pass, in order.
func (s *sift) zones(sc *scene) []int {
	out := make([]int, 0, len(sc.zones))
	for i, z := range sc.zones {
		if s.passes(z) && (s.find == "" || strings.Contains(sc.found[i], s.find)) {
			out = append(out, i)
		}
	}
	if by := s.order(sc); by != nil {
		slices.SortStableFunc(out, by)
	}
	return out
}

func (s *sift) passes(z *suitability.Zone) bool {
	return (s.class == "" || z.Rating.Class.String() == s.class) && (s.sure == "" || z.Rating.Confidence.Level == s.sure) &&
		(s.field == "" || z.FieldID == s.field) && s.passesFactor(&z.Rating) && s.passesLime(&z.Lime)
}

func (s *sift) passesFactor(r *suitability.UnitRating) bool {
	switch s.factor {
	case "":
		return true
	case "none":
		return r.Limiting == "" && r.LimitingToday == "" && r.Class != suitability.NotRated
	}
	return string(r.Limiting) == s.factor || string(r.LimitingToday) == s.factor
}

func (s *sift) passesLime(l *suitability.Lime) bool {
	rate, ok := l.Likely.Get()
	switch s.lime {
	case "some":
		return ok && rate > 0
	case "0":
		return ok && rate == 0
	case "over1":
		return ok && rate > unit.ShortTonsPerAcre(1)
	case "over2":
		return ok && rate > unit.ShortTonsPerAcre(2)
	case "missing":
		return !ok
	}
	return true
}

// order returns how to sort; nil for the order of the files.
func (s *sift) order(sc *scene) func(a, b int) int {
	name, down := strings.CutPrefix(s.sort, "-")
	var by func(a, b *suitability.Zone) int
	switch name {
	case "class":
		by = func(a, b *suitability.Zone) int {
			return cmp.Or(cmp.Compare(place(a.Rating.Class), place(b.Rating.Class)), cmp.Compare(b.Rating.Score.Or(-1), a.Rating.Score.Or(-1)))
		}
	case "area":
		by = func(a, b *suitability.Zone) int { return cmp.Compare(a.Area, b.Area) }
	case "factor":
		by = func(a, b *suitability.Zone) int {
			return cmp.Or(cmp.Compare(codePlace(a), codePlace(b)), cmp.Compare(a.Rating.Score.Or(-1), b.Rating.Score.Or(-1)))
		}
	case "lime":
		by = func(a, b *suitability.Zone) int { return cmp.Compare(a.Lime.Likely.Or(-1), b.Lime.Likely.Or(-1)) }
	case "sure":
		by = func(a, b *suitability.Zone) int { return cmp.Compare(sureness(a), sureness(b)) }
	case "zone":
		if !down {
			return nil
		}
		return func(a, b int) int { return cmp.Compare(b, a) }
	default:
		return nil
	}
	return func(a, b int) int {
		if down {
			a, b = b, a
		}
		return by(sc.zones[a], sc.zones[b])
	}
}

// place is where a class stands in the order of reports.
func place(c suitability.Class) int { return slices.Index(suitability.Classes(), c) }

func codePlace(z *suitability.Zone) int {
	if z.Rating.Limiting == "" {
		return len(suitability.Codes())
	}
	return slices.Index(suitability.Codes(), z.Rating.Limiting)
}

func sureness(z *suitability.Zone) int {
	return slices.Index([]string{suitability.Low, suitability.Medium, suitability.High}, z.Rating.Confidence.Level)
}
