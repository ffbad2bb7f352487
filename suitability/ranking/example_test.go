package ranking_test

import (
	"context"
	"fmt"

	"rootworthy/soils/unit"
	"rootworthy/suitability/ranking"
)

// Three fields by hand: the second is worse than the first on every count; of the third nobody knows its lime, so it
// beats nobody.
func Example() {
	field := func(id string, acres, sure, risk float64, cost ranking.Measure) ranking.Field {
		f := ranking.Field{Run: "hand", ID: id, Area: unit.Acres(60)}
		f.Measures = [ranking.Count]ranking.Measure{
			ranking.Suited: ranking.Exactly(float64(unit.Acres(acres))),
			ranking.Cost:   cost,
			ranking.Ready:  ranking.Exactly(365),
			ranking.Sure:   ranking.Exactly(sure),
			ranking.Risk:   ranking.Exactly(risk),
		}
		return f
	}
	tons := func(x float64) ranking.Measure { return ranking.Exactly(float64(unit.ShortTonsPerAcre(x))) }
	r, err := ranking.Rank(context.Background(), []ranking.Field{
		field("brook", 40, 0.9, 0.1, tons(2)),
		field("hill", 20, 0.6, 0.3, tons(3)),
		field("lane", 40, 0.9, 0.1, ranking.Measure{}),
	}, ranking.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range r.Fields {
		fmt.Printf("%d (%d to %d) %s: %.0f of 100, %s, beaten by %d\n", f.Rank, f.Best, f.Worst, f.ID, 100*f.Score, f.Verdict, len(f.BeatenBy))
	}
	// Output:
	// 1 (1 to 1) brook: 66 of 100, take, beaten by 0
	// 2 (1 to 2) lane: 66 of 100, visit first, beaten by 0
	// 3 (3 to 3) hill: 49 of 100, visit first, beaten by 1
}
