package choice

import (
	"fmt"
	"strings"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
)

// letter is one letter in the making.
type letter struct {
	c      *Choice
	f      *ranking.Field
	placed *ranking.Ranked // nil for a field without a place
	v      ranking.Verdict
	why    []ranking.Reason
}

// letterAt is the letter of the field in place k; those without a place come after the last.
func (c *Choice) letterAt(k int) letter {
	if n := len(c.Ranking.Fields); k >= n {
		// Fields without an answer get a letter too: their owners asked.
		return letter{c: c, f: c.Ranking.Unanswered[k-n], v: ranking.VisitFirst, why: []ranking.Reason{{Code: ranking.WhyNoAnswer}}}
	}
	r := &c.Ranking.Fields[k]
	return letter{c, r.Field, r, r.Verdict, r.Why}
}

// name is what the owner calls the field; runs are no matter of theirs.
func (l letter) name() string { return called(l.f, words.Shown(l.f.ID, mostShown)) }

// title is the head of a letter.
func (l letter) title() string { return l.name() + ": " + advice(l.v) }

// Letter returns the letter of one field alone, by its place from 0; those without a place come after the last.
func (c *Choice) Letter(k int) *report.Document {
	l := c.letterAt(k)
	d := &report.Document{Title: l.title(), Subject: "Letter on one field", Program: c.Program, Date: c.Date}
	d.Blocks = l.blocks(2, "letter")
	return d
}

// Letters returns the letters of the first most fields, a page each; a negative number means all.
func (c *Choice) Letters(most int) *report.Document {
	n := c.Fields()
	if most >= 0 {
		n = min(n, most)
	}
	d := &report.Document{Title: "A letter for each field", Subject: "Letters, a page for each field", Program: c.Program, Date: c.Date}
	if w := c.whose(); w != "" {
		d.Title = w + ": a letter for each field"
	}
	// Whoever gets the bundle must not think that it is all.
	if n < c.Fields() {
		d.Blocks = append(d.Blocks, report.Para{Text: fmt.Sprintf("These are the first %s of %s fields in the order of the list.", words.Decimal(float64(n), 0), words.Decimal(float64(c.Fields()), 0)), Tone: report.Small})
	}
	for k := range n {
		l, id := c.letterAt(k), fmt.Sprintf("letter-%d", k+1)
		if k > 0 {
			d.Blocks = append(d.Blocks, report.PageBreak{})
		}
		d.Blocks = append(d.Blocks, report.Heading{Level: 2, Text: l.title(), ID: id, Running: l.name()})
		d.Blocks = append(d.Blocks, l.blocks(3, id)...)
	}
	return d
}

// blocks are the letter below its title: the answer, why, what would change it, what to do next, what to beware of.
func (l letter) blocks(level int, id string) []report.Block {
	var out []report.Block
	if head := l.head(); head != "" {
		out = append(out, report.Para{Text: head, Tone: report.Small})
	}
	for _, s := range l.answer() {
		out = append(out, report.Para{Text: s, Tone: report.Answer})
	}
	for _, s := range l.figures() {
		out = append(out, report.Para{Text: s})
	}
	// A heading without anything under it is left out.
	section := func(head, key string, items []string) {
		if len(items) > 0 {
			out = append(out, report.Heading{Level: level, Text: head, ID: id + "-" + key}, report.Bullets{Items: items})
		}
	}
	var why []string
	for _, r := range l.why {
		why = append(why, because(l.f, r))
	}
	section("Why", "why", why)
	section("What would change this", "change", changes(l.f, l.v, l.why))
	section("Next step", "next", l.c.nextStep(l.f, l.v))
	section("Please note", "note", l.cautions())
	return out
}

// head says whose field it is, and of what day the letter is; "" where neither is known.
func (l letter) head() string {
	var parts []string
	for _, who := range []string{l.f.Farm, l.f.Customer} {
		if who != "" {
			parts = append(parts, words.Shown(who, mostShown))
		}
	}
	s := strings.Join(parts, ", ")
	switch {
	case l.c.Date != "" && s != "":
		return s + ". " + words.Date(l.c.Date) + "."
	case l.c.Date != "":
		return words.Date(l.c.Date) + "."
	}
	return s
}

// answer says first what to do, and then how much of the field is suited.
func (l letter) answer() []string {
	first := map[ranking.Verdict]string{
		ranking.Take:       "Our advice: take this field.",
		ranking.VisitFirst: "Our advice: visit this field before you decide.",
		ranking.Leave:      "Our advice: leave this field in grass.",
	}[l.v]
	return []string{first, l.ground()}
}

// ground says how much is suited, once limed and today.
func (l letter) ground() string {
	x := &l.f.Facts
	all, once := words.AcresAndHectares(l.f.Area), x.ByClass[suitability.Suited]
	of := fmt.Sprintf("Of its %s, %s look suited for alfalfa", all, words.AcresAndHectares(once))
	// A sliver on the edge that fell to another soil must not turn "all" into "99.9 %".
	if once >= 0.999*l.f.Area {
		of = fmt.Sprintf("All of its %s look suited for alfalfa", all)
	}
	switch {
	case l.placed == nil:
		return fmt.Sprintf("We cannot say how much of its %s is suited for alfalfa.", all)
	// With ground that nobody could rate, "by the survey none of it" would say too much.
	case once <= 0 && x.Unknown >= 0.005:
		return fmt.Sprintf("Of its %s, none that we could rate is suited for alfalfa, not even with lime.", all)
	case once <= 0:
		return fmt.Sprintf("By the survey, none of its %s is suited for alfalfa, not even with lime.", all)
	case x.SuitedToday >= once:
		return of + " as they are."
	case x.SuitedToday <= 0:
		return of + " once limed. None of it is suited today."
	}
	return fmt.Sprintf("%s once limed. Today %s are.", of, words.AcresAndHectares(x.SuitedToday))
}

// figures are lime, cost, time and place, a short paragraph each.
func (l letter) figures() []string {
	var out []string
	add := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	// A field without an answer has no figures to tell.
	if l.placed == nil {
		return nil
	}
	// Lime, cost and time are all for the ground that is suited.
	if l.f.Facts.ByClass[suitability.Suited] > 0 {
		add(l.rest())
		add(l.lime())
		add(l.money())
		add(l.time())
	}
	add(l.howSure())
	add(l.place())
	return out
}

// rest says what the ground is that is not suited; nothing where all is.
func (l letter) rest() string {
	x := &l.f.Facts
	// Areas under a twentieth of an acre would print as 0.0 and are left out.
	worse := x.ByClass[suitability.Marginal] + x.ByClass[suitability.Unsuited]
	unrated := l.f.Area - x.ByClass[suitability.Suited] - worse
	var parts []string
	if worse.Acres() >= 0.05 {
		parts = append(parts, fmt.Sprintf("%s acres are not (%s)", words.Acres(worse), words.Listed(limiting(x.Limits))))
	}
	if unrated.Acres() >= 0.05 {
		parts = append(parts, fmt.Sprintf("%s acres could not be rated or lie outside the survey", words.Acres(unrated)))
	}
	if len(parts) == 0 {
		return ""
	}
	return "The rest: " + words.Listed(parts) + "."
}

// lime is what the suited ground needs.
func (l letter) lime() string {
	x, ok := l.f.Facts.Lime.Get()
	if !ok {
		return "We have no lime figure for the suited ground. Only a soil test can give one."
	}
	// Only where no end of the range asks for lime.
	if x.High <= 0 {
		return "By what we know, the suited ground needs no lime. Test the soil to be sure."
	}
	// Figured is the suited ground that has a figure, in square metres; the masses are of that ground alone.
	rate := func(m unit.Mass) unit.AreaRate { return unit.AreaRate(float64(m) / float64(x.Figured)) }
	// So small a figure may be a mean over ground of which most needs none; it is no rate to send anybody.
	if few := 0.095; rate(x.Likely).ShortTonsPerAcre() < few {
		return "Lime: under 0.1 tons an acre (0.2 t/ha) over the suited ground as a whole; parts of it may need more. Test the soil to be sure."
	}
	s := fmt.Sprintf("Lime: about %s tons an acre (%s t/ha) on the suited ground", words.Tons(rate(x.Likely).ShortTonsPerAcre()), words.Fixed(rate(x.Likely).TonnesPerHectare(), 1))
	if x.Low < x.High {
		s += fmt.Sprintf("; it may be %s to %s tons", words.Tons(rate(x.Low).ShortTonsPerAcre()), words.Tons(rate(x.High).ShortTonsPerAcre()))
	}
	if x.ByTest {
		return s + ". This rests on your soil tests."
	}
	return s + ". This is a budget, not a rate; a soil test sets the rate."
}

// money is what a suited acre costs; nothing without prices.
func (l letter) money() string {
	m := l.f.Measures[ranking.Cost]
	if l.c.Basis != ranking.ByMoney || m.State != ranking.Known {
		return ""
	}
	s := fmt.Sprintf("Cost: by your prices about %s %s to lime and sow a suited acre; it may be %s to %s.", l.c.amount(m.Likely), words.Shown(l.c.Currency, 12), l.c.amount(m.Low), l.c.amount(m.High))
	return strings.TrimSpace(s + " " + l.c.unpriced())
}

// time is when most of the suited ground can be sown.
func (l letter) time() string {
	m := l.f.Measures[ranking.Ready]
	if m.State != ranking.Known {
		return ""
	}
	if l.c.Start == ranking.ByWindow {
		w := l.f.Facts.Sow
		return fmt.Sprintf("Time: at least half of that ground can be sown %s at the soonest.", words.Window(w.String()))
	}
	if m.Likely == 0 {
		return "Time: at least half of that ground needs no wait for lime."
	}
	return fmt.Sprintf("Time: at least half of that ground has to wait about %s after the first lime.", words.WaitDays(m.Likely))
}

// howSure is the chance of enough suited ground, where no reason tells it.
func (l letter) howSure() string {
	for _, r := range l.why {
		if r.Code == ranking.WhyEnough || r.Code == ranking.WhyDoubt || r.Code == ranking.WhyTooLittle {
			return ""
		}
	}
	return enough(l.f, unit.None[float64]())
}

// place is where the field stands among the others.
// Alone on the list a field has no place to tell of.
func (l letter) place() string {
	n := len(l.c.Ranking.Fields)
	if n < 2 {
		return ""
	}
	p := l.placed
	s := fmt.Sprintf("Place: %s of %s on our list", words.Decimal(float64(p.Rank), 0), words.Decimal(float64(n), 0))
	// A place that many share is no rank to be proud of, and none to be sorry for.
	same := -1
	for i := range l.c.Ranking.Fields {
		if l.c.Ranking.Fields[i].Rank == p.Rank {
			same++
		}
	}
	if same > 0 {
		s += ", which it shares with " + words.Count(same, "other field", "other fields")
	}
	switch {
	case p.P10 == p.P90 && p.P10 == p.Rank:
		return s + ", and it stays there when we change the weights and the figures within reason."
	// Fields that share a place by their figures part in the draws, so all draws may have it at another place.
	case p.P10 == p.P90:
		return s + fmt.Sprintf(". When we change the weights and the figures within reason, it is in place %s in 8 draws of 10.", words.Decimal(float64(p.P10), 0))
	}
	return s + fmt.Sprintf(". When we change the weights and the figures within reason, it stands between %s and %s in 8 draws of 10.", words.Decimal(float64(p.P10), 0), words.Decimal(float64(p.P90), 0))
}

// cautions are what this letter must not go without: all of them where work is to follow.
func (l letter) cautions() []string {
	all := words.Cautions()
	if l.v == ranking.Take {
		return all
	}
	// Where nothing is spread or grazed yet, dust, machines and bloat only bury what counts: that the survey is coarse, and that this is no adviser.
	return []string{all[0], all[len(all)-1]}
}
