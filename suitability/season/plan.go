package season

import (
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Input is what a zone brings to its calendar.
type Input struct {
	Start    time.Time                      // today
	Window   suitability.SowingWindow       // of the region
	Passes   int                            // of lime, a year apart; 0 for none
	Begun    int                            // the pass of lime of which a part is spread, from 1; 0 for none
	Wait     Rule                           // months after the last pass
	Tested   bool                           // the lime rests on a laboratory's test, so no sample comes first
	Done     []Done                         // what was done already
	Normals  *Normals                       // of the place; nil means none
	Potash   PotashPlan                     // how a year's potash is parted; the zero value means in two, after the first and the third cutting
	Years    int                            // of production to be dated, at most [MostYears]; 0 means the first alone
	FirstCut unit.Opt[suitability.MonthDay] // of the spring after sowing; missing means the region's planning day
}

// Done is a step that was done on a day.
type Done struct {
	Code Code
	Pass int // of lime or potash, from 1
	Year int // of production from the second on, as of [Step]
	Day  time.Time
}

// Plan is the calendar of a zone.
type Plan struct {
	Window Window // the days in which to sow: what is open of the region's window
	Steps  []Step // up to the last cutting of the first year, by their days
	Rounds []Step // the years of production after it
	Notes  []string
}

// Notes of a plan, stable codes.
const (
	FrostInside  = "frost leaves time"      // six weeks before the usual hard frost lie in or after the window
	FrostShort   = "frost comes early"      // they end before the window does
	FrostMissing = "frost not known"        // no normals were given
	SoilAtSowing = "soil temperature known" // the normals tell of it
	WindowCut    = "window begun"           // only the rest of the window is left
)

// Notes lists them.
func Notes() []string {
	return []string{FrostInside, FrostShort, FrostMissing, SoilAtSowing, WindowCut}
}

// Make plans a zone from its first sample to the last cutting of its first year, and as many years after it as were asked for.
func Make(in Input) Plan {
	// forward first: the earliest sowing decides which window it is, and only then can days be counted back from it
	m := &maker{Input: in}
	m.Start = midnight(in.Start)
	m.forward()
	m.window = Earliest(in.Window, m.ready)
	sown := Step{Code: Sow, First: m.window.First, Due: m.window.Last, Last: m.window.Last, Rules: []Rule{windowRule(in.Window)}}
	if day, ok := m.done(Sow, 0); ok {
		m.window = Window{day, day}
		// a sowing on record outweighs every window: the rest is counted from the real day
		sown = finished(sown, day)
	}
	m.backward()
	// not by add: it is marked as done already where it is
	m.steps = append(m.steps, m.slips(sown))
	winter := m.watch()
	rounds := m.rounds(winter)
	return Plan{Window: m.window, Steps: m.steps, Rounds: rounds, Notes: m.notes()}
}

// maker is a plan in the making. forward fills known, passes and ready, from which window follows; the rest of the plan is read off them.
type maker struct {
	Input
	known  time.Time   // the laboratory has answered
	passes []time.Time // earliest day of each pass
	ready  time.Time   // from when sowing makes sense
	window Window
	steps  []Step
	year   int // of production that is being planned, from the second on
}

// done returns the day on which a step was done. pass is 0 for steps that are done once. Only the year that is being planned is looked
// at.
func (m *maker) done(c Code, pass int) (time.Time, bool) {
	for _, d := range m.Done {
		if d.Code == c && d.Pass == pass && d.Year == m.year {
			return midnight(d.Day), true
		}
	}
	return time.Time{}, false
}

// forward finds the earliest day of everything up to sowing. Each day is the latest of what it waits for, so a later start
// or a later step never makes anything earlier.
func (m *maker) forward() {
	_, lab := ruleDays(LabDays)
	// Nothing begins before today, whatever the record says of earlier years.
	m.known = m.Start
	if day, ok := m.done(Sample, 0); ok {
		m.known = later(m.Start, day.AddDate(0, 0, lab))
	} else if !m.Tested {
		// Lime by the survey is a budget: it waits for the laboratory. Lime by a test does not.
		m.known = m.Start.AddDate(0, 0, lab)
	}
	m.ready = m.known
	at := m.known
	for pass := 1; pass <= m.Passes; pass++ {
		day, ok := m.done(Lime, pass)
		if !ok {
			// a pass that is due already can still not be spread before today
			day = later(at, m.Start)
			if pass == m.Begun {
				// The rest of a pass belongs to the year in which it was begun: it waits for the laboratory, not for a year to go by.
				day = m.known
			}
		}
		m.passes = append(m.passes, day)
		// Passes on sod lie a year apart, so a first pass that slips moves all that follow.
		at = AddMonths(day, int(RuleByName(BetweenLime).Value))
	}
	// Ground that needs no lime needs no second test either: the first one has said so.
	if m.Passes == 0 {
		return
	}
	m.ready = later(m.Start, AddMonths(m.passes[m.Passes-1], int(m.Wait.Value)))
	// the laboratory's answer is waited for as well, from today at the earliest where the retest is not done
	test, ok := m.done(Retest, 0)
	if !ok {
		test = m.Start
	}
	m.ready = later(m.ready, test.AddDate(0, 0, lab))
}

// backward counts back from the first and from the last day of the window.
func (m *maker) backward() {
	labRule, lab := ruleDays(LabDays)
	due, last := m.window.First, m.window.Last
	limes := make([]Step, m.Passes)
	for i := m.Passes - 1; i >= 0; i-- {
		rule := RuleByName(BetweenLime)
		// the last pass must have worked by sowing; those before it only lie a year apart
		if i == m.Passes-1 {
			rule = m.Wait
		}
		// Counted back from both ends of the window: done by due it is sown at the first day, done by last just in time for the last.
		due, last = latest(due, int(rule.Value)), latest(last, int(rule.Value))
		limes[i] = Step{Code: Lime, Pass: i + 1, Passes: m.Passes, Begun: i+1 == m.Begun, First: m.passes[i], Due: due, Last: last, Rules: []Rule{rule}}
	}
	_, sampled := m.done(Sample, 0)
	_, limed := m.done(Lime, 1) // too late for a sample before it; the retest comes
	// lime by a test needs no other sample
	if sampled || !m.Tested && !limed {
		by := due.AddDate(0, 0, -lab)
		// The laboratory's answer must be there before the earlier of the two.
		if feed := m.feeding().Due.AddDate(0, 0, -lab); feed.Before(by) { // phosphate and potash wait for it too
			by = feed
		}
		m.add(Step{Code: Sample, First: m.Start, Due: by, Last: last.AddDate(0, 0, -lab), Rules: []Rule{labRule}})
	}
	for _, s := range limes {
		m.add(s)
	}
	m.add(m.feeding())
	if m.Passes > 0 {
		rule, before := ruleDays(RetestBefore)
		first := later(m.Start, m.window.First.AddDate(0, 0, -before))
		m.add(Step{Code: Retest, First: first, Due: m.window.First.AddDate(0, 0, -lab), Last: m.window.Last.AddDate(0, 0, -lab), Rules: []Rule{labRule, rule}})
	}
	rule, before := ruleDays(SodBefore)
	m.add(Step{Code: Suppress, First: later(m.Start, m.window.First.AddDate(0, 0, -before)), Due: m.window.First, Last: m.window.Last, Rules: []Rule{rule}})
}

// feeding is phosphate and potash before sowing. No window hangs on them: late they are spread all the same.
func (m *maker) feeding() Step {
	rule := RuleByName(FeedBefore)
	s := Step{Code: Fertilize, First: later(m.known, m.Start), Due: latest(m.window.First, int(rule.Value)), Rules: []Rule{rule}}
	// Too late for three months ahead: it is then done by the time of sowing, or as soon as the laboratory has answered.
	if s.Due.Before(s.First) {
		s.Due = later(s.First, m.window.First)
	}
	return s
}

// add appends a step up to sowing, as it was done where it was.
func (m *maker) add(s Step) {
	if day, ok := m.done(s.Code, s.Pass); ok {
		m.steps = append(m.steps, finished(s, day))
		return
	}
	// A stand is up: that nobody wrote down its lime does not make it a thing to do.
	if _, sown := m.done(Sow, 0); sown {
		return // what was not told of is past
	}
	m.steps = append(m.steps, m.slips(s))
}

// slips fills in the window that counts when the step is not done by its last day.
func (m *maker) slips(s Step) Step {
	if !s.Done && !s.Last.IsZero() {
		s.Next = Earliest(m.Window, m.window.Last.AddDate(0, 0, 1))
	}
	return s
}

// finished is a step as it was done.
func finished(s Step, day time.Time) Step {
	s.First, s.Due, s.Last, s.Next, s.Done, s.Begun = day, day, time.Time{}, Window{}, true, false
	s.Rules = []Rule{{Name: UsersDay, Status: suitability.Practice, Source: "the day you gave"}}
	return s
}

// windowRule names the source of a sowing window.
func windowRule(w suitability.SowingWindow) Rule {
	return Rule{Name: SowWindow, Source: w.Source, Status: w.Status}
}

// later is the later of two days.
func later(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}

// latest returns the last day from which n months later is not after a day.
func latest(day time.Time, n int) time.Time {
	// day itself less n months may be too early by the days that a shorter month cuts off
	d := AddMonths(day, -n)
	for !AddMonths(d.AddDate(0, 0, 1), n).After(day) { // months differ in length: a step or three
		d = d.AddDate(0, 0, 1)
	}
	return d
}
