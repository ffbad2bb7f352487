package season

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// input is a limed zone of the coastal plain, planned on 1 March 2026.
func input(t testing.TB, passes int) Input {
	p := suitability.DefaultProfile()
	w, err := Region(p, "coastal-plain")
	if err != nil {
		t.Fatal(err)
	}
	return Input{Start: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), Window: w, Passes: passes,
		Wait: Rule{Name: AfterLime, Value: p.Lime.Wait.Value, Unit: "months", Source: p.Lime.Wait.Source, Status: p.Lime.Wait.Status}}
}

// steps prints "first due last" of each step, in order.
func steps(p Plan) map[string]string {
	out := map[string]string{}
	day := func(t time.Time) string {
		if t.IsZero() {
			return "-"
		}
		return Day(t)
	}
	for _, s := range p.Steps {
		out[s.Key()] = day(s.First) + " " + day(s.Due) + " " + day(s.Last)
	}
	return out
}

// A plan counted by hand on paper, coastal plain, window 15 October to 15 November (UGA: Wood; Colquitt County; Tucker; read). Two passes
// of lime a year apart and 12 months after the second; three weeks for a soil test (common practice, no source).
func TestPlanByHand(t *testing.T) {
	in := input(t, 2)
	in.Normals = &Normals{Freezes: []Freeze{{Day: suitability.MonthDay{Month: 11, Day: 20}, Threshold: unit.Fahrenheit(28), Chance: 50}}}
	p := Make(in)
	if got := p.Window.String(); got != "2028-10-15/2028-11-15" {
		t.Fatalf("window %s", got)
	}
	want := map[string]string{
		"sample":        "2026-03-01 2026-09-24 2026-10-25",
		"lime-1":        "2026-03-22 2026-10-15 2026-11-15",
		"lime-2":        "2027-03-22 2027-10-15 2027-11-15",
		"fertilize":     "2026-03-22 2028-07-15 -", // three months before sowing (Clemson, read)
		"retest":        "2028-08-20 2028-09-24 2028-10-25",
		"suppress":      "2028-10-01 2028-10-15 2028-11-15",
		"sow":           "2028-10-15 2028-11-15 2028-11-15",
		"crickets":      "2028-10-22 2028-12-27 -",
		"count-emerged": "2028-11-26 2028-12-27 -",
		"weevil":        "2029-02-01 2029-03-07 -", // February to early March: common practice, no source
		"count-spring":  "2029-03-15 2029-03-31 -",
		"first-cut":     "2029-04-10 2029-04-25 -", // from memory, not checked
		"tissue":        "2029-05-01 2029-05-23 -", // a week before the second cutting: common practice, no source
		"potash-1":      "2029-04-10 2029-05-09 -", // half after the first cutting (Clemson, read), within two weeks (common practice, no source)
		"potash-2":      "2029-06-05 2029-07-18 -", // half after the third, two cuttings of 28 to 35 days on
		"armyworm":      "2029-06-01 2029-08-31 -", // summer: common practice, no source
		"last-cut":      "2029-10-09 2029-10-23 -", // four to six weeks before frost: from memory, not checked
	}
	got := steps(p)
	for k, w := range want {
		if got[k] != w {
			t.Errorf("%s: %s, want %s", k, got[k], w)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d steps, want %d", len(got), len(want))
	}
	for _, s := range p.Steps {
		if hangs := !s.Last.IsZero(); hangs != (s.Next.String() == "2029-10-15/2029-11-15") {
			t.Errorf("%s: next window %s", s.Key(), s.Next)
		}
		if len(s.Rules) == 0 {
			t.Errorf("%s rests on nothing", s.Key())
		}
	}
}

// The window that a missed last day leads to is the one that a plan made a day later finds.
func TestAMissedDayLeadsToTheNextWindow(t *testing.T) {
	for passes := range 4 {
		p := Make(input(t, passes))
		for _, s := range p.Steps {
			if s.Code != Sample && s.Code != Sow { // the first step and the last: on the others only the user's word tells
				continue
			}
			in := input(t, passes)
			in.Start = s.Last.AddDate(0, 0, 1)
			if s.Code == Sow && passes > 0 {
				continue // a plan made anew limes anew
			}
			if got := Make(in).Window; got != s.Next {
				t.Errorf("%d passes, %s missed: %s, said %s", passes, s.Key(), got, s.Next)
			}
		}
	}
}

// What was done is kept, and the rest is counted from it.
func TestDone(t *testing.T) {
	in := input(t, 1)
	in.Start = day(t, "2027-06-01")
	in.Done = []Done{{Code: Lime, Pass: 1, Day: day(t, "2026-09-01")}}
	p := Make(in)
	if got := p.Window.String(); got != "2027-10-15/2027-11-15" {
		t.Errorf("limed in 2026: %s", got)
	}
	if slices.ContainsFunc(p.Steps, func(s Step) bool { return s.Code == Sample }) {
		t.Error("a sample before lime that is spread already")
	}
	in.Done = append(in.Done, Done{Code: Sow, Day: day(t, "2027-10-20")})
	p = Make(in)
	if got := steps(p)["crickets"]; got != "2027-10-27 2027-12-01 -" {
		t.Errorf("crickets after a sowing: %s", got)
	}
	if !p.Steps[0].Done || p.Steps[0].Code != Lime {
		t.Errorf("first step %+v", p.Steps[0])
	}
}

// The rest of a pass that is begun is spread as soon as the laboratory has answered, not a year after the pass before it; the last pass has
// then worked a year later. Days by hand.
func TestRestOfAPassDoesNotWaitForAYear(t *testing.T) {
	in := input(t, 2)
	in.Start, in.Tested = day(t, "2027-04-01"), true
	in.Done = []Done{{Code: Lime, Pass: 1, Day: day(t, "2026-12-01")}}
	for begun, want := range map[int]struct{ first, window string }{
		0: {"2027-12-01", "2029-10-15/2029-11-15"}, // a year after the first, and a year until it has worked
		2: {"2027-04-01", "2028-10-15/2028-11-15"},
	} {
		in.Begun = begun
		p := Make(in)
		i := slices.IndexFunc(p.Steps, func(s Step) bool { return s.Code == Lime && s.Pass == 2 })
		if s := p.Steps[i]; Day(s.First) != want.first || s.Begun != (begun == 2) || s.Key() != "lime-2" || p.Window.String() != want.window {
			t.Errorf("begun %d: %+v, window %s", begun, s, p.Window)
		}
	}
	in.Tested, in.Begun, in.Passes, in.Done = false, 1, 1, nil
	p := Make(in)
	if p.Steps[0].Code != Sample || !p.Steps[1].Begun || Day(p.Steps[1].First) != "2027-04-22" {
		t.Errorf("the rest of a budget waits for the soil test: %+v", p.Steps[:2])
	}
}

// In a region without planning days and without normals, steps say what they wait for; one day from the user settles those of the spring.
func TestUndatedSteps(t *testing.T) {
	in := input(t, 0)
	in.Window.Region = "elsewhere"
	for _, s := range Make(in).Steps {
		want := map[Code]string{FirstCut: NeedsFirstCut, Tissue: NeedsFirstCut, Potash: NeedsFirstCut, LastCut: NeedsFrost}[s.Code]
		if s.Needs != want || s.Dated() != (want == "") {
			t.Errorf("%s: needs %q, want %q", s.Key(), s.Needs, want)
		}
	}
	in.FirstCut = unit.Some(suitability.MonthDay{Month: 4, Day: 20})
	if got := steps(Make(in))["tissue"]; got != "2027-05-11 2027-05-18 -" {
		t.Errorf("tissue after a cutting on April 20: %s", got)
	}
}

// Whatever is drawn: days are in order, steps have keys of their own, a later start or a later pass never yields an earlier sowing.
func TestProperties(t *testing.T) {
	windows := append(slices.Clone(suitability.DefaultProfile().Windows),
		suitability.SowingWindow{Region: "turn", First: suitability.MonthDay{Month: 12, Day: 15}, Last: suitability.MonthDay{Month: 1, Day: 31}})
	rapid.Check(t, func(t *rapid.T) {
		in := Input{Window: rapid.SampledFrom(windows).Draw(t, "window"), Passes: rapid.IntRange(0, 5).Draw(t, "passes"),
			Tested: rapid.Bool().Draw(t, "tested"), Years: rapid.IntRange(0, 9).Draw(t, "years"), Wait: Rule{Name: AfterLime, Value: float64(rapid.IntRange(6, 24).Draw(t, "wait"))}}
		in.Start = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 1500).Draw(t, "start"))
		if in.Passes > 0 && rapid.Bool().Draw(t, "limed") {
			in.Done = []Done{{Code: Lime, Pass: 1, Day: in.Start.AddDate(0, 0, -rapid.IntRange(0, 700).Draw(t, "ago"))}}
		}
		p := Make(in)
		keys := map[string]bool{}
		for _, s := range p.All() {
			if keys[s.Key()] {
				t.Fatalf("%s twice", s.Key())
			}
			keys[s.Key()] = true
			if s.Done || !s.Dated() {
				continue
			}
			if s.First.Before(in.Start) || s.Due.Before(s.First) || !s.Last.IsZero() && s.Last.Before(s.Due) {
				t.Fatalf("%s: %s, %s, %s from %s", s.Key(), Day(s.First), Day(s.Due), Day(s.Last), Day(in.Start))
			}
			if s.Code == Lime && s.Pass == s.Passes && AddMonths(s.Last, int(in.Wait.Value)).After(p.Window.Last) {
				t.Fatalf("lime on %s has not worked by %s", Day(s.Last), Day(p.Window.Last))
			}
		}
		later := in
		later.Start = in.Start.AddDate(0, 0, rapid.IntRange(1, 800).Draw(t, "later"))
		if q := Make(later); q.Window.First.Before(p.Window.First) || q.Window.Last.Before(p.Window.Last) {
			t.Fatalf("from %s %s, later from %s %s", Day(in.Start), p.Window, Day(later.Start), q.Window)
		}
		if len(in.Done) > 0 {
			slow := in
			slow.Done = []Done{{Code: Lime, Pass: 1, Day: in.Done[0].Day.AddDate(0, 0, rapid.IntRange(1, 800).Draw(t, "slower"))}}
			if q := Make(slow); q.Window.First.Before(p.Window.First) {
				t.Fatalf("lime later, sowing earlier: %s, %s", p.Window, q.Window)
			}
		}
	})
}

// Every rule's name is used and listed; what has no source says why.
func TestRules(t *testing.T) {
	for _, r := range Rules() {
		if !slices.Contains(RuleNames(), r.Name) || (r.Status == suitability.Published) != (r.Source != "") {
			t.Errorf("%+v", r)
		}
	}
	for _, s := range Spans() {
		if !slices.Contains(RuleNames(), s.Rule) || (s.Status == suitability.Published) != (s.Source != "") {
			t.Errorf("%+v", s)
		}
	}
	if got := RuleByName("no such rule"); got != (Rule{}) {
		t.Errorf("%+v", got)
	}
}

// Without lime the soil test is due for phosphate and potash, by hand: sown from 15 October 2026, fed by 15 July, sampled three weeks
// before. Whoever comes too late for that feeds until the window opens, and samples in time for it.
func TestSampleInTimeForFertilizer(t *testing.T) {
	in := input(t, 0)
	got := steps(Make(in))
	if got["sample"] != "2026-03-01 2026-06-24 2026-10-25" || got["fertilize"] != "2026-03-22 2026-07-15 -" {
		t.Errorf("sample %s, fertilize %s", got["sample"], got["fertilize"])
	}
	in.Start = day(t, "2026-08-01")
	got = steps(Make(in))
	if got["sample"] != "2026-08-01 2026-09-24 2026-10-25" || got["fertilize"] != "2026-08-22 2026-10-15 -" {
		t.Errorf("late: sample %s, fertilize %s", got["sample"], got["fertilize"])
	}
}
