package ranking

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// table holds the fields of a ranking by name, with their marks.
type table struct {
	fields []*Field
	shares Weights // sum to 1
	scales [Count]Scale
	used   []Criterion      // those that count
	marks  [][Count]float64 // what each field is ranked by
	// by field, end and criterion
	worth [][2][Count]float64
	order []int // fields by place
	score []float64
}

// The two ends of table.worth: what a field is worth at least and at most by a criterion, larger for better. They differ
// only where it is missing.
const atLeast, atMost = 0, 1

func newTable(fields []*Field, shares Weights, scales [Count]Scale) *table {
	t := &table{fields: fields, shares: shares, scales: scales}
	for _, c := range Criteria() {
		// a criterion of weight 0 must not decide by dominance what the score leaves open
		if shares[c] > 0 {
			t.used = append(t.used, c)
		}
	}
	for i, f := range fields {
		t.marks = append(t.marks, [Count]float64{})
		t.worth = append(t.worth, [2][Count]float64{})
		for _, c := range Criteria() {
			_, t.marks[i][c], _ = scales[c].marks(f.Measures[c])
			t.worth[i][atLeast][c], t.worth[i][atMost][c] = worth(scales[c], f.Measures[c])
		}
		t.score = append(t.score, t.sum(t.marks[i]))
		t.order = append(t.order, i)
	}
	// compare ends in the name, so no two are equal and the sort need not be stable
	slices.SortFunc(t.order, t.compare)
	return t
}

// worth is what a field is worth by a criterion, before any scale could blunt a small difference.
func worth(s Scale, m Measure) (least, most float64) {
	switch m.State {
	case Known:
		// the range is left out: with it hardly a field would ever beat another
		return s.better(m.Likely), s.better(m.Likely)
	case Hopeless:
		return math.Inf(-1), math.Inf(-1)
	}
	return math.Inf(-1), math.Inf(1)
}

// sum is the weighted sum of marks. It is added up in one order, so that better marks never make a lower sum.
//
//	score = Σ weight × marks / Σ weight
//
// Source: textbook definition of the weighted sum model.
func (t *table) sum(marks [Count]float64) (s float64) {
	for _, c := range t.used {
		s += t.shares[c] * marks[c]
	}
	return s
}

// compare puts the better field first: by score, then by marks, then by worth, both criterion by criterion, then by name.
// So a field that beats another stands before it even where rounding makes their scores equal.
func (t *table) compare(a, b int) int {
	if d := cmp.Compare(t.score[b], t.score[a]); d != 0 {
		return d
	}
	for _, c := range t.used {
		if d := cmp.Compare(t.marks[b][c], t.marks[a][c]); d != 0 {
			return d
		}
	}
	for _, c := range t.used {
		if d := cmp.Compare(t.worth[b][atLeast][c], t.worth[a][atLeast][c]); d != 0 {
			return d
		}
	}
	return cmp.Compare(a, b) // fields stand by name
}

// alike says whether two fields cannot be told apart by what counts. The upper end of worth need not be looked at: it differs from the
// lower one only where a value is missing, and then the marks differ from those of any field that has one at the lower end.
func (t *table) alike(a, b int) bool {
	for _, c := range t.used {
		if t.marks[a][c] != t.marks[b][c] || t.worth[a][atLeast][c] != t.worth[b][atLeast][c] {
			return false
		}
	}
	return true
}

// places lists the fields in order. Those that cannot be told apart share a place.
func (t *table) places(rules Rules) []Ranked {
	out := make([]Ranked, len(t.order))
	for k, i := range t.order {
		f, rank := t.fields[i], k+1
		// Equals share the place of the first of them, and the next place is counted past all of them.
		if k > 0 && t.alike(i, t.order[k-1]) {
			rank = out[k-1].Rank
		}
		out[k] = Ranked{Field: f, Rank: rank, Best: rank, Worst: rank, Score: t.score[i], Marks: t.marks[i]}
		if lacks := t.lacks(f); len(lacks) > 0 {
			out[k].Best, out[k].Worst = t.bounds(i, rank, lacks)
		}
		out[k].Verdict, out[k].Why = rules.judge(f, t.lacks(f))
	}
	return out
}

// lacks lists what is missing of a field among the criteria that count.
func (t *table) lacks(f *Field) []Criterion {
	return slices.DeleteFunc(f.Lacks(), func(c Criterion) bool { return t.shares[c] == 0 })
}

// bounds returns the places of a field whose missing marks are all 1, or all 0, among the others as they stand.
func (t *table) bounds(i, rank int, lacks []Criterion) (best, worst int) {
	// Copies: marks are arrays, so that what is tried here stays here.
	most, least := t.marks[i], t.marks[i]
	for _, c := range lacks {
		most[c], least[c] = 1, 0
	}
	ahead := func(score float64) int { // how many fields have a higher score, the field itself among them
		return sort.Search(len(t.order), func(k int) bool { return t.score[t.order[k]] <= score })
	}
	// counted among the others as they stand, though those may lack something too; never worse than where it is ranked
	best = min(ahead(t.sum(most))+1, rank)
	low := t.sum(least)
	worst = sort.Search(len(t.order), func(k int) bool { return t.score[t.order[k]] < low }) // fields as good or better; itself is one of them
	return best, max(worst, rank)
}
