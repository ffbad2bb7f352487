package choice

import (
	"bytes"
	"context"
	"testing"
	"time"

	"rootworthy/export/quillmoor"
	"rootworthy/export/report"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/season"
	"rootworthy/suitability/uncertainty"
)

// choose ranks runs as the command does, counted to a sowing window or, with prices, in money.
func choose(t testing.TB, priced bool, runs ...Run) *Choice {
	t.Helper()
	c := &Choice{Runs: runs, Proposed: true, Program: "rootworthy test", Date: "2026-03-01", Region: "piedmont", Start: ranking.ByWindow}
	if priced {
		c.Basis, c.Currency, c.Prices = ranking.ByMoney, "USD", "prices.toml, here, March 1, 2026"
	}
	var fields []ranking.Field
	for _, r := range runs {
		window, err := season.Region(suitability.DefaultProfile(), c.Region)
		if err != nil {
			t.Fatal(err)
		}
		o := ranking.GatherOptions{Start: c.Start, Day: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), Window: window}
		for i := range r.Result.Fields {
			if priced {
				o.Money = append(o.Money, ranking.Money{Cost: ranking.Between(0.05, 0.06+0.01*float64(i), 0.2), Value: ranking.Between(-9000, 100-1000*float64(i), 9000)})
			}
		}
		study := uncertainty.Of(r.Result, uncertainty.Options{Enough: ranking.ProposedRules().Wanted()})
		fields = append(fields, ranking.Gather(r.Name, r.Result, study, o)...)
	}
	var err error
	if c.Ranking, err = ranking.Rank(context.Background(), fields, ranking.Options{Basis: c.Basis, Top: 2, Draws: 200}); err != nil {
		t.Fatal(err)
	}
	return c
}

// invented is the choice among the fields of the invented run.
func invented(t testing.TB) *Choice {
	return choose(t, false, Run{"quillmoor", quillmoor.Result()})
}

// every makes one field of every verdict and every reason, so that all words are read.
func every(t testing.TB) *Choice {
	t.Helper()
	c := choose(t, true, Run{"quillmoor", quillmoor.Result()})
	known := *c.Ranking.Fields[0].Field
	var fields []ranking.Field
	add := func(id string, change func(*ranking.Field)) {
		f := known
		f.ID, f.Name = id, ""
		f.Measures[ranking.Sure], f.Measures[ranking.Risk] = ranking.Exactly(0.9), ranking.Exactly(0.1)
		f.Facts.Value, f.Facts.Hinges, f.Facts.LowConfidence, f.Facts.Unknown, f.Facts.ChanceOff = ranking.Measure{}, 0, 0, 0, 0.02
		change(&f)
		fields = append(fields, f)
	}
	add("enough", func(f *ranking.Field) {})
	add("little", func(f *ranking.Field) {
		f.Measures[ranking.Sure] = ranking.Exactly(0.1)
		f.Facts.Limits = suitability.Codes()
	})
	add("dry", func(f *ranking.Field) {
		f.Measures[ranking.Sure] = ranking.Exactly(0)
		f.Facts.Limits = []suitability.Code{suitability.Depth}
	})
	add("small", func(f *ranking.Field) { f.Measures[ranking.Suited] = ranking.Exactly(900) })
	add("loss", func(f *ranking.Field) { f.Facts.Value = ranking.Between(-3, -2, -1) })
	add("doubt", func(f *ranking.Field) {
		f.Measures[ranking.Sure], f.Measures[ranking.Risk] = ranking.Exactly(0.5), ranking.Exactly(0.4)
		f.Facts.Hinges, f.Facts.Unknown, f.Facts.LowConfidence, f.Facts.Value = 0.3, 0.4, 0.7, ranking.Between(-3, -2, 1)
		f.Facts.HingesOn = []suitability.Code{suitability.SubsoilPH}
	})
	add("unsure", func(f *ranking.Field) { f.Facts.LowConfidence = 1 })
	add("missing", func(f *ranking.Field) {
		f.Measures[ranking.Cost], f.Measures[ranking.Ready] = ranking.Measure{}, ranking.Measure{}
	})
	add("far", func(f *ranking.Field) { f.Facts.Trouble = "outside the survey" })
	var err error
	if c.Ranking, err = ranking.Rank(context.Background(), fields, ranking.Options{Basis: c.Basis, Top: 3, Draws: 200}); err != nil {
		t.Fatal(err)
	}
	return c
}

// documents are everything that people read.
func documents(c *Choice) map[string]*report.Document {
	out := map[string]*report.Document{"list": c.Document(), "letters": c.Letters(-1)}
	for k := range c.Fields() {
		out["letter of "+c.FieldAt(k).ID] = c.Letter(k)
	}
	return out
}

// pageOf is a document as a page with its script.
func pageOf(t testing.TB, d *report.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := WritePage(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
