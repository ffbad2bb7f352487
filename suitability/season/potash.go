package season

import (
	"slices"

	"rootworthy/suitability"
)

// PotashPlan says in which parts a year's potash goes on, in the words of the tables of rates, and who says so.
type PotashPlan struct {
	When   []string // of [PotashTimes]; with any other word all of it is left to the usual two parts
	Source string
	Status suitability.Status
}

// When potash goes on.
const (
	BeforeGrowth = "before new growth"
	InSpring     = "spring"
	AfterFirst   = "after the first cutting"
	InSummer     = "summer"
	AfterThird   = "after the third cutting"
	InFall       = "fall"
)

// PotashTimes lists them in the order of the year.
func PotashTimes() []string {
	return []string{BeforeGrowth, InSpring, AfterFirst, InSummer, AfterThird, InFall}
}

// parts returns how the potash of the plan is parted and the rule that says so. The order is that of the plan, which need not be that of
// the year.
func (p PotashPlan) parts() ([]string, Rule) {
	strange := func(when string) bool { return !slices.Contains(PotashTimes(), when) }
	// A table may part the year in words that no days belong to; half a calendar would lose the other half of the potash.
	if len(p.When) == 0 || slices.ContainsFunc(p.When, strange) {
		return []string{AfterFirst, AfterThird}, RuleByName(PotashSplit)
	}
	return p.When, Rule{Name: PotashTable, Source: p.Source, Status: p.Status}
}

// potash adds the parts of a year; first is its first cutting, whose days are missing where nobody knows them.
func (m *maker) potash(first Step, interval []Rule) {
	parts, rule := m.Potash.parts()
	for i, when := range parts {
		s := Step{Code: Potash, Pass: i + 1, Passes: len(parts)}
		// without a first cutting no part has a day; all are listed, so that none of the potash is forgotten
		if !first.Dated() {
			s.Needs = NeedsFirstCut
			m.follow(s)
			continue
		}
		s.Rules = []Rule{rule}
		// days after a cutting by which the potash that follows it is to be on
		within := RuleByName(PotashWithin)
		switch when {
		case AfterFirst:
			s.First, s.Due = first.First, first.Due.AddDate(0, 0, int(within.Value))
			s.Rules = append(s.Rules, within)
		// The earliest third cutting follows two short intervals, the latest two long ones.
		case AfterThird: // two cuttings on
			s.First = first.First.AddDate(0, 0, 2*int(interval[0].Value))
			s.Due = first.Due.AddDate(0, 0, 2*int(interval[1].Value)+int(within.Value))
			s.Rules = append(append(s.Rules, within), interval...)
		default:
			span, _ := spanOf(map[string]string{BeforeGrowth: SpringFeed, InSpring: SpringFeed, InSummer: SummerFeed, InFall: FallFeed}[when], "")
			// the year of the first cutting: potash in spring belongs to the growth that is then cut
			w := inYear(suitability.SowingWindow{First: span.First, Last: span.Last}, first.First.Year())
			s.First, s.Due = w.First, w.Last
			s.Rules = append(s.Rules, Rule{Name: span.Rule, Source: span.Source, Status: span.Status})
		}
		m.follow(s)
	}
}
