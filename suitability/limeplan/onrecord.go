package limeplan

import (
	"slices"
	"time"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability/stand"
)

// SpreadError is by what part of what was asked lime on record may be off and still be what was asked. Spreaders do no better over a
// field, loads are weighed to the ton and records written to a tenth or a quarter of one; a need is known far less well than that. The same
// tenth tells "as planned" where what a spreader logged is held against its plan.
// Source: common practice, no source.
const SpreadError unit.Fraction = 0.10

// samePass is how many days apart lime is still of one spreading: a large field takes some, and what lies months later is the next.
// Source: common practice, no source.
const samePass = 30

// Spread is the lime of a zone as the record tells of it, held against the passes that the run asks. Amounts are of the run's product as
// spread.
type Spread struct {
	Passes []Pass
	Notes  []SpreadNote // what is odd about the record, in the order of the days
}

// Pass is one yearly pass.
type Pass struct {
	Asked unit.AreaRate // 0 where the run does not say
	Found unit.AreaRate // on record toward it
	Day   time.Time     // on which it was complete; the zero time where it is not
	Told  bool          // complete by somebody's word alone: no amount is on record, or none is asked
}

// Complete says whether the pass is spread.
func (p Pass) Complete() bool { return !p.Day.IsZero() }

// Left is what is still to be spread of the pass; nothing of one that is complete within a spreader's error.
func (p Pass) Left() unit.AreaRate {
	if p.Complete() {
		return 0
	}
	return p.Asked - p.Found
}

// Begun is the pass of which a part is on record and a part is not, from 1; 0 for none.
func (s Spread) Begun() int {
	for i, p := range s.Passes {
		if !p.Complete() && p.Found > 0 {
			return i + 1
		}
	}
	return 0
}

// Left is what is still to be spread of all passes.
func (s Spread) Left() (left unit.AreaRate) {
	for _, p := range s.Passes {
		left += p.Left()
	}
	return left
}

// Open is how many passes are still to be spread, the rest of one that is begun counting as one.
func (s Spread) Open() (n int) {
	for _, p := range s.Passes {
		if !p.Complete() {
			n++
		}
	}
	return n
}

// SpreadNote is something that whoever keeps the record must know.
type SpreadNote struct {
	Code          string // of [SpreadNotes]
	Day           time.Time
	Asked, Amount unit.AreaRate // with [SpreadMore], [SpreadOver] and [SpreadBeyond]; 0 else
}

// Notes on lime of the record, stable codes.
const (
	SpreadSeen     = "before the test"     // lime that the soil test has seen already, up to the day
	SpreadMore     = "more than asked"     // more on record of one spreading than a pass asks, and there are passes to come
	SpreadOver     = "more than the last"  // the same of the last pass
	SpreadBeyond   = "after the last pass" // lime when all that is asked was complete already
	SpreadNoAmount = "no amount"           // an entry without one stands for the whole pass
	SpreadBeside   = "amount beside none"  // an entry without one beside others with theirs: it adds nothing
	SpreadUnread   = "amount not read"     // an amount that cannot be understood counts for nothing
	SpreadNotPure  = "quality not stated"  // an entry of pure lime, and a rate as sold
	SpreadTwice    = "written twice"       // two lines that say the same
)

// SpreadNotes lists them.
func SpreadNotes() []string {
	return []string{SpreadSeen, SpreadMore, SpreadOver, SpreadBeyond, SpreadNoAmount, SpreadBeside, SpreadUnread, SpreadNotPure, SpreadTwice}
}

// OnRecord holds the lime of a zone's record against what is asked. own are the records of the zone, as [stand.OfZone] returns them; only
// lime that leads up to the sowing counts, and of that what the soil test under the rate has not seen.
//
// A pass is complete on the day on which what was spread since the one before reaches what it asks, within [SpreadError]. One spreading
// never counts for more than one pass asks: sod takes only so much in a year, which is why there are passes, and loads that were written
// down as they went onto parts of a field would else call ground ready that has had half of its lime. What is more is noted. An entry
// without an amount stands for the whole pass, as whoever wrote it meant: lime spread twice cannot be taken off again, while the test
// before sowing shows where too little was spread.
func (a Asked) OnRecord(own []stand.Record) Spread {
	l := ledger{asked: a}
	for _, p := range a.Passes {
		l.Passes = append(l.Passes, Pass{Asked: p})
	}
	// What a run does not ask was spread for other reasons.
	if len(a.Passes) == 0 {
		return l.Spread
	}
	limes := limesOf(stand.OfThisStand(own))
	// Of lime that was there when the sample was taken the rate knows: taken off once more, the ground would get too little.
	seen := 0
	for seen < len(limes) && limes[seen].Day.Before(a.Seen) {
		seen++
	}
	if seen > 0 {
		l.note(SpreadSeen, limes[seen-1].Day)
		limes = limes[seen:]
	}
	for len(limes) > 0 {
		until := limes[0].Day.AddDate(0, 0, samePass)
		n := slices.IndexFunc(limes, func(r stand.Record) bool { return !r.Day.Before(until) })
		if n < 0 {
			n = len(limes)
		}
		l.spreading(limes[:n])
		limes = limes[n:]
	}
	return l.Spread
}

// limesOf returns the lime before the sowing. What is spread onto a stand is another matter: the stand's own soil tests ask for it.
func limesOf(own []stand.Record) (out []stand.Record) {
	for _, r := range own {
		switch r.Kind {
		case stand.Sown:
			return out
		case stand.Lime:
			out = append(out, r)
		}
	}
	return out
}

// ledger is a record being held against the passes.
type ledger struct {
	Spread
	asked Asked
	at    int // the first pass that is not complete
}

// load is lime of a day, as the run's product.
type load struct {
	day    time.Time
	amount unit.AreaRate
}

// note adds a note.
func (l *ledger) note(code string, day time.Time) {
	l.Notes = append(l.Notes, SpreadNote{Code: code, Day: day})
}

// spreading counts the lines of one spreading.
func (l *ledger) spreading(lines []stand.Record) {
	var loads []load
	var bare []stand.Record // without an amount
	for i, r := range lines {
		same := func(x stand.Record) bool { x.Line = r.Line; return x == r }
		amount, ok := l.asked.amount(r)
		switch {
		case slices.ContainsFunc(lines[:i], same):
			// Bare lines of a day say no more together than one of them.
			if r.Value.Has() {
				l.note(SpreadTwice, r.Day)
			}
		case r.Unread:
			l.note(SpreadUnread, r.Day)
		case !r.Value.Has():
			bare = append(bare, r)
		case !ok:
			l.note(SpreadNotPure, r.Day)
		default:
			loads = append(loads, load{r.Day, amount})
		}
	}
	switch {
	case len(loads) > 0:
		for _, r := range bare {
			l.note(SpreadBeside, r.Day)
		}
		l.count(loads)
	case len(bare) > 0 && l.at < len(l.Passes):
		l.note(SpreadNoAmount, bare[0].Day)
		l.complete(bare[0].Day, true)
	}
}

// amount is the lime of a line as the run's product; ok is false where the two cannot be compared.
func (a Asked) amount(r stand.Record) (product unit.AreaRate, ok bool) {
	rate, pure, ok := r.Spread()
	switch {
	case !ok || pure && a.AsSold:
		return 0, false
	case pure:
		return a.Product.AsSpread(lime.Of(rate, lime.Carbonate)), true
	}
	return rate, true
}

// count adds the loads of one spreading to the pass that is due, and what that does not need to the next, up to as much as one pass asks.
func (l *ledger) count(loads []load) {
	var sum unit.AreaRate
	for _, x := range loads {
		sum += x.amount
	}
	if l.at == len(l.Passes) {
		if sum > 0 {
			l.Notes = append(l.Notes, SpreadNote{Code: SpreadBeyond, Day: loads[0].day, Amount: sum})
		}
		return
	}
	asked := l.Passes[l.at].Asked
	if asked == 0 { // a run that does not say how much: it was spread, and no more can be said
		if sum > 0 {
			l.complete(loads[0].day, true)
		}
		return
	}
	room := asked
	for _, x := range loads {
		part := min(x.amount, room)
		room -= part
		l.add(x.day, part)
	}
	if over := sum - asked; over > asked*unit.AreaRate(SpreadError)*(1+slack) {
		code := SpreadMore
		if l.at == len(l.Passes) {
			code = SpreadOver
		}
		l.Notes = append(l.Notes, SpreadNote{Code: code, Day: loads[0].day, Asked: asked, Amount: sum})
	}
}

// slack keeps an amount that is just within a spreader's error, but for the noise of converting units, there.
const slack = 1e-9

// add adds lime to the pass that is due. What it does not need goes to the next, unless it is within a spreader's error: then it is none.
func (l *ledger) add(day time.Time, part unit.AreaRate) {
	for l.at < len(l.Passes) && part > 0 {
		p := &l.Passes[l.at]
		p.Found += part
		part = 0
		within := p.Asked * unit.AreaRate(SpreadError) * (1 + slack)
		if p.Found < p.Asked-within {
			return
		}
		if over := p.Found - p.Asked; over > within && l.at+1 < len(l.Passes) {
			p.Found, part = p.Asked, over
		}
		l.complete(day, false)
	}
}

// complete ends the pass that is due.
func (l *ledger) complete(day time.Time, told bool) {
	p := &l.Passes[l.at]
	p.Day, p.Told = day, told
	l.at++
}
