package words

import (
	"fmt"
	"strings"
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
)

// LimeSpread says in sentences what the record tells of a zone's lime, pass by pass, and what is odd about it; nothing where the record has
// none. sown is ground with a stand on it: what is missing there is no longer asked for by the plan.
func LimeSpread(s limeplan.Spread, sown bool) []string {
	var out []string
	for i, p := range s.Passes {
		switch {
		case p.Complete() && p.Told:
			out = append(out, Sentence(fmt.Sprintf("%s was spread on %s", passName(s, i+1), dayOf(p.Day))))
		// What is more than a pass takes is told by a note.
		case p.Complete() && p.Found == p.Asked:
			out = append(out, Sentence(fmt.Sprintf("%s was spread by %s: the %s asked are on record", passName(s, i+1), dayOf(p.Day), spreadRate(p.Asked))))
		case p.Complete():
			out = append(out, Sentence(fmt.Sprintf("%s was spread by %s: %s on record, %s asked", passName(s, i+1), dayOf(p.Day), spreadRate(p.Found), spreadRate(p.Asked))))
		case p.Found > 0:
			text := Sentence(LimeMissing(s, i+1))
			if sown {
				text += " The stand is sown; its soil tests say what it lacks."
			}
			out = append(out, text)
		}
	}
	for _, n := range s.Notes {
		out = append(out, spreadNote(n))
	}
	return out
}

// LimedZone is a zone with the lime of its record.
type LimedZone struct {
	Number int
	Spread limeplan.Spread
	Sown   bool // a stand is on it
}

// mostLimed is how many answers of a field are listed; its zones may be many, each with a rate of its own.
const mostLimed = 12

// LimeOfZones says what the record tells of the lime of some zones of a field, those of which it tells the same together: "Zones 1 and 3.
// Pass 1 of 2 is begun: …". Zones of which it tells nothing are not named.
func LimeOfZones(zones []LimedZone) []string {
	var texts []string
	of := map[string][]string{}
	for _, z := range zones {
		text := strings.Join(LimeSpread(z.Spread, z.Sown), " ")
		if text == "" {
			continue
		}
		if len(of[text]) == 0 {
			texts = append(texts, text)
		}
		of[text] = append(of[text], number(z.Number))
	}
	var out []string
	for i, text := range texts {
		if i == mostLimed {
			return append(out, fmt.Sprintf("Zones with %s are not listed.", count(len(texts)-i, "other answer", "other answers")))
		}
		name := "Zone "
		if len(of[text]) > 1 {
			name = "Zones "
		}
		out = append(out, name+Listed(of[text])+". "+text)
	}
	return out
}

// LimeMissing says how much of a pass is on record and how much is missing: "of pass 1 of 2, 1.2 of 2 short tons an acre are on record and
// 0.8 (1.8 t/ha) are missing".
func LimeMissing(s limeplan.Spread, pass int) string {
	p := s.Passes[pass-1]
	return fmt.Sprintf("%s is begun: %s of %s short tons an acre are on record, %s are missing (%s of %s t/ha)", passName(s, pass),
		spreadFigure(p.Found.ShortTonsPerAcre()), spreadFigure(p.Asked.ShortTonsPerAcre()), spreadFigure(p.Left().ShortTonsPerAcre()),
		spreadFigure(p.Left().TonnesPerHectare()), spreadFigure(p.Asked.TonnesPerHectare()))
}

// passName names a pass within a sentence; a single one needs no number.
func passName(s limeplan.Spread, pass int) string {
	if len(s.Passes) == 1 {
		return "the lime"
	}
	return fmt.Sprintf("pass %d of %d", pass, len(s.Passes))
}

// spreadNote puts a note on lime of the record into a sentence.
func spreadNote(n limeplan.SpreadNote) string {
	return Sentence(strings.NewReplacer(noteDay, dayOf(n.Day), noteAmount, spreadRate(n.Amount), noteAsked, spreadRate(n.Asked)).Replace(found(spreadNotes(), n.Code, Landowner)))
}

// Places in the words of a note that its figures are put into.
const noteDay, noteAmount, noteAsked = "{day}", "{amount}", "{asked}"

// spreadNotes: one wording for all readers, since the record is the user's own.
func spreadNotes() []phrase {
	same := func(code, s string) phrase { return phrase{code, s, s, s} }
	return []phrase{
		same(limeplan.SpreadSeen, "the lime up to {day} was spread before the soil test that the rate rests on, which has seen it, so it does not count once more"),
		same(limeplan.SpreadMore, "from {day} on {amount} are on record where the pass asks {asked}; what is more does not count for a later one, since sod takes only so much in a year; test the soil before you spread again, or correct lines that tell of parts of the zone"),
		same(limeplan.SpreadOver, "from {day} on {amount} are on record where the pass asks {asked}; test the soil before you sow"),
		same(limeplan.SpreadBeyond, "on {day} {amount} are on record though all that was asked had been spread; test the soil before you sow"),
		same(limeplan.SpreadNoAmount, "the lime of {day} is on record without an amount and counts as the whole pass; write down how much it was"),
		same(limeplan.SpreadBeside, "one line of {day} has no amount and adds nothing to those beside it; write down how much it was, or take it out"),
		same(limeplan.SpreadUnread, "the amount of lime on {day} cannot be read, so nothing of it counts; correct the line"),
		same(limeplan.SpreadNotPure, "the lime of {day} is on record as pure lime (100 % CCE), while the rate is of lime as sold, whose quality its source does not state, so nothing of it counts; write down the tons that were spread"),
		same(limeplan.SpreadTwice, "two lines of {day} say the same and count once; take one out, or give their sum if both are true"),
	}
}

// dayOf prints a day for reading.
func dayOf(day time.Time) string { return Date(season.Day(day)) }

// spreadRate prints an amount over the ground in both systems.
func spreadRate(r unit.AreaRate) string {
	return fmt.Sprintf("%s short tons an acre (%s t/ha)", spreadFigure(r.ShortTonsPerAcre()), spreadFigure(r.TonnesPerHectare()))
}

// spreadFigure prints an amount as finely as people write it down; what is there never reads as nothing.
func spreadFigure(x float64) string {
	if x > 0 && x < 0.005 {
		return "under 0.01"
	}
	return plain(x, 2)
}

// LimeBasis says what tons on record are taken for where they do not say.
func LimeBasis(a limeplan.Asked) string {
	const pure = ` Lines in "of pure lime (100 % CCE)" are reckoned as this product.`
	switch e := float64(a.Product.ECCE); {
	case a.AsSold:
		return "Tons on record are taken for lime as sold, as the rate is."
	case e > 0 && a.Product.Moisture > 0:
		return fmt.Sprintf("Tons on record are taken for the product that the run reckons with, %s %% ECCE and %s %% water.", plain(e, 1), plain(float64(a.Product.Moisture), 1)) + pure
	case e > 0:
		return fmt.Sprintf("Tons on record are taken for the product that the run reckons with, %s %% ECCE.", plain(e, 1)) + pure
	}
	return "Tons on record are taken for the product that the run reckons with, of 100 % ECCE since it was given none."
}

// SpreadErrorText says from when on a pass counts as spread.
func SpreadErrorText() string {
	return fmt.Sprintf("A pass counts as spread from %s %% of what it asks on: spreaders do no better (common practice, no source).", plain(100*(1-float64(limeplan.SpreadError)), 0))
}
