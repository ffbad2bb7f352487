package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"time"

	pick "rootworthy/export/choice"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// rankPage is the fields of a run in order.
type rankPage struct {
	frame
	Run     int
	Name    string
	Answer  []string
	Weights []weightField
	Top     int
	TopBad  string
	List    rankList
	Told    string // what is wrong with the weights, for everybody
	Error   string
	Query   string // of the weights, for files and letters
}

// weightField is one weight in sight.
type weightField struct{ Name, Label, Value, Wrong, Share string }

// rankList is the list as it stands on the page.
type rankList struct {
	CostHead, ReadyHead string
	Rows                []rankRow
	Status, Meaning     string
	Firmness            string
	Previous, Next      string
	Unanswered          []string
}

type rankRow struct {
	pick.Line
	Address, Letter string
	Gap             bool // verdicts change here
}

// ranking shows the fields in order, whole or as the part that changes with a weight.
func (s *Server) ranking(w http.ResponseWriter, r *http.Request) {
	begin := time.Now()
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	if s.ranker == nil {
		s.fail(w, r, http.StatusNotFound, "This program ranks nothing.")
		return
	}
	q := r.URL.Query()
	a, wrong := readRankAsk(q)
	if q.Has("quick") {
		a.draws = quickDraws
	}
	p := &rankPage{frame: s.frame("Which fields to take"), Run: b.Number, Name: heading(b, l.result), Top: a.top, TopBad: wrong["top"]}
	// The script shows one fault beside its field and leaves the list as it was; a page must have some list, so it takes the proposal.
	if len(wrong) > 0 && q.Has("part") {
		for _, name := range append(weightNames(), "top") {
			if wrong[name] != "" {
				s.fail(w, r, http.StatusBadRequest, wrong[name])
				return
			}
		}
	}
	status := http.StatusOK
	if len(wrong) > 0 {
		status, p.Told = http.StatusBadRequest, "A weight cannot be meant; the list is by the weights that the program proposes."
		a = rankAsk{weights: ranking.Proposal(), top: usualTop}
	}
	c, err := s.ranked(r.Context(), b, l, a)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	p.fill(c, l, a, wrong, q)
	if !q.Has("part") {
		s.show(w, status, "ranking.html", p)
		return
	}
	list, err := s.html("ranklist", p.List)
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	var shares []string
	for _, x := range p.Weights {
		shares = append(shares, x.Share)
	}
	answer(w, http.StatusOK, map[string]any{"list": list, "answer": p.Answer, "shares": shares, "query": p.Query, "status": p.List.Status,
		"ms": math.Round(float64(time.Since(begin).Microseconds())/100) / 10})
}

func weightNames() []string {
	var out []string
	for _, c := range ranking.Criteria() {
		out = append(out, c.String())
	}
	return out
}

// fill puts a ranking into words.
func (p *rankPage) fill(c *pick.Choice, l *loaded, a rankAsk, wrong map[string]string, q url.Values) {
	p.Answer = c.Answer()
	shares := a.weights.Shares()
	own := url.Values{}
	for _, x := range ranking.Criteria() {
		f := weightField{Name: x.String(), Label: c.CountName(x), Value: strconv.FormatFloat(a.weights[x], 'g', -1, 64), Wrong: wrong[x.String()], Share: words.Decimal(100*shares[x], 0) + " % of the score"}
		if f.Wrong != "" {
			f.Value = q.Get(f.Name)
		}
		// only what differs goes into addresses, so that a list as proposed has the address without parameters
		if a.weights[x] != ranking.Proposal()[x] {
			own.Set(f.Name, f.Value)
		}
		p.Weights = append(p.Weights, f)
	}
	if a.top != usualTop {
		own.Set("top", strconv.Itoa(a.top))
	}
	if len(own) > 0 {
		p.Query = "?" + own.Encode()
	}
	p.List = p.list(c, l, own, q)
}

// list shows one screenful of fields.
func (p *rankPage) list(c *pick.Choice, l *loaded, own, q url.Values) rankList {
	n := len(c.Ranking.Fields)
	out := rankList{CostHead: c.CostHead(), ReadyHead: c.ReadyHead(), Meaning: c.Meaning()}
	if n > 0 {
		out.Firmness = c.Firmness()
	}
	from, _ := strconv.Atoi(q.Get("from"))
	from = max(0, min(from-1, n-1))
	from -= from % mostRows
	to := min(from+mostRows, n)
	for k := from; k < to; k++ {
		f := &c.Ranking.Fields[k]
		h := fieldHead{Run: p.Run, Place: l.field[f.ID]}
		out.Rows = append(out.Rows, rankRow{Line: c.Line(k), Address: h.Page("chances"), Letter: h.Page("letter") + p.Query})
	}
	out.Status = words.Count(n, "field", "fields") + " in order"
	if n > mostRows {
		out.Status += fmt.Sprintf(", %d to %d shown", from+1, to)
		if from > 0 {
			out.Previous = with(own, "from", strconv.Itoa(from-mostRows+1))
		}
		if to < n {
			out.Next = with(own, "from", strconv.Itoa(to+1))
		}
	}
	// fields without an answer come behind the last one that has a place
	if to == n {
		for _, f := range c.Ranking.Unanswered[:min(len(c.Ranking.Unanswered), mostRows)] {
			out.Unanswered = append(out.Unanswered, c.NoAnswer(f))
		}
	}
	return out
}
