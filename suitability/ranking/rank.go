package ranking

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// Options tunes [Rank]. The zero value ranks by the proposal, costs counted by lime.
type Options struct {
	Weights Weights // all zero means [Proposal]
	Basis   Basis   // of the cost; that of every field
	Rules   Rules   // of the verdict; the zero value means [ProposedRules]
	Top     int     // how many fields there is room for; 0 means 10
	Draws   int     // of weights and inputs; 0 means as many as keep the work small, 200 to 1,000
	Seed    uint64  // the same seed gives the same answer; zero is a seed like any other
}

// Ranking is fields in order.
type Ranking struct {
	Fields     []Ranked // the best first
	Unanswered []*Field // nothing is known of them, so they have no place; by name
	Weights    Weights  // as given
	Scales     [Count]Scale
	Rules      Rules
	Top        int // as asked for, or the number of fields where they are fewer
	Draws      int
	Error      float64 // that a chance of places may be off by, 19 times in 20, for the number of draws
	Swaps      Swaps
}

// Ranked is a field in its place.
type Ranked struct {
	*Field
	Rank        int            // 1 is the best; fields that nothing tells apart share a place
	Best, Worst int            // its place were all that is missing as good, as bad as can be; Rank where nothing is missing
	Score       float64        // weighted sum of the marks, 0…1
	Marks       [Count]float64 // by criterion; the middle for what is missing
	Layer       int            // 1: no field beats it; 2: only fields of layer 1 do; …
	BeatenBy    []int          // indexes into Ranking.Fields of fields at least as good on every count, the best first; three at most
	P10, P90    int            // it stands between these places in 8 draws of 10
	InTop       float64        // share of the draws that have it among the top
	Overtaken   float64        // share of the draws in which the field after it comes before it; 0 for the last
	Verdict     Verdict
	Why         []Reason
}

// StaysInTop says whether a field is among the top in 9 draws of 10.
func (r *Ranked) StaysInTop() bool { return r.InTop >= 0.9 }

// Rank orders fields. The order of the input changes nothing. The error tells of weights that cannot be meant, of two fields
// with one name, or that ctx was cancelled.
func Rank(ctx context.Context, fields []Field, o Options) (*Ranking, error) {
	// all zero would be refused by Check below; nobody means it, so it stands for "not given"
	if o.Weights == (Weights{}) {
		o.Weights = Proposal()
	}
	if o.Rules == (Rules{}) {
		o.Rules = ProposedRules()
	}
	if err := o.Weights.Check(); err != nil {
		return nil, err
	}
	r := &Ranking{Weights: o.Weights, Scales: Scales(o.Basis), Rules: o.Rules}
	// by name from here on, so that the order of the input changes nothing
	known, err := r.sift(fields)
	if err != nil {
		return nil, err
	}
	t := newTable(known, o.Weights.Shares(), r.Scales)
	r.Fields = t.places(o.Rules)
	t.dominance(r.Fields)
	r.Top = o.Top
	if r.Top <= 0 {
		r.Top = 10
	}
	r.Top = min(r.Top, len(r.Fields))
	return r, r.stability(ctx, t, o)
}

// sift parts the fields of which something is known from the rest, both by name.
func (r *Ranking) sift(fields []Field) (known []*Field, err error) {
	all := make([]*Field, len(fields))
	for i := range fields {
		// pointers into the caller's slice: a ranking refers to the fields that it was given
		all[i] = &fields[i]
	}
	slices.SortStableFunc(all, func(a, b *Field) int {
		x, y := a.key(), b.key()
		return slices.Compare(x[:], y[:])
	})
	for i, f := range all {
		if i > 0 && f.key() == all[i-1].key() {
			return nil, fmt.Errorf("two fields are called %q in %q; every field of a ranking needs a name of its own", f.ID, strings.TrimSpace(f.Run))
		}
		if f.answered() {
			known = append(known, f)
		} else {
			r.Unanswered = append(r.Unanswered, f)
		}
	}
	return known, nil
}
