package web

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"io"
	"math"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"time"

	pick "rootworthy/export/choice"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/uncertainty"
)

// Ranker gathers what the fields of a run bring to a ranking, by the function of the command line. The choice that it
// returns has all but the ranking itself.
type Ranker struct {
	Gather func(name string, r *suitability.Result, study *uncertainty.Study) (*pick.Choice, []ranking.Field, error)
}

// gathered is what a run brings to a ranking, worked out once; only weights move.
type gatheredFields struct {
	choice *pick.Choice
	fields []ranking.Field
	err    error
}

// rankings keeps it, and the latest order in full.
type rankings struct {
	once   sync.Once
	fields gatheredFields
	mu     sync.Mutex
	key    string
	last   *pick.Choice
}

// quickDraws is how many draws stand behind an order while a weight is being moved: the order, the scores and who is beaten
// are the same as with all of them, only the places in 8 draws of 10 are rougher. A thousand fields take some 30 ms.
const quickDraws = 60

// usualTop is how many fields there is room for where nobody says; the command line has the same.
const usualTop = 10

// rankAsk is what a ranking is asked for.
type rankAsk struct {
	weights ranking.Weights
	top     int
	draws   int // 0 for as many as are worth it
}

// readRankAsk takes weights from an address; those that are not there are the program's. wrong is told by the name of the field.
func readRankAsk(q url.Values) (a rankAsk, wrong map[string]string) {
	a, wrong = rankAsk{weights: ranking.Proposal(), top: usualTop}, map[string]string{}
	for _, c := range ranking.Criteria() {
		text := strings.TrimSpace(q.Get(c.String()))
		if text == "" {
			continue
		}
		w, err := strconv.ParseFloat(text, 64)
		if err != nil || !(w >= 0 && w <= mostWeight) {
			wrong[c.String()] = fmt.Sprintf("%q is not a weight; give a number from 0 to %d", text, mostWeight)
			continue
		}
		a.weights[c] = w
	}
	if text := q.Get("top"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > 1_000_000 {
			wrong["top"] = fmt.Sprintf("%q is not a number of fields; give 1 or more", text)
		} else {
			a.top = n
		}
	}
	if len(wrong) == 0 {
		if err := a.weights.Check(); err != nil {
			wrong[ranking.Suited.String()] = words.Sentence(err.Error())
		}
	}
	return a, wrong
}

// mostWeight is the end of a slider; heavier weights can be typed on the command line.
const mostWeight = 10

// ranked orders the fields of a run. The full order is kept, since its files and letters are asked for one by one.
func (s *Server) ranked(ctx context.Context, b *book, l *loaded, a rankAsk) (*pick.Choice, error) {
	k := &l.ranks
	k.once.Do(func() {
		k.fields.choice, k.fields.fields, k.fields.err = s.ranker.Gather(b.Name, l.result, l.chances().study)
	})
	if k.fields.err != nil {
		return nil, k.fields.err
	}
	key := fmt.Sprint(a.weights, a.top)
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.last != nil && k.key == key {
		return k.last, nil
	}
	c := *k.fields.choice
	o := ranking.Options{Weights: a.weights, Basis: c.Basis, Rules: ranking.ProposedRules(), Top: a.top, Draws: a.draws}
	r, err := ranking.Rank(ctx, k.fields.fields, o)
	if err != nil {
		return nil, err
	}
	c.Ranking, c.Proposed = r, a.weights == ranking.Proposal()
	if a.draws == 0 {
		k.key, k.last = key, &c
	}
	return &c, nil
}

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
	if to == n {
		for _, f := range c.Ranking.Unanswered[:min(len(c.Ranking.Unanswered), mostRows)] {
			out.Unanswered = append(out.Unanswered, c.NoAnswer(f))
		}
	}
	return out
}

// letterPage is the letter of one field.
type letterPage struct {
	frame
	fieldHead
	Query string
	Head  string
	Body  template.HTML // written by package report, every text in it escaped
}

// letter shows the letter of a field under the weights of the address.
func (s *Server) letter(w http.ResponseWriter, r *http.Request) {
	h, l, f, ok := s.openedField(w, r, "letter")
	if !ok {
		return
	}
	c := s.choiceOf(w, r, s.shelf.get(h.Run), l)
	if c == nil {
		return
	}
	d := c.LetterOf(s.shelf.get(h.Run).Name, f.ID)
	if d == nil {
		s.fail(w, r, http.StatusNotFound, "The ranking has no such field.")
		return
	}
	var body bytes.Buffer
	if err := report.WriteHTML(&body, d.Blocks); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p := &letterPage{frame: s.frame(d.Title), fieldHead: h, Head: d.Title, Body: template.HTML(body.String())}
	if r.URL.RawQuery != "" {
		p.Query = "?" + r.URL.Query().Encode()
	}
	s.show(w, http.StatusOK, "letter.html", p)
}

// choiceOf ranks under the weights of an address; nil where that was told to be impossible.
func (s *Server) choiceOf(w http.ResponseWriter, r *http.Request, b *book, l *loaded) *pick.Choice {
	if s.ranker == nil {
		s.fail(w, r, http.StatusNotFound, "This program ranks nothing.")
		return nil
	}
	a, wrong := readRankAsk(r.URL.Query())
	for _, name := range append(weightNames(), "top") {
		if wrong[name] != "" {
			s.fail(w, r, http.StatusBadRequest, wrong[name])
			return nil
		}
	}
	c, err := s.ranked(r.Context(), b, l, a)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return nil
	}
	return c
}

// rankFiles are the files of a ranking, with their types, as the command line writes them.
var rankFiles = map[string]string{"rank.csv": "text/csv; charset=utf-8", "rank.html": "text/html; charset=utf-8", "rank.pdf": "application/pdf", "letters.pdf": "application/pdf"}

// usualLetters is how many letters are written, as on the command line.
const usualLetters = 50

// rankFile sends a file of the ranking.
func (s *Server) rankFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind, ok := rankFiles[name]
	if !ok {
		s.fail(w, r, http.StatusNotFound, "A ranking has no such file.")
		return
	}
	b, l, opened := s.opened(w, r)
	if !opened {
		return
	}
	c := s.choiceOf(w, r, b, l)
	if c == nil {
		return
	}
	var out bytes.Buffer
	if err := writeRank(&out, name, c); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Write(out.Bytes())
}

func writeRank(w io.Writer, name string, c *pick.Choice) error {
	switch name {
	case "rank.csv":
		return pick.WriteCSV(w, c)
	case "rank.html":
		return pick.WritePage(w, c.Document())
	case "rank.pdf":
		return c.Document().PDF(w, report.Letter)
	}
	return c.Letters(usualLetters).PDF(w, report.Letter)
}
