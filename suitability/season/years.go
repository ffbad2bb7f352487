package season

import "time"

// MostYears is for how many years of production a plan may be dated. Source: common practice, no source: a stand on right ground
// lasts 5 to 7 years.
const MostYears = 7

// rounds adds the years of production after the first: the same round each year, the soil test in every other.
func (m *maker) rounds(first time.Time) (out []Step) {
	// The steps of the first year are set aside: each round fills the list anew and is marked with its year.
	kept := m.steps
	defer func() { m.steps = kept }()
	for year := 2; year <= min(m.Years, MostYears); year++ {
		m.steps = nil
		// first is the weevils' day of the first year, and a whole number of years later it is theirs again
		m.round(first.AddDate(year-1, 0, 0), year)
		for i := range m.steps {
			m.steps[i].Year = year
		}
		out = append(out, m.steps...)
	}
	return out
}

// round adds one year of production.
func (m *maker) round(winter time.Time, year int) {
	// so that what the user did is looked up in this year
	m.year = year
	defer func() { m.year = 0 }()
	m.weevil(winter)
	spring, _ := spanOf(SpringSpan, "")
	m.follow(m.over(CountStems, spring, spring.after(winter), Step{}))
	m.cuttings(winter)
	m.armyworm(winter)
	m.lastCut(winter)
	if every := RuleByName(TestEvery); year%int(every.Value) == 0 {
		fall, _ := spanOf(TestSpan, "")
		m.follow(m.over(SoilTest, fall, fall.after(winter), Step{Rules: []Rule{every}}))
	}
}

// ProductionYear returns in which year of production of the plan a day lies, 0 before the first. It goes by calendar years, the first being that of the plan's first weevils.
func (p Plan) ProductionYear(day time.Time) int {
	for _, s := range p.Steps {
		if s.Code == Weevil {
			return max(0, day.Year()-s.First.Year()+1)
		}
	}
	return 0
}

// All returns the steps of the first year and, after them, those of all later ones. The capacity is cut, so that appending never writes
// into the room behind Steps.
func (p Plan) All() []Step { return append(p.Steps[:len(p.Steps):len(p.Steps)], p.Rounds...) }
