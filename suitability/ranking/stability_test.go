package ranking

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

// The chances of all fields to be among the top k add up to k, whatever moves; so do places to their sum.
func TestPlacesAddUp(t *testing.T) {
	for _, top := range []int{1, 5, 40} {
		r, err := Rank(context.Background(), madeFields(40, 3), Options{Top: top, Draws: 250})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, f := range r.Fields {
			sum += f.InTop
			if f.P10 > f.P90 || f.P10 < 1 || f.P90 > 40 {
				t.Errorf("%s: places %d to %d", f.ID, f.P10, f.P90)
			}
		}
		if math.Abs(sum-float64(top)) > 1e-9 {
			t.Errorf("top %d: chances add up to %v", top, sum)
		}
	}
}

// Every rank of every draw: each place is taken once, so the chances of a field's places add up to 1.
func TestEveryDrawIsAnOrder(t *testing.T) {
	fields := madeFields(30, 4)
	known := make([]*Field, len(fields))
	for i := range fields {
		known[i] = &fields[i]
	}
	x := newTable(known, Proposal().Shares(), Scales(ByLime))
	const draws = 50
	ranks := make([]int32, 30*draws)
	if _, err := newShuffle(x, x.places(ProposedRules()), 1).run(context.Background(), draws, moveWeights|moveInputs, ranks); err != nil {
		t.Fatal(err)
	}
	for d := range draws {
		seen := [31]bool{}
		for k := range 30 {
			seen[ranks[k*draws+d]] = true
		}
		for place := 1; place <= 30; place++ {
			if !seen[place] {
				t.Fatalf("draw %d: nobody in place %d", d, place)
			}
		}
	}
}

// The seed decides all of the draws, and does decide them.
func TestSameSeedSameAnswer(t *testing.T) {
	rank := func(seed uint64) *Ranking {
		r, err := Rank(context.Background(), madeFields(50, 5), Options{Seed: seed, Draws: 100})
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if !reflect.DeepEqual(rank(1), rank(1)) {
		t.Error("one seed, two answers")
	}
	if reflect.DeepEqual(rank(1), rank(2)) {
		t.Error("two seeds, one answer: nothing is drawn")
	}
}

// A field that beats all others stays first however the weights move, and one without ranges moves by the weights alone.
func TestWhatMoves(t *testing.T) {
	fields := madeFields(30, 6)
	for i := range fields {
		for _, c := range Criteria() {
			fields[i].Measures[c] = Exactly(fields[i].Measures[c].Likely)
		}
	}
	fields[0].Measures = [Count]Measure{Exactly(1e9), Exactly(0), Exactly(0), Exactly(1), Exactly(0)}
	r, err := Rank(context.Background(), fields, Options{Top: 1})
	if err != nil {
		t.Fatal(err)
	}
	first := r.Fields[0]
	if first.ID != "F00000" || first.P10 != 1 || first.P90 != 1 || first.InTop != 1 || first.Overtaken != 0 || !first.StaysInTop() {
		t.Errorf("the best on every count: %+v", first)
	}
	if r.Swaps.InputsAlone != 0 || !(r.Swaps.WeightsAlone > 0) || !(r.Swaps.Both > 0) {
		t.Errorf("swaps %+v: inputs have no range here, weights move", r.Swaps)
	}
}

// Pairs that stand the other way round, against looking at all pairs.
func TestInversionsAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 40 {
		seq, want := make([]int32, n), int64(0)
		for i := range seq {
			seq[i] = int32(r.IntN(12))
			for _, before := range seq[:i] {
				if before > seq[i] {
					want++
				}
			}
		}
		if got := inversions(seq, make([]int32, n)); got != want {
			t.Errorf("%d numbers: %d inversions, want %d", n, got, want)
		}
	}
}

// Source: textbook, triangular distribution: mean (a+b+c)/3, variance (a²+b²+c²−ab−ac−bc)/18, median of 0, 0, 1 is 1−√½.
func TestTriangleAgainstClosedForms(t *testing.T) {
	m := Between(2, 3, 7)
	const n = 200000
	sum, squares := 0.0, 0.0
	for i := range n {
		x := triangle((float64(i)+0.5)/n, m)
		sum, squares = sum+x, squares+x*x
	}
	mean := sum / n
	if math.Abs(mean-4) > 1e-4 || math.Abs(squares/n-mean*mean-(4+9+49-6-14-21)/18.0) > 1e-3 {
		t.Errorf("mean %v, variance %v; want 4 and %v", mean, squares/n-mean*mean, 21/18.0)
	}
	if got := triangle(0.5, Between(0, 0, 1)); math.Abs(got-(1-math.Sqrt(0.5))) > 1e-12 {
		t.Errorf("median %v, want %v", got, 1-math.Sqrt(0.5))
	}
	if got := triangle(0.3, Exactly(5)); got != 5 {
		t.Errorf("no range: %v, want 5", got)
	}
}

// Weights of every draw add up to 1, and a criterion that does not count stays out.
func TestDrawnWeightsAddUp(t *testing.T) {
	x := newTable(nil, Weights{Suited: 3, Sure: 1}.Shares(), Scales(ByLime))
	r, mean := randOfWeights(1), Weights{}
	const n = 20000
	for range n {
		w, sum := x.drawWeights(r), 0.0
		for _, c := range Criteria() {
			sum += w[c]
			mean[c] += w[c] / n
		}
		if math.Abs(sum-1) > 1e-12 || w[Cost] != 0 {
			t.Fatalf("weights %v", w)
		}
	}
	if math.Abs(mean[Suited]-0.625) > 0.005 { // half of 3/4 and half of 1/2
		t.Errorf("mean weight of suited %v, want 0.625", mean[Suited])
	}
}

// Places of a hundred draws, 1 to 100: 8 draws of 10 lie between the 10th and the 90th.
func TestPlacesInEightDrawsOfTen(t *testing.T) {
	ranks := make([]int32, 100)
	for i := range ranks {
		ranks[i] = int32(100 - i)
	}
	var r Ranked
	r.count(ranks, 25)
	r.spread(ranks)
	if r.InTop != 0.25 || r.P10 != 10 || r.P90 != 90 {
		t.Errorf("in the top 25 %v, places %d to %d; want 0.25, 10 to 90", r.InTop, r.P10, r.P90)
	}
	one := []int32{7}
	if r.spread(one); r.P10 != 7 || r.P90 != 7 {
		t.Errorf("one draw: %d to %d", r.P10, r.P90)
	}
}

// Fields that share a place are no pair that a draw could turn round: neither comes before the other. Three alike leave no pair, and a better
// one before them three, which never turn where it beats them on every count.
func TestSharedPlacesAreNoPairs(t *testing.T) {
	alike := Field{Area: 1e6, Measures: [Count]Measure{Between(5e4, 1e5, 2e5), Between(0, 1, 2), Between(0, 100, 400), Exactly(0.9), Exactly(0.1)}}
	var fields []Field
	for _, id := range []string{"A", "B", "C"} {
		f := alike
		f.ID = id
		fields = append(fields, f)
	}
	r, err := Rank(context.Background(), fields, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Fields[2].Rank != 1 || r.Swaps != (Swaps{}) {
		t.Errorf("three alike: ranks to %d, swaps %+v", r.Fields[2].Rank, r.Swaps)
	}
	best := alike
	best.ID, best.Measures = "D", [Count]Measure{Exactly(1e6), Exactly(0), Exactly(0), Exactly(1), Exactly(0)}
	if r, err = Rank(context.Background(), append(fields, best), Options{}); err != nil {
		t.Fatal(err)
	}
	if want := (Swaps{Pairs: 3}); r.Swaps != want {
		t.Errorf("a better one before three alike: swaps %+v, want %+v", r.Swaps, want)
	}
}
