package variety

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Need is what a variety must have. The zero value asks for the Southeast. A variety is held against all of it at once.
type Need struct {
	DormancyFrom, DormancyTo float64                // 0 means 5 and 8
	Least                    Resistance             // not known means moderate
	Diseases                 []string               // none means every disease of the table
	Region                   string                 // "" means any
	Persistence              unit.Opt[unit.Percent] // of the stand at least; missing means any
}

// What is asked where the user asks for nothing else.
// Source: dormancy 5 to 8 in the Southeast and resistance at least moderate are common practice, no source. The scale runs from 1,
// most dormant, to 11: University of Nebraska, Understanding fall dormancy in alfalfa (2024).
const (
	DormancyFrom  = 5
	DormancyTo    = 8
	DormancyScale = 11
	NeedStatus    = suitability.Practice
)

// Verdict is what the list says of a variety.
type Verdict string

// The verdicts.
const (
	Listed Verdict = "listed"
	Open   Verdict = "not known" // nothing fails, but something needed is not in the table
	Out    Verdict = "fails"
)

// Verdicts lists them, the best first.
func Verdicts() []Verdict { return []Verdict{Listed, Open, Out} }

// Trait is something that fails or is not known.
type Trait struct {
	Name   string // "dormancy", "region" or a disease as headed
	Found  string // as the table has it; "" when not known
	Wanted string
	Fails  bool // false: not known
}

// Judged is a variety with its verdict.
type Judged struct {
	Variety
	Verdict Verdict
	Traits  []Trait // what fails first, then what is not known
	Top     bool    // no worse than the best of its trial by the least significant difference; never where the table has no other of the trial
	NoLSD   bool    // the trial gives none, so its means cannot be told apart
}

// Check says what is wrong with a need: dormancy the wrong way round, or a disease that is not in the table.
func (n Need) Check(t *Table) error {
	from, to := n.dormancy()
	// asked this way round, NaN is refused too
	if !(from >= 1 && to <= DormancyScale && from <= to) {
		return fmt.Errorf("a dormancy from %g to %g is not possible; give two figures from 1 to 11", from, to)
	}
	if p := n.Persistence.Or(0); !(p >= 0 && p <= 100) {
		return fmt.Errorf("a persistence of %g %% is not possible; give one from 0 to 100", float64(p))
	}
	for _, d := range n.Diseases {
		if t.column(d) < 0 {
			return fmt.Errorf("the table has no column %q; it has %s", d, strings.Join(t.Diseases, ", "))
		}
	}
	return nil
}

// dormancy is the span in force.
func (n Need) dormancy() (from, to float64) {
	from, to = n.DormancyFrom, n.DormancyTo
	if from == 0 {
		from = DormancyFrom
	}
	if to == 0 {
		to = DormancyTo
	}
	return from, to
}

// column is the place of a disease among those of the table, in any case; -1 for none.
func (t *Table) column(disease string) int {
	return slices.IndexFunc(t.Diseases, func(d string) bool { return strings.EqualFold(d, strings.TrimSpace(disease)) })
}

// ShortList judges every variety of a table: listed ones first, by verdict, then yield from the highest, then name.
func ShortList(t *Table, n Need) []Judged {
	var out []Judged
	for _, v := range t.Varieties {
		out = append(out, t.judge(v, n))
	}
	compare(out)
	slices.SortStableFunc(out, func(a, b Judged) int {
		return cmp.Or(cmp.Compare(rank(a.Verdict), rank(b.Verdict)), cmp.Compare(b.Yield.Or(-1), a.Yield.Or(-1)), cmp.Compare(a.Name, b.Name),
			cmp.Compare(a.Line, b.Line))
	})
	return out
}

// rank puts the best verdict first.
func rank(v Verdict) int { return slices.Index(Verdicts(), v) }

// judge holds a variety against the need.
func (t *Table) judge(v Variety, n Need) Judged {
	j := Judged{Variety: v, Verdict: Listed}
	from, to := n.dormancy()
	d, ok := v.Dormancy.Get()
	// each trait is held whatever the others came to: a grower wants to see all that fails
	j.hold("dormancy", ok, d >= from && d <= to, fmt.Sprintf("%g", d), fmt.Sprintf("%g to %g", from, to))
	if n.Region != "" {
		j.hold("region", v.Region != "", strings.EqualFold(v.Region, strings.TrimSpace(n.Region)), v.Region, n.Region)
	}
	if want, ok := n.Persistence.Get(); ok {
		has, known := v.Persistence.Get()
		j.hold("persistence", known, has >= want, fmt.Sprintf("%g %%", float64(has)), fmt.Sprintf("at least %g %%", float64(want)))
	}
	least := n.Least
	// The user asked for nothing, so what the trade asks for holds: see [NeedStatus].
	if least == Unknown {
		least = ModeratelyResistant
	}
	// by the table's order, whatever the order of the need
	for i, disease := range t.Diseases {
		if len(n.Diseases) > 0 && !slices.ContainsFunc(n.Diseases, func(d string) bool { return t.column(d) == i }) {
			continue
		}
		r := v.Resistances[i]
		j.hold(disease, r != Unknown, r >= least, r.Code(), "at least "+least.Code())
	}
	slices.SortStableFunc(j.Traits, func(a, b Trait) int { return cmp.Compare(order(a.Fails), order(b.Fails)) })
	return j
}

// order puts what fails before what is not known.
func order(fails bool) int {
	if fails {
		return 0
	}
	return 1
}

// hold records a trait that fails or is not known.
func (j *Judged) hold(name string, known, good bool, found, wanted string) {
	switch {
	// an unknown trait never fails a variety, and never lists it either
	case !known:
		j.Traits = append(j.Traits, Trait{name, "", wanted, false})
		if j.Verdict == Listed {
			j.Verdict = Open
		}
	case !good:
		j.Traits = append(j.Traits, Trait{name, found, wanted, true})
		j.Verdict = Out
	}
}

// compare marks the varieties that are no worse than the best of their trial. Means of different trials are never compared.
func compare(all []Judged) {
	// by the name of the trial as written; only looked up, never ranged over
	best, lsd, entries := map[string]unit.AreaRate{}, map[string]unit.AreaRate{}, map[string]int{}
	for _, j := range all {
		if y, ok := j.Yield.Get(); ok && j.Trial != "" {
			best[j.Trial], entries[j.Trial] = max(best[j.Trial], y), entries[j.Trial]+1
		}
		// A variety of no trial is compared with nobody.
		if d, ok := j.LSD.Get(); ok && j.Trial != "" {
			lsd[j.Trial] = max(lsd[j.Trial], d) // rows of a trial should agree; the larger says less
		}
	}
	for i := range all {
		y, ok := all[i].Yield.Get()
		if !ok || all[i].Trial == "" {
			continue
		}
		d, has := lsd[all[i].Trial]
		all[i].NoLSD = !has
		all[i].Top = has && entries[all[i].Trial] > 1 && best[all[i].Trial]-y <= d+1e-12 // a difference of the LSD itself is not over it
	}
}
