package ranking

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The published example of the weighted sum: three choices, four criteria with weights 0.20, 0.15, 0.40 and 0.25.
//
// Source: Triantaphyllou 2000, Multi-Criteria Decision Making Methods: A Comparative Study (numbers read in an encyclopedia's article on the
// weighted sum model, which cites it): 21.50, 22.00, 22.00.
func TestWeightedSumAsPublished(t *testing.T) {
	w := Weights{0.20, 0.15, 0.40, 0.25, 0}
	x := &table{shares: w.Shares(), used: []Criterion{0, 1, 2, 3}}
	for _, tc := range []struct {
		name  string
		marks [Count]float64 // hundredths of those printed
		want  float64
	}{
		{"A1", [Count]float64{0.25, 0.20, 0.15, 0.30}, 21.50},
		{"A2", [Count]float64{0.10, 0.30, 0.20, 0.30}, 22.00},
		{"A3", [Count]float64{0.30, 0.10, 0.30, 0.10}, 22.00},
	} {
		if got := 100 * x.sum(tc.marks); math.Abs(got-tc.want) > 0.5e-2 {
			t.Errorf("%s: score %v, want %v", tc.name, got, tc.want)
		}
	}
}

// Whoever lists the fields in another order gets the same ranking, draws included.
func TestInputOrderChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields, w := drawnFields(t, 12), drawnWeights(t)
		want := ranked(t, fields, w)
		mixed := rapid.Permutation(fields).Draw(t, "mixed")
		got := ranked(t, mixed, w)
		for k := range want.Fields {
			a, b := want.Fields[k], got.Fields[k]
			if a.ID != b.ID || a.Score != b.Score || a.Layer != b.Layer || a.P10 != b.P10 || a.P90 != b.P90 || !slices.Equal(a.BeatenBy, b.BeatenBy) {
				t.Fatalf("place %d: %+v, mixed %+v", k+1, a, b)
			}
		}
	})
}

// No rank reversal: two fields keep their order whatever else is ranked.
func TestAnotherFieldTurnsNobodyRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields, w := drawnFields(t, 12), drawnWeights(t)
		all := order(ranked(t, fields, w))
		without := order(ranked(t, fields[:len(fields)-1], w))
		all = slices.DeleteFunc(all, func(id string) bool { return id == fields[len(fields)-1].ID })
		if !slices.Equal(all, without) {
			t.Fatalf("with the last field %v, without it %v", all, without)
		}
	})
}

// A field that improves on one count never loses a place.
func TestImprovingNeverLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields, w := drawnFields(t, 12), drawnWeights(t)
		i, c := rapid.IntRange(0, len(fields)-1).Draw(t, "which"), Criteria()[rapid.IntRange(0, int(Count)-1).Draw(t, "by")]
		if fields[i].Measures[c].State != Known {
			t.Skip("nothing to improve")
		}
		before := slices.Index(order(ranked(t, fields, w)), fields[i].ID)
		x, better := fields[i].Measures[c].Likely, rapid.Float64Range(0, 1).Draw(t, "by how much")
		if Scales(ByLime)[c].More {
			x += better
		} else {
			x = max(x-better, 0)
		}
		fields[i].Measures[c] = Exactly(x)
		if after := slices.Index(order(ranked(t, fields, w)), fields[i].ID); after > before {
			t.Fatalf("%s improved on %s and fell from place %d to %d", fields[i].ID, c, before+1, after+1)
		}
	})
}

// plainlyBeats is dominance by its definition, from the measures themselves.
func plainlyBeats(a, b *Field, w Weights, scales [Count]Scale) bool {
	better := false
	for _, c := range Criteria() {
		x, y := a.Measures[c], b.Measures[c]
		switch {
		case w[c] == 0 || y.State == Hopeless && x.State != Known:
		case y.State == Hopeless:
			better = true
		case x.State != Known || y.State != Known || x.Likely != y.Likely && x.Likely > y.Likely != scales[c].More:
			return false
		default:
			better = better || x.Likely != y.Likely
		}
	}
	return better
}

// Layers and who beats whom, against looking at all pairs.
func TestDominanceAgainstAllPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields, w := drawnFields(t, 25), drawnWeights(t)
		r := ranked(t, fields, w)
		all := make([]*Field, len(r.Fields))
		for k := range r.Fields {
			all[k] = r.Fields[k].Field
		}
		beats := func(a, b int) bool { return plainlyBeats(all[a], all[b], w, r.Scales) }
		layer := make([]int, len(all))
		for changed := true; changed; { // the longest chain of who beats whom, by going round until nothing moves
			changed = false
			for b := range all {
				for a := range all {
					if beats(a, b) && layer[b] < layer[a]+1 {
						layer[b], changed = layer[a]+1, true
					}
				}
			}
		}
		for b := range all {
			if r.Fields[b].Layer != layer[b]+1 {
				t.Fatalf("%s: layer %d, all pairs say %d", all[b].ID, r.Fields[b].Layer, layer[b]+1)
			}
			var beaten []int
			for a := range all {
				if beats(a, b) && a > b {
					t.Fatalf("%s in place %d is beaten by %s in place %d", all[b].ID, b+1, all[a].ID, a+1)
				}
				if beats(a, b) && layer[a] == 0 {
					beaten = append(beaten, a)
				}
			}
			if !slices.Equal(r.Fields[b].BeatenBy, beaten[:min(len(beaten), mostNamed)]) {
				t.Fatalf("%s: beaten by %v, all pairs say %v", all[b].ID, r.Fields[b].BeatenBy, beaten)
			}
		}
	})
}

// Whatever a missing value turns out to be, the field stays between the two places told.
func TestMissingStaysWithinItsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fields, w := drawnFields(t, 12), drawnWeights(t)
		i := rapid.IntRange(0, len(fields)-1).Draw(t, "which")
		fields[i].Measures[Suited], fields[i].Measures[Cost] = Measure{}, Exactly(0)
		r := ranked(t, fields, w)
		k := slices.Index(order(r), fields[i].ID)
		best, worst := r.Fields[k].Best, r.Fields[k].Worst
		for _, x := range []Measure{Exactly(0), Without(), Exactly(1e3), Exactly(1e5), Exactly(1e12)} {
			fields[i].Measures[Suited] = x
			for _, c := range fields[i].Lacks() {
				fields[i].Measures[c] = x
			}
			if place := slices.Index(order(ranked(t, fields, w)), fields[i].ID) + 1; place < best || place > worst {
				t.Fatalf("with %v the field is in place %d, told to be between %d and %d", x, place, best, worst)
			}
		}
	})
}

// Fields without an answer are listed beside the ranking, by name, and not at its end.
func TestNothingKnownHasNoPlace(t *testing.T) {
	fields := append(madeFields(3, 1), Field{Run: "made", ID: "pond"}, Field{Run: "made", ID: "far", Facts: Facts{Trouble: "outside the survey"}})
	r := ranked(t, fields, Proposal())
	if len(r.Fields) != 3 || len(r.Unanswered) != 2 || r.Unanswered[0].ID != "far" {
		t.Errorf("%d ranked, %d without an answer, want 3 and 2", len(r.Fields), len(r.Unanswered))
	}
	if r, err := Rank(context.Background(), nil, Options{}); err != nil || len(r.Fields) != 0 {
		t.Errorf("no fields: %v, %v", r, err)
	}
}

// Two of one name could not be told apart in any output.
func TestTwoOfOneName(t *testing.T) {
	fields := madeFields(2, 1)
	fields[1].ID = fields[0].ID
	if _, err := Rank(context.Background(), fields, Options{}); err == nil || !strings.Contains(err.Error(), "F00000") {
		t.Errorf("err = %v, want one that names the field", err)
	}
}

// The cause comes back, not a ranking of some of the draws.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Rank(ctx, madeFields(5, 1), Options{}); err != context.Canceled {
		t.Errorf("err = %v, want %v", err, context.Canceled)
	}
}

// Fields that nothing tells apart share a place, in the order and in every draw.
func TestEqualsShareAPlace(t *testing.T) {
	fields := madeFields(2, 9)
	for _, id := range []string{"x", "y", "z"} {
		fields = append(fields, Field{Run: "made", ID: id, Measures: [Count]Measure{Exactly(0), Without(), Without(), Exactly(0), Without()}})
	}
	r := ranked(t, fields, Proposal())
	for k, want := range []int{1, 2, 3, 3, 3} {
		if f := r.Fields[k]; f.Rank != want || f.Best != want || f.Worst != want || k > 1 && (f.P10 != 3 || f.P90 != 3) {
			t.Errorf("%s: place %d, %d to %d, drawn %d to %d; want %d", f.ID, f.Rank, f.Best, f.Worst, f.P10, f.P90, want)
		}
	}
}
