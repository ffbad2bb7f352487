package web

import (
	"context"
	"fmt"
	"net/url"
	"strconv"
	"strings"
	"sync"

	pick "rootworthy/export/choice"
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
