package ranking

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// Swaps say how much of the order moves: the share of all pairs of fields that stand the other way round in a draw, on
// average. Fields to be left are not counted: nobody minds which of them comes last; nor are pairs that share a place, for neither of them
// comes first to be overtaken. All are 0 without any pair.
type Swaps struct {
	Both, WeightsAlone, InputsAlone float64
	Pairs                           int // how many pairs that is a share of
}

// Bounds of the number of draws where none is asked for, and the work they may come to.
const (
	// the widest error of a chance is 0.07 with 200 draws and 0.03 with 1,000
	leastDraws, mostDraws = 200, 1000
	drawnMost             = 4_000_000 // fields times draws
	aloneDraws            = 100       // of weights alone and of inputs alone, for [Swaps]
)

// drawsFor is how many draws are made for n fields.
func drawsFor(n, asked int) int {
	if asked > 0 {
		return asked
	}
	return min(max(drawnMost/max(n, 1), leastDraws), mostDraws)
}

// stability draws weights and inputs again and again, ranks, and counts.
func (r *Ranking) stability(ctx context.Context, t *table, o Options) error {
	n := len(t.order)
	r.Draws = drawsFor(n, o.Draws)
	const z95 = 1.959964
	// One figure for all chances of the ranking, the widest: a column of errors would hide the order that it is about.
	r.Error = z95 * math.Sqrt(0.25/float64(r.Draws)) // at worst, of a chance of one half
	if n == 0 {
		return nil
	}
	s := newShuffle(t, r.Fields, o.Seed)
	// 32 bits each: with ten thousand fields this is the largest thing in memory.
	ranks := make([]int32, n*r.Draws) // by place, then draw
	both, err := s.run(ctx, r.Draws, moveWeights|moveInputs, ranks)
	if err != nil {
		return err
	}
	for k := range r.Fields {
		r.Fields[k].count(ranks[k*r.Draws:(k+1)*r.Draws], r.Top)
		if k+1 < n {
			r.Fields[k].Overtaken = overtaken(ranks[k*r.Draws:(k+1)*r.Draws], ranks[(k+1)*r.Draws:(k+2)*r.Draws])
		}
	}
	for k := range r.Fields { // only now: the comparison wants them draw by draw
		r.Fields[k].spread(ranks[k*r.Draws : (k+1)*r.Draws])
	}
	r.Swaps.Both, r.Swaps.Pairs = both, s.pairs
	// A new shuffle with the same seed: weights alone and figures alone are drawn as they were together.
	if r.Swaps.WeightsAlone, err = newShuffle(t, r.Fields, o.Seed).run(ctx, min(r.Draws, aloneDraws), moveWeights, nil); err != nil {
		return err
	}
	r.Swaps.InputsAlone, err = newShuffle(t, r.Fields, o.Seed).run(ctx, min(r.Draws, aloneDraws), moveInputs, nil)
	return err
}

// count fills in how often a field is among the top. ranks are those of the field, by draw.
func (r *Ranked) count(ranks []int32, top int) {
	n := 0
	for _, x := range ranks {
		if int(x) <= top {
			n++
		}
	}
	r.InTop = float64(n) / float64(len(ranks))
}

// spread fills in the places of a field in 8 draws of 10. It sorts ranks.
func (r *Ranked) spread(ranks []int32) {
	slices.Sort(ranks)
	r.P10, r.P90 = int(at(ranks, 0.1)), int(at(ranks, 0.9))
}

// at is the least of the sorted values that a share q of them does not exceed.
func at(sorted []int32, q float64) int32 {
	return sorted[max(int(math.Ceil(q*float64(len(sorted))))-1, 0)]
}

// overtaken is the share of draws in which the second field comes before the first.
func overtaken(first, second []int32) float64 {
	n := 0
	for d := range first {
		if second[d] < first[d] {
			n++
		}
	}
	return float64(n) / float64(len(first))
}

// shuffle draws orders of a table. fields[k] is the source of the field in place k, and goes on from draw to draw. placed is sorted anew
// in each draw; seq and room are used again.
type shuffle struct {
	t       *table
	weights *rand.Rand
	fields  []*rand.Rand // by place
	placed  []placed
	wanted  []bool  // by place: the field is not to be left
	ranks   []int32 // by place: the rank, which several may share
	pairs   int     // of wanted fields with different ranks
	seq     []int32 // ranks of the wanted fields in the order of a draw
	room    []int32
}

// placed is a field by its place, with its score in one draw.
type placed struct {
	place int32
	score float64
}

func newShuffle(t *table, fields []Ranked, seed uint64) *shuffle {
	n := len(t.order)
	s := &shuffle{t: t, weights: randOfWeights(seed), fields: make([]*rand.Rand, n), placed: make([]placed, n), wanted: make([]bool, n), ranks: make([]int32, n), room: make([]int32, n)}
	wanted, same := 0, 0 // so far, and of the rank at hand
	for k, i := range t.order {
		// what is to be left may shuffle among itself without anybody minding
		s.fields[k], s.wanted[k], s.ranks[k] = randOf(seed, t.fields[i]), fields[k].Verdict != Leave, int32(fields[k].Rank)
		if k > 0 && s.ranks[k] != s.ranks[k-1] {
			same = 0
		}
		if s.wanted[k] {
			s.pairs += wanted - same
			wanted, same = wanted+1, same+1
		}
	}
	return s
}

// run makes draws and returns the mean share of pairs that stand the other way round. The rank of the field in place k in
// draw d goes to ranks[k*draws+d]; nil leaves it.
func (s *shuffle) run(ctx context.Context, draws int, what moves, ranks []int32) (swaps float64, err error) {
	for d := range draws {
		if ctx.Err() != nil {
			return 0, context.Cause(ctx)
		}
		s.draw(what)
		rank := int32(0)
		s.seq = s.seq[:0]
		for pos, p := range s.placed {
			if s.wanted[p.place] {
				s.seq = append(s.seq, s.ranks[p.place])
			}
			// Scores of a draw are compared as they are: two fields without a hope have the same marks to the last bit.
			if pos == 0 || p.score != s.placed[pos-1].score { // equals share a place
				rank = int32(pos + 1)
			}
			if ranks != nil {
				ranks[int(p.place)*draws+d] = rank
			}
		}
		if s.pairs > 0 {
			swaps += float64(inversions(s.seq, s.room)) / float64(s.pairs)
		}
	}
	return swaps / float64(draws), nil
}

// draw ranks the fields once more; equals stand as they do in the ranking.
func (s *shuffle) draw(what moves) {
	w := s.t.shares
	if what&moveWeights != 0 {
		w = s.t.drawWeights(s.weights)
	}
	for k, i := range s.t.order {
		marks := &s.t.marks[i]
		if what&moveInputs != 0 {
			drawn := s.t.drawMarks(s.t.fields[i], s.fields[k])
			// all used marks are set in each draw; those that are not used stay zero and are not read
			marks = &drawn
		}
		score := 0.0
		for _, c := range s.t.used {
			score += w[c] * marks[c]
		}
		s.placed[k] = placed{int32(k), score}
	}
	slices.SortFunc(s.placed, func(a, b placed) int { // no score is NaN
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return int(a.place - b.place)
	})
}
