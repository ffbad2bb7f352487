package taskdata

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/soils/unit"
)

// follow fits a task to what the spreader can do: ground too small to follow joins a neighbour, then rates become ones
// that it can be set to.
// Set is counted afterwards, so that cells are later held against the rates that the spreader really has.
func (p *Plan) follow(t *Task) {
	if p.options.Machine.Smallest > 0 {
		var joined int
		t.grounds, joined = merged(t.grounds, p.options.Machine.Smallest)
		if joined > 0 {
			p.note("%s: %s smaller than %.3g acres %s the rate of a neighbour; the lime of the field is kept",
				names(t), counted(joined, "piece of ground", "pieces of ground"), p.options.Machine.Smallest.Acres(), choose(joined, "shares", "share"))
		}
	}
	for i := range t.grounds {
		g := &t.grounds[i]
		g.rate = milligrams(p.options.Machine.settable(g.want))
	}
	p.coded(t)
}

// coded leaves a task no more rates than its zones can be told apart by, and sums up what is set. Cells of a second kind of grid hold their
// rates themselves and need no codes.
func (p *Plan) coded(t *Task) {
	if p.options.Form != Grid2 && fewer(t.grounds, mostCodes) {
		p.note("%s: more than %d rates; near ones were put together, the lime of the task is kept", names(t), mostCodes)
	}
	t.Set = 0
	for _, g := range t.grounds {
		t.Set += rateOf(g.rate).Over(g.area)
	}
}

// Headland says whether a strip along the boundaries has a rate of its own.
func (p *Plan) Headland() bool { return p.options.Machine.Headland > 0 }

// tellHeadland notes what is left for a drive of its own, once it is known which cells are headland.
func (p *Plan) tellHeadland() {
	m := p.options.Machine
	if m.Headland <= 0 || m.Edge != HeadlandNone {
		return
	}
	left := p.sum(func(t *Task) unit.Mass { return t.Cells - t.Spread })
	p.note("the headland, %.0f ft (%.1f m) along the boundary, gets none here; %.2f short tons must go on it in a drive of its own", m.Headland.Feet(), float64(m.Headland), left.ShortTons())
}

// tellRates notes how far rates of the spreader take the lime away from the run.
func (p *Plan) tellRates() {
	planned, set := p.Planned(), p.Set()
	// A ten-thousandth is less than anybody could weigh.
	if off := share(set, planned); math.Abs(off) > 1e-4 {
		p.note("with rates that the spreader can be set to it is %.2f short tons in place of %.2f (%+.1f %%)", set.ShortTons(), planned.ShortTons(), 100*off)
	}
	if most := p.options.Machine.Most; most > 0 {
		var over []string
		// What the spreader cannot put on at once is told in tons, so that somebody orders the second drive.
		var short unit.Mass
		for _, t := range p.Tasks {
			for _, g := range t.grounds {
				// A want that is the highest rate but for the noise of units is not over it.
				if g.want > most*(1+1e-9) {
					over = append(over, g.zone)
					short += (g.want - rateOf(g.rate)).Over(g.area)
				}
			}
		}
		if len(over) > 0 {
			p.note("%s more than the spreader can put on at once; %.2f short tons must go on in another drive", list(over, "asks for", "ask for"), short.ShortTons())
		}
	}
	if p.Passes > 1 && p.options.Pass != AllPasses {
		p.note("this is pass %d of %d yearly passes; make the others with --pass", p.options.Pass, p.Passes)
	}
	if p.Passes > 1 && p.options.Pass == AllPasses {
		p.note("all %d yearly passes in one: more than the yearly cap on sod goes on at once", p.Passes)
	}
}

// note adds a sentence to what the user must know.
func (p *Plan) note(format string, args ...any) {
	p.Notes = append(p.Notes, fmt.Sprintf(format, args...))
}

// names says which fields a task is for.
func names(t *Task) string { return strings.Join(t.FieldIDs, ", ") }

// list prints a few ids with their verb.
func list(ids []string, one, many string) string {
	s := "zone " + ids[0] + " " + one
	if len(ids) > 1 {
		s = "zones " + strings.Join(ids[:min(len(ids), mostListed)], ", ")
		if more := len(ids) - mostListed; more > 0 {
			s += fmt.Sprintf(" and %d more", more)
		}
		s += " " + many
	}
	return s
}

// counted prints a number with its noun.
func counted(n int, one, many string) string { return fmt.Sprintf("%d %s", n, choose(n, one, many)) }

// choose is the form of a word that goes with a number.
func choose(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
