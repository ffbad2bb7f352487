package ranking

import (
	"context"
	"slices"
	"testing"
)

// One reason a case, on a field that else would be taken; limits from both sides.
func TestVerdicts(t *testing.T) {
	good := func(change func(*Field)) *Field {
		f := &Field{ID: "F"}
		f.Measures = [Count]Measure{Exactly(2e5), Exactly(0.2), Exactly(400), Exactly(0.9), Exactly(0.1)}
		change(f)
		return f
	}
	for name, tc := range map[string]struct {
		f    *Field
		want Verdict
		why  string
	}{
		"all well":                  {good(func(f *Field) {}), Take, WhyEnough},
		"chance at the limit":       {good(func(f *Field) { f.Measures[Sure] = Exactly(0.8) }), Take, WhyEnough},
		"chance in doubt":           {good(func(f *Field) { f.Measures[Sure] = Exactly(0.79) }), VisitFirst, WhyDoubt},
		"chance low":                {good(func(f *Field) { f.Measures[Sure] = Exactly(0.29) }), Leave, WhyTooLittle},
		"not under the limit":       {good(func(f *Field) { f.Measures[Sure] = Exactly(0.3) }), VisitFirst, WhyDoubt},
		"low, but much not known":   {good(func(f *Field) { f.Measures[Sure] = Exactly(0.29); f.Facts.Unknown = 0.4 }), VisitFirst, WhyUnknown},
		"enough of what is known":   {good(func(f *Field) { f.Facts.Unknown = 0.6 }), Take, WhyEnough},
		"hinges":                    {good(func(f *Field) { f.Facts.Hinges, f.Facts.LowConfidence = 0.3, 0.6 }), VisitFirst, WhyHinges},
		"unsure survey":             {good(func(f *Field) { f.Facts.LowConfidence = 0.6 }), VisitFirst, WhyConfidence},
		"may prove worse":           {good(func(f *Field) { f.Measures[Risk] = Exactly(0.3) }), VisitFirst, WhyRisk},
		"a garden":                  {good(func(f *Field) { f.Measures[Suited] = Between(0, 2000, 4000) }), Leave, WhySmall},
		"a patch of a wide unknown": {good(func(f *Field) { f.Measures[Suited], f.Measures[Sure], f.Facts.Unknown = Exactly(2000), Exactly(0), 0.9 }), VisitFirst, WhyUnknown},
		"loses at the best":         {good(func(f *Field) { f.Facts.Value = Between(-9, -5, -1) }), Leave, WhyLoss},
		"loses likely":              {good(func(f *Field) { f.Facts.Value = Between(-9, -5, 1) }), VisitFirst, WhyMayLose},
		"no day":                    {good(func(f *Field) { f.Measures[Ready] = Measure{} }), VisitFirst, WhyMissing},
		"no chance known is no low": {good(func(f *Field) { f.Measures[Sure] = Measure{} }), VisitFirst, WhyMissing},
	} {
		got, why := ProposedRules().judge(tc.f, tc.f.Lacks())
		if got != tc.want || why[0].Code != tc.why {
			t.Errorf("%s: %s because of %v, want %s because of %s", name, got, why, tc.want, tc.why)
		}
	}
}

// A field whose chance nobody knows is not taken, even by a user who gives that chance no weight; what is lacking is told, in order.
func TestNoFieldIsTakenWithoutAChance(t *testing.T) {
	for name, tc := range map[string]struct {
		measures [Count]Measure
		lacks    []Criterion
	}{
		"all else known": {[Count]Measure{Suited: Exactly(2e5), Cost: Exactly(0.2), Ready: Exactly(400), Risk: Exactly(0.1)}, []Criterion{Sure}},
		"no risk known":  {[Count]Measure{Suited: Exactly(2e5), Cost: Exactly(0.2), Ready: Exactly(400)}, []Criterion{Sure, Risk}},
	} {
		r, err := Rank(context.Background(), []Field{{ID: "F", Measures: tc.measures}}, Options{Weights: Weights{Suited: 1, Risk: 1}})
		if err != nil {
			t.Fatal(err)
		}
		f := r.Fields[0]
		if f.Verdict != VisitFirst || len(f.Why) != 1 || f.Why[0].Code != WhyMissing || !slices.Equal(f.Why[0].Lacks, tc.lacks) {
			t.Errorf("%s: %s because of %+v", name, f.Verdict, f.Why)
		}
		// an unweighted criterion cannot move a field from its place
		if !slices.Contains(tc.lacks, Risk) && (f.Best != 1 || f.Worst != 1) {
			t.Errorf("%s: places %d to %d", name, f.Best, f.Worst)
		}
	}
}

// Every limit has a name and a meaning, and what a rule is reached by is the rule's own number.
func TestLimitsAreTold(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range ProposedRules().Limits() {
		if l.Name == "" || l.What == "" || l.Status == "" || !(l.Value > 0) || seen[l.Name] {
			t.Errorf("limit %+v", l)
		}
		seen[l.Name] = true
	}
}
