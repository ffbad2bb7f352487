package limeplan

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// limeLine is a line of the record; an empty unit makes it one without an amount.
func limeLine(t testing.TB, line int, day string, amount float64, of string) stand.Record {
	d, err := time.Parse(time.DateOnly, day)
	if err != nil {
		t.Fatal(err)
	}
	r := stand.Record{Field: "A", Day: d, Kind: stand.Lime, Line: line}
	if of != "" {
		r.Value, r.Unit = unit.Some(amount), of
	}
	return r
}

// Passes of lime lie a year apart and ask 2 short tons an acre each, of a product of 50 % ECCE. Sums and days by hand: a pass is spread when
// what is on record reaches it within a tenth, and one spreading is one pass. Source: common practice, no source.
func TestLimeOnRecord(t *testing.T) {
	ton := unit.ShortTonsPerAcre(1)
	asked := Asked{Passes: []unit.AreaRate{2 * ton, 2 * ton}, Product: lime.Product{ECCE: 50}}
	tested := asked
	tested.Seen = time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	sold := asked
	sold.AsSold = true
	at := func(day string, amount float64, of string) stand.Record { return limeLine(t, 0, day, amount, of) }
	unread := at("2026-04-02", 0, "")
	unread.Unread = true
	sown := stand.Record{Field: "A", Day: time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC), Kind: stand.Sown}
	for name, c := range map[string]struct {
		asked Asked
		lines []stand.Record
		days  [2]string  // on which the passes are complete
		left  [2]float64 // short tons an acre
		notes []string
	}{
		"nothing":                {asked, nil, [2]string{}, [2]float64{2, 2}, nil},
		"a hundredth of it":      {asked, []stand.Record{at("2026-04-02", 0.02, "ton_ac")}, [2]string{}, [2]float64{1.98, 2}, nil},
		"all of it":              {asked, []stand.Record{at("2026-04-02", 2, "ton_ac")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, nil},
		"within a tenth":         {asked, []stand.Record{at("2026-04-02", 1.8, "ton_ac")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, nil},
		"just short":             {asked, []stand.Record{at("2026-04-02", 1.79, "ton_ac")}, [2]string{}, [2]float64{0.21, 2}, nil},
		"in tonnes a hectare":    {asked, []stand.Record{at("2026-04-02", 4.5, "t_ha")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, nil},     // 4.483 t/ha are 2 short tons
		"as pure lime":           {asked, []stand.Record{at("2026-04-02", 1, "ton_ac_cce")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, nil}, // half of the product works
		"both":                   {asked, []stand.Record{at("2026-04-02", 0.5, "ton_ac_cce"), at("2026-04-09", 1, "ton_ac")}, [2]string{"2026-04-09"}, [2]float64{0, 2}, nil},
		"pure lime, rate sold":   {sold, []stand.Record{at("2026-04-02", 1, "ton_ac_cce")}, [2]string{}, [2]float64{2, 2}, []string{SpreadNotPure}},
		"the rest later":         {asked, []stand.Record{at("2026-04-02", 1.2, "ton_ac"), at("2026-09-02", 0.8, "ton_ac")}, [2]string{"2026-09-02"}, [2]float64{0, 2}, nil},
		"two loads of it":        {asked, []stand.Record{at("2026-04-02", 1, "ton_ac"), at("2026-04-20", 1, "ton_ac")}, [2]string{"2026-04-20"}, [2]float64{0, 2}, nil},
		"two passes":             {asked, []stand.Record{at("2026-04-02", 2, "ton_ac"), at("2027-04-02", 2, "ton_ac")}, [2]string{"2026-04-02", "2027-04-02"}, [2]float64{}, nil},
		"one short, the other":   {asked, []stand.Record{at("2026-04-02", 1.5, "ton_ac"), at("2027-04-02", 2, "ton_ac")}, [2]string{"2027-04-02"}, [2]float64{0, 0.5}, nil},
		"all at once":            {asked, []stand.Record{at("2026-04-02", 4, "ton_ac")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, []string{SpreadMore}},
		"too much at last":       {asked, []stand.Record{at("2026-04-02", 2, "ton_ac"), at("2027-04-02", 3, "ton_ac")}, [2]string{"2026-04-02", "2027-04-02"}, [2]float64{}, []string{SpreadOver}},
		"on two days of a month": {asked, []stand.Record{at("2026-04-02", 2, "ton_ac"), at("2026-04-20", 2, "ton_ac")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, []string{SpreadMore}},
		"written twice":          {asked, []stand.Record{at("2026-04-02", 1, "ton_ac"), limeLine(t, 7, "2026-04-02", 1, "ton_ac")}, [2]string{}, [2]float64{1, 2}, []string{SpreadTwice}},
		"beyond": {asked, []stand.Record{at("2025-04-02", 2, "ton_ac"), at("2026-04-02", 2, "ton_ac"), at("2026-08-02", 1, "ton_ac")},
			[2]string{"2025-04-02", "2026-04-02"}, [2]float64{}, []string{SpreadBeyond}},
		"no amount":             {asked, []stand.Record{at("2026-04-02", 0, "")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, []string{SpreadNoAmount}},
		"no amount, once more":  {asked, []stand.Record{at("2026-04-02", 0, ""), at("2026-04-20", 0, "")}, [2]string{"2026-04-02"}, [2]float64{0, 2}, []string{SpreadNoAmount}},
		"no amount beside some": {asked, []stand.Record{at("2026-04-02", 1, "ton_ac"), at("2026-04-03", 0, "")}, [2]string{}, [2]float64{1, 2}, []string{SpreadBeside}},
		"not to be read":        {asked, []stand.Record{unread}, [2]string{}, [2]float64{2, 2}, []string{SpreadUnread}},
		"before the test":       {tested, []stand.Record{at("2025-04-02", 2, "ton_ac"), at("2026-02-28", 2, "ton_ac"), at("2026-03-01", 2, "ton_ac")}, [2]string{"2026-03-01"}, [2]float64{0, 2}, []string{SpreadSeen}},
		"onto the stand":        {asked, []stand.Record{sown, at("2027-04-02", 2, "ton_ac")}, [2]string{}, [2]float64{2, 2}, nil},
	} {
		got := c.asked.OnRecord(c.lines)
		var notes []string
		for _, n := range got.Notes {
			notes = append(notes, n.Code)
		}
		if !slices.Equal(notes, c.notes) {
			t.Errorf("%s: notes %v, want %v", name, notes, c.notes)
		}
		for i, p := range got.Passes {
			day := ""
			if p.Complete() {
				day = p.Day.Format(time.DateOnly)
			}
			if day != c.days[i] || math.Abs(p.Left().ShortTonsPerAcre()-c.left[i]) > 1e-9 {
				t.Errorf("%s: pass %d complete on %q with %.4f left, want %q and %g", name, i+1, day, p.Left().ShortTonsPerAcre(), c.days[i], c.left[i])
			}
		}
	}
}

// A run that does not say how much a pass asks has its passes counted by their days.
func TestLimeOnRecordWithoutRates(t *testing.T) {
	a := AskedOf(&suitability.Result{}, &suitability.Zone{Lime: suitability.Lime{Passes: 2}})
	s := a.OnRecord([]stand.Record{limeLine(t, 0, "2026-04-02", 1, "ton_ac"), limeLine(t, 0, "2027-04-02", 3, "ton_ac")})
	if !s.Passes[0].Complete() || !s.Passes[1].Complete() || !s.Passes[1].Told || len(s.Notes) > 0 {
		t.Errorf("%+v", s)
	}
	if a := AskedOf(&suitability.Result{}, &suitability.Zone{}); len(a.OnRecord([]stand.Record{limeLine(t, 0, "2026-04-02", 1, "ton_ac")}).Passes) > 0 {
		t.Error("lime that no run asks")
	}
}

// The options of a run are those that the rates were made with; the last pass is what the cap has left of the product (6.2 at 2.5, as in the
// example of lime.Passes).
func TestAskedOf(t *testing.T) {
	r := &suitability.Result{Provenance: suitability.Provenance{Options: []suitability.Option{{Name: "lime-cap", Value: "2.5 short ton/ac"}, {Name: "lime-ecce", Value: "63"}, {Name: "lime-moisture", Value: "8"}}}}
	a := AskedOf(r, &suitability.Zone{Lime: suitability.Lime{Passes: 3, Product: unit.Some(unit.ShortTonsPerAcre(6.2))}})
	tested := suitability.Zone{}
	tested.Rating.Tested.Surface = &suitability.TestedPH{Newest: "2026-03-01"}
	if got := AskedOf(r, &tested).Seen; !got.Equal(time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)) || !a.Seen.IsZero() {
		t.Errorf("the test has seen what lay there before %v", got)
	}
	if a.Product != (lime.Product{ECCE: 63, Moisture: 8}) || len(a.Passes) != 3 || math.Abs(a.Passes[2].ShortTonsPerAcre()-1.2) > 1e-9 {
		t.Errorf("%+v", a)
	}
}

// Lime on record goes nowhere else: what passes have and what is told as too much add up to all of it, but for what a spreader's error
// hides. More lime never leaves more to spread nor takes a pass back, and no pass is complete before the one ahead of it.
func TestLimeOnRecordIsConserved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ton := unit.ShortTonsPerAcre(1)
		var a Asked
		for range rapid.IntRange(1, 4).Draw(t, "passes") {
			a.Passes = append(a.Passes, ton*unit.AreaRate(rapid.Float64Range(0.25, 3).Draw(t, "asked")))
		}
		var lines []stand.Record
		day, sum := time.Date(2026, 4, 2, 0, 0, 0, 0, time.UTC), unit.AreaRate(0)
		for i := range rapid.IntRange(0, 6).Draw(t, "lines") {
			day = day.AddDate(0, 0, rapid.IntRange(1, 200).Draw(t, "days"))
			r := stand.Record{Field: "A", Day: day, Kind: stand.Lime, Line: i + 2, Unit: "ton_ac", Value: unit.Some(rapid.Float64Range(0, 4).Draw(t, "amount"))}
			rate, _, _ := r.Spread()
			lines, sum = append(lines, r), sum+rate
		}
		left := func(s Spread) (all unit.AreaRate, complete int) {
			for i, p := range s.Passes {
				all += p.Left()
				if p.Complete() {
					complete++
				}
				if i > 0 && p.Complete() && p.Day.Before(s.Passes[i-1].Day) || p.Complete() && complete != i+1 {
					t.Fatalf("pass %d before the one ahead of it: %+v", i+1, s.Passes)
				}
			}
			return all, complete
		}
		s := a.OnRecord(lines)
		found := unit.AreaRate(0)
		for _, p := range s.Passes {
			found += p.Found
		}
		if found > sum*(1+1e-9) {
			t.Fatalf("%v found of %v on record", found, sum)
		}
		if len(s.Notes) == 0 {
			// without a note all of it is in the passes, but for what a spreading has over its pass within the error
			if lost := sum - found; float64(lost) > float64(SpreadError)*float64(3*ton)*float64(len(lines))*(1+1e-9) {
				t.Fatalf("%v on record, %v in the passes, and nothing said: %+v", sum, found, s)
			}
		}
		before, complete := left(s)
		if len(lines) == 0 {
			return
		}
		less, fewer := left(a.OnRecord(lines[:len(lines)-1]))
		if before > less*(1+1e-9) || complete < fewer {
			t.Fatalf("one load more: %v left and %d complete, before it %v and %d", before, complete, less, fewer)
		}
	})
}
