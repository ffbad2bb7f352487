package ranking

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// drawnMeasure draws a measure of a criterion: mostly known, from few values so that equals come up.
func drawnMeasure(t *rapid.T, c Criterion) Measure {
	switch rapid.IntRange(0, 9).Draw(t, "state") {
	case 0:
		return Measure{}
	case 1:
		return Without()
	}
	x := float64(rapid.IntRange(0, 6).Draw(t, "value")) / 6
	if c < Sure {
		x *= 3 * Scales(ByLime)[c].Half
	}
	return Between(x*0.8, x, min(x*1.1, max(x, 1)))
}

// drawnFields draws fields of which something is known.
func drawnFields(t *rapid.T, most int) []Field {
	out := make([]Field, rapid.IntRange(2, most).Draw(t, "fields"))
	for i := range out {
		out[i] = Field{Run: "made", ID: fmt.Sprintf("F%02d", i)}
		for _, c := range Criteria() {
			out[i].Measures[c] = drawnMeasure(t, c)
		}
		if !out[i].answered() {
			out[i].Measures[Sure] = Exactly(0.5)
		}
	}
	return out
}

// drawnWeights draws weights, some of them 0.
func drawnWeights(t *rapid.T) Weights {
	w := Weights{Suited: 1}
	for _, c := range Criteria() {
		w[c] += float64(rapid.IntRange(0, 3).Draw(t, c.String()))
	}
	return w
}

// ranked ranks with few draws, which the order does not depend on.
func ranked(t interface {
	Helper()
	Fatal(...any)
}, fields []Field, w Weights) *Ranking {
	t.Helper()
	r, err := Rank(context.Background(), fields, Options{Weights: w, Draws: 3})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// order is the names of fields in their order.
func order(r *Ranking) []string {
	out := make([]string, len(r.Fields))
	for k := range r.Fields {
		out[k] = r.Fields[k].ID
	}
	return out
}

// madeFields makes many fields with ranges, none of them missing.
func madeFields(n int, seed uint64) []Field {
	r := rand.New(rand.NewPCG(seed, 7))
	out := make([]Field, n)
	for i := range out {
		out[i] = Field{Run: "made", ID: fmt.Sprintf("F%05d", i)}
		for _, c := range Criteria() {
			x := r.Float64()
			if c < Sure {
				x *= 3 * Scales(ByLime)[c].Half
			}
			out[i].Measures[c] = Between(x*0.7, x, min(x*1.3, max(x, 1)))
		}
	}
	return out
}

func BenchmarkRank10000(b *testing.B) {
	fields := madeFields(10000, 1)
	for b.Loop() {
		if _, err := Rank(context.Background(), fields, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDominanceNobodyBeaten is the worst case: what is won on one count is lost on another.
func BenchmarkDominanceNobodyBeaten(b *testing.B) {
	fields := madeFields(10000, 1)
	for i := range fields {
		x := float64(i) / 10000
		fields[i].Measures[Sure], fields[i].Measures[Risk] = Exactly(x), Exactly(x)
	}
	known := make([]*Field, len(fields))
	for i := range fields {
		known[i] = &fields[i]
	}
	for b.Loop() {
		t := newTable(known, Proposal().Shares(), Scales(ByLime))
		t.dominance(t.places(ProposedRules()))
	}
}

// BenchmarkDominance10000 is the usual case: most are beaten.
func BenchmarkDominance10000(b *testing.B) {
	fields := madeFields(10000, 1)
	known := make([]*Field, len(fields))
	for i := range fields {
		known[i] = &fields[i]
	}
	for b.Loop() {
		t := newTable(known, Proposal().Shares(), Scales(ByLime))
		t.dominance(t.places(ProposedRules()))
	}
}
