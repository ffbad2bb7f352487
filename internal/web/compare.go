package web

import (
	"cmp"
	"maps"
	"math"
	"net/http"
	"slices"
	"strconv"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// comparePage is two runs side by side.
type comparePage struct {
	frame
	A, B    *book
	Classes []classPair
	Lime    [2]string
	Changes []change
	More    int
	Same    string // how much ground has class and lime alike
	Answers [2][]string
	Apart   []fact // what the runs were made from, where it differs
}

type classPair struct {
	mark
	A, B, Change string
}

// change is ground whose class or lime differs.
type change struct {
	Field, Soil, Area string
	AreaDiff          bool
	A, B              side
}

// side is a zone in one of the runs; Missing where that run has no such ground.
type side struct {
	Missing   bool
	Class     mark
	Today     string
	Why, Lime string
	Address   string
	ClassDiff bool
	LimeDiff  bool
}

// mostChanges is how many differences are listed, the largest areas first.
const mostChanges = 300

// areaApart is how far areas may differ and still count as alike: half a percent, under what a boundary drawn twice moves.
const areaApart = 0.005

// compare shows two runs side by side.
func (s *Server) compare(w http.ResponseWriter, r *http.Request) {
	var books [2]*book
	var scenes [2]*scene
	for i, name := range []string{"a", "b"} {
		n, err := strconv.Atoi(r.URL.Query().Get(name))
		b := s.shelf.get(n)
		if err != nil || b == nil {
			s.fail(w, r, http.StatusNotFound, "There is no such run to compare.")
			return
		}
		l, err := s.shelf.open(b)
		if err == nil {
			scenes[i], err = l.scene(ask{})
		}
		if err != nil {
			s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
			return
		}
		books[i] = b
	}
	p := &comparePage{frame: s.frame("Two runs compared"), A: books[0], B: books[1]}
	p.fill(scenes[0], scenes[1])
	s.show(w, http.StatusOK, "compare.html", p)
}

func (p *comparePage) fill(a, b *scene) {
	byA, byB := acresBy(a.sums), acresBy(b.sums)
	for _, c := range suitability.Classes() {
		p.Classes = append(p.Classes, classPair{markOf(c), words.Acres(byA.Of(c)), words.Acres(byB.Of(c)), signed(byB.Of(c).Acres() - byA.Of(c).Acres())})
	}
	p.Lime = [2]string{limeSum(a.sums), limeSum(b.sums)}
	p.Answers = [2][]string{words.Answer(a.result), words.Answer(b.result)}
	changes, same := pairs(a, b, p.A.Number, p.B.Number)
	p.Same = words.AcresAndHectares(same)
	p.More = max(0, len(changes)-mostChanges)
	p.Changes = changes[:min(len(changes), mostChanges)]
	p.Apart = apart(a.result, b.result)
}

// signed prints a difference with its sign.
func signed(x float64) string {
	switch s := words.Decimal(math.Abs(x), 1); {
	case s == "0":
		return "±0"
	case x < 0:
		return "−" + s
	default:
		return "+" + s
	}
}

func limeSum(sums []export.Sum) string {
	var m unit.Mass
	has := false
	for i := range sums {
		if sums[i].HasLime {
			m, has = m+sums[i].Likely, true
		}
	}
	if !has {
		return "no figure"
	}
	return words.Tons(m.ShortTons())
}

// ground names a piece of ground that two runs have in common: a soil in a field. Zone numbers go by area and move.
type ground struct{ field, area, unit string }

// pairs lists ground whose class or lime differs, the most of it first, and adds up what is alike.
func pairs(a, b *scene, numberA, numberB int) (out []change, same unit.Area) {
	// a soil is one zone of a field unless the field was split along lime or tests; then the last one stands for it
	inB := map[ground]int{}
	for i, z := range b.zones {
		inB[ground{z.FieldID, z.SurveyArea, z.MapUnitKey}] = i
	}
	type sized struct {
		change
		area unit.Area
	}
	var list []sized
	seen := make([]bool, len(b.zones))
	for i, z := range a.zones {
		c := change{Field: nameOf(z), Soil: z.Symbol + " " + z.MapUnit, Area: words.Acres(z.Area), A: a.side(i, numberA)}
		j, ok := inB[ground{z.FieldID, z.SurveyArea, z.MapUnitKey}]
		if !ok {
			c.B.Missing = true
			list = append(list, sized{c, z.Area})
			continue
		}
		seen[j] = true
		c.B = b.side(j, numberB)
		c.B.ClassDiff = c.A.Class != c.B.Class || c.A.Today != c.B.Today
		// as printed: figures that look alike to everybody are alike
		c.B.LimeDiff = c.A.Lime != c.B.Lime
		if other := b.zones[j].Area; math.Abs(float64(other-z.Area)) > areaApart*float64(z.Area) {
			c.Area, c.AreaDiff = words.Acres(z.Area)+" → "+words.Acres(other), true
		}
		if !c.B.ClassDiff && !c.B.LimeDiff && !c.AreaDiff {
			same += z.Area
			continue
		}
		list = append(list, sized{c, z.Area})
	}
	// what only the second run has
	for j, z := range b.zones {
		if !seen[j] {
			list = append(list, sized{change{Field: nameOf(z), Soil: z.Symbol + " " + z.MapUnit, Area: words.Acres(z.Area), A: side{Missing: true}, B: b.side(j, numberB)}, z.Area})
		}
	}
	slices.SortStableFunc(list, func(x, y sized) int { return cmp.Compare(y.area, x.area) })
	for _, x := range list {
		out = append(out, x.change)
	}
	return out, same
}

func nameOf(z *suitability.Zone) string {
	return fieldName(&suitability.Field{ID: z.FieldID, Name: z.FieldName})
}

func (s *scene) side(i, number int) side {
	r := s.row(i)
	return side{Class: r.Class, Today: r.Today, Why: r.Why, Lime: r.Lime, Address: "/run/" + strconv.Itoa(number) + "/zone/" + strconv.Itoa(i)}
}

// apart lists what the runs were made from, where that differs.
func apart(a, b *suitability.Result) []fact {
	values := func(r *suitability.Result) map[string]string {
		m := map[string]string{}
		for _, f := range facts(r) {
			m[f.Name] = f.Value
		}
		return m
	}
	inA, inB := values(a), values(b)
	names := map[string]bool{}
	for n := range inA {
		names[n] = true
	}
	for n := range inB {
		names[n] = true
	}
	var out []fact
	for _, n := range slices.Sorted(maps.Keys(names)) {
		if inA[n] != inB[n] {
			out = append(out, fact{n, orNothing(inA[n]) + " → " + orNothing(inB[n])})
		}
	}
	return out
}

func orNothing(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}
