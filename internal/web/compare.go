package web

import (
	"bytes"
	"maps"
	"math"
	"net/http"
	"slices"

	"rootworthy/export"
	"rootworthy/export/changes"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// comparePage is two runs side by side.
type comparePage struct {
	frame
	A, B     *book
	Pair     [2]string // their names
	Says     []string  // what changed, in sentences
	Classes  []classPair
	Lime     [3]string // of both runs, and the change; the last is "" where one has no figure, or another kind of lime
	Kind     string    // what kind of lime that is
	Turns    []turn
	Ground   []groundRow
	More     int    // pieces of ground that are not in Ground
	MoreArea string // theirs
	Answers  [2][]string
	Apart    []fact // what the runs were made from, where it differs
}

type classPair struct {
	mark
	A, B, Change string
}

// turn is ground that went from one class to another.
type turn struct {
	From, To             mark
	FromToday, ToToday   string // "today marginal", where lime is to come first
	FromLimits, ToLimits string
	Acres                string
}

// mostGround is how many pieces of ground, and turns of class, are listed, the largest areas first.
const mostGround = 300

// compare shows two runs side by side.
func (s *Server) compare(w http.ResponseWriter, r *http.Request) {
	books, scenes, c, ok := s.compared(w, r)
	if !ok {
		return
	}
	p := &comparePage{frame: s.frame("Two runs compared"), A: books[0], B: books[1], Pair: [2]string{books[0].Name, books[1].Name}}
	p.fill(scenes, c)
	s.show(w, http.StatusOK, "compare.html", p)
}

// compareFile sends the comparison as a table, made whole before the first byte goes out: the overlay may yet fail, and a table that ends
// half-way would look whole.
func (s *Server) compareFile(w http.ResponseWriter, r *http.Request) {
	_, _, c, ok := s.compared(w, r)
	if !ok {
		return
	}
	var b bytes.Buffer
	if err := changes.WriteCSV(&b, c); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "text/csv; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="changes.csv"`)
	w.Write(b.Bytes())
}

// compared opens the two runs that a request names and overlays them.
func (s *Server) compared(w http.ResponseWriter, r *http.Request) (books [2]*book, scenes [2]*scene, c *change.Comparison, ok bool) {
	for i, name := range []string{"a", "b"} {
		b := s.book(r.URL.Query().Get(name))
		if b == nil {
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
	// Anew for the page and for the file: a thousand fields take under a second, and kept comparisons would hold both runs in memory. Who leaves the
	// page ends it.
	c, err := change.Compare(r.Context(), scenes[0].result, scenes[1].result)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, "The two runs cannot be laid on one another: "+err.Error())
		return
	}
	return books, scenes, c, true
}

func (p *comparePage) fill(scenes [2]*scene, c *change.Comparison) {
	a, b := scenes[0], scenes[1]
	byA, byB := acresBy(a.sums), acresBy(b.sums)
	for _, c := range suitability.Classes() {
		p.Classes = append(p.Classes, classPair{markOf(c), words.Acres(byA.Of(c)), words.Acres(byB.Of(c)), signed(byB.Of(c).Acres() - byA.Of(c).Acres())})
	}
	limeA, hasA := limeSum(a.sums)
	limeB, hasB := limeSum(b.sums)
	p.Lime = [3]string{limeText(limeA, hasA), limeText(limeB, hasB)}
	p.Kind = "at 100 % CCE"
	if sold(a.sums) || sold(b.sums) {
		p.Kind = "as each run asks for it: pure (100 % CCE), or as sold where a method says so"
	} else if hasA && hasB {
		p.Lime[2] = signed(limeB.ShortTons() - limeA.ShortTons())
	}
	p.Answers = [2][]string{words.Answer(a.result), words.Answer(b.result)}
	sum := c.Sum()
	p.Says = changes.Say(&sum, p.Pair)
	for _, t := range sum.Turns[:min(len(sum.Turns), mostGround)] {
		p.Turns = append(p.Turns, turn{markOf(t.From.Class), markOf(t.To.Class), todayOf(t.From), todayOf(t.To), changes.Limits(t.From), changes.Limits(t.To), words.Acres(t.Area)})
	}
	p.ground(scenes, c)
	p.Apart = apart(a.result, b.result)
}

func todayOf(s change.State) string {
	if s.Today == s.Class {
		return ""
	}
	return "today " + s.Today.String()
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

// limeSum adds up the likely lime of a run; has says whether any field has a figure.
func limeSum(sums []export.Sum) (m unit.Mass, has bool) {
	for i := range sums {
		if sums[i].HasLime {
			m, has = m+sums[i].Likely, true
		}
	}
	return m, has
}

// sold says whether some zone is to get lime as sold, which no sum of pure lime can be held against.
func sold(sums []export.Sum) bool {
	return slices.ContainsFunc(sums, func(s export.Sum) bool { return s.AsSold })
}

func limeText(m unit.Mass, has bool) string {
	if !has {
		return "no figure"
	}
	return words.Tons(m.ShortTons())
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
