package season

import (
	"time"

	"rootworthy/suitability"
)

// watch adds what follows sowing, up to the last cutting of the first full year, and returns the first day of its weevils.
func (m *maker) watch() (winter time.Time) {
	emerge, toEmergence := ruleDays(ToEmergence)
	look, looking := ruleDays(SeedlingLook)
	crickets, every := ruleDays(CricketEvery)
	m.follow(Step{Code: Crickets, First: m.window.First.AddDate(0, 0, toEmergence), Due: m.window.Last.AddDate(0, 0, looking), Every: every, Rules: []Rule{emerge, look, crickets}})
	m.follow(Step{Code: CountFall, First: m.window.First.AddDate(0, 0, looking), Due: m.window.Last.AddDate(0, 0, looking), Rules: []Rule{look}})
	// The weevil comes in the first late winter after the seed is in the ground, however late it went in. every year after the sowing is
	// counted from its weevils: they are the first thing that happens in it
	weevil, _ := spanOf(WeevilSpan, "")
	winter = weevil.after(m.window.Last).First
	m.weevil(winter)
	spring, _ := spanOf(SpringSpan, "")
	m.follow(m.over(CountSpring, spring, spring.after(winter), Step{}))
	m.cuttings(winter)
	m.armyworm(winter)
	m.lastCut(winter)
	return winter
}

// weevil and armyworm are looked for each week of their time.
func (m *maker) weevil(year time.Time)   { m.weekly(Weevil, WeevilSpan, year) }
func (m *maker) armyworm(year time.Time) { m.weekly(Armyworm, ArmywormSpan, year) }

// weekly adds looks through a span that begins on or after the day year.
func (m *maker) weekly(c Code, span string, year time.Time) {
	insects, weekly := ruleDays(InsectEvery)
	s, _ := spanOf(span, "")
	m.follow(m.over(c, s, s.after(year), Step{Every: weekly, Rules: []Rule{insects}}))
}

// follow appends a step after sowing, as it was done where it was.
func (m *maker) follow(s Step) {
	if day, ok := m.done(s.Code, s.Pass); ok {
		s = finished(s, day)
		s.Every = 0
	}
	m.steps = append(m.steps, s)
}

// over fills a step in for a stretch of a year. Rules that the step has already come after that of the stretch.
func (m *maker) over(c Code, s Span, w Window, step Step) Step {
	step.Code, step.First, step.Due = c, w.First, w.Last
	step.Rules = append([]Rule{{Name: s.Rule, Source: s.Source, Status: s.Status}}, step.Rules...)
	return step
}

// cuttings adds the first cutting and the tissue sample a week before the second.
func (m *maker) cuttings(year time.Time) {
	first, ok := m.firstCut(year)
	if !ok {
		// the steps are listed all the same, undated: who reads the plan sees what one day would settle
		m.follow(Step{Code: FirstCut, Needs: NeedsFirstCut})
		m.follow(Step{Code: Tissue, Needs: NeedsFirstCut})
		m.potash(Step{}, nil)
		return
	}
	// What follows counts from the real first cutting; the step itself is marked as done below.
	if day, ok := m.done(FirstCut, 0); ok {
		first.First, first.Due = day, day
	}
	m.follow(first)
	var interval []Rule
	for _, r := range Rules() {
		if r.Name == CutInterval {
			interval = append(interval, r)
		}
	}
	// interval holds the short end first, so the two ends of the step are the earliest and the latest second cutting
	before, days := ruleDays(TissueBefore)
	m.follow(Step{Code: Tissue, First: first.First.AddDate(0, 0, int(interval[0].Value)-days), Due: first.Due.AddDate(0, 0, int(interval[1].Value)-days),
		Rules: append([]Rule{before}, interval...)})
	m.potash(first, interval)
}

// firstCut is the user's day of the first cutting, or the planning days of the region; ok is false without either.
func (m *maker) firstCut(year time.Time) (Step, bool) {
	if day, ok := m.FirstCut.Get(); ok {
		s := Span{Rule: UsersDay, First: day, Last: day, Source: "the day you gave", Status: suitability.Practice}
		return m.over(FirstCut, s, s.after(year), Step{}), true
	}
	s, ok := spanOf(FirstCutSpan, m.Window.Region)
	if !ok {
		return Step{}, false
	}
	return m.over(FirstCut, s, s.after(year), Step{}), true
}

// lastCut adds the last cutting, four to six weeks before the usual killing frost.
func (m *maker) lastCut(year time.Time) {
	f, ok := m.Normals.FirstFreeze()
	if !ok {
		m.follow(Step{Code: LastCut, Needs: NeedsFrost})
		return
	}
	// From July on, so that a freeze in January counts for the growth before it.
	frost := Span{First: f.Day, Last: f.Day}.after(time.Date(year.Year(), time.July, 1, 0, 0, 0, 0, time.UTC)).First
	var rules []Rule
	for _, r := range Rules() {
		if r.Name == BeforeFrost {
			rules = append(rules, r)
		}
	}
	m.follow(Step{Code: LastCut, First: frost.AddDate(0, 0, -int(rules[0].Value)), Due: frost.AddDate(0, 0, -int(rules[1].Value)),
		Rules: append(rules, f.rule())})
}

// notes tells what the normals say of the sowing.
func (m *maker) notes() []string {
	var out []string
	// A sowing that is done has no window left to be cut. First is moved to the first day that is left of it, so a later First than the
	// region's means a window begun
	if _, sown := m.done(Sow, 0); !sown && m.window.First.After(inYear(m.Window, m.window.First.Year()).First) {
		out = append(out, WindowCut)
	}
	latestSowing, ok := m.sowBefore()
	switch {
	case !ok:
		out = append(out, FrostMissing)
	case latestSowing.Before(m.window.Last):
		out = append(out, FrostShort)
	default:
		out = append(out, FrostInside)
	}
	if _, ok := m.Normals.SoilOn(m.window.First); ok {
		out = append(out, SoilAtSowing)
	}
	return out
}

// sowBefore is the day six weeks before the usual hard frost that follows the beginning of the window. It does not move the window,
// which has a better source.
func (m *maker) sowBefore() (time.Time, bool) {
	f, ok := m.Normals.FirstFreeze()
	if !ok {
		return time.Time{}, false
	}
	_, days := ruleDays(SowFrost)
	return Span{First: f.Day, Last: f.Day}.after(m.window.First).First.AddDate(0, 0, -days), true
}
