package money

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"rootworthy/export"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability/economics"
)

// paper is the document in the making.
type paper struct {
	report.Document
	b *Book
	s *economics.Study
}

// add puts blocks at the end of the document.
func (p *paper) add(blocks ...report.Block) { p.Blocks = append(p.Blocks, blocks...) }

// head begins a part; the id is for links to it.
func (p *paper) head(text, id string) {
	p.add(report.Heading{Level: 2, Text: text, ID: id})
}

// Document builds what is read: the answer, fields, ground to leave out, costs and gains by item, what pays it back, what moves the result
// most, the prices with their sources, what is not in the sums, cautions and sources.
func (b *Book) Document() *report.Document {
	p := &paper{Document: report.Document{Title: "What a stand of alfalfa may cost and bring", Subject: "Money, by your own prices", Program: b.Run.Provenance.Program,
		Date: b.Study.Prices.Date.Format(time.DateOnly)}, b: b, s: b.Study}
	p.answer()
	p.fields()
	p.leftGround()
	p.items()
	p.payback()
	p.sensitivity()
	p.prices()
	p.limits()
	p.head("Before you spend money", "cautions")
	p.add(report.Bullets{Items: words.Cautions()})
	p.sources()
	return &p.Document
}

// say adds a sentence of the answer, which stands out on the page.
func (p *paper) say(format string, args ...any) {
	p.add(report.Para{Text: fmt.Sprintf(format, args...), Tone: report.Answer})
}

// Answer says in a few sentences what it costs, what it may bring and how sure that is.
func (b *Book) Answer() []string {
	s, cur := b.Study, b.currency()
	if !(s.Farm.Area > 0) {
		ground := []string{economics.WhyNotRated, economics.WhyUnsuited, economics.WhyNoLime} // no price would change them
		if !slices.ContainsFunc(s.Zones, func(z economics.Zone) bool { return !slices.Contains(ground, z.Why) }) {
			// A field outside the survey has no zone, and so no row in that table.
			why := " The table of ground left out says why."
			if len(s.Zones) == 0 {
				why = " No field has an answer."
			}
			return []string{fmt.Sprintf("None of the %s acres is known to be fit for sowing, whatever the prices.", words.Acres(b.area())) + why}
		}
		return []string{fmt.Sprintf("None of the %s acres is worth sowing by these prices. The table of ground left out says why.", words.Acres(b.area()))}
	}
	// Without the prices that decide, ground is taken for worth sowing that nobody knows to be; then it "may be sown" and no more.
	verb := "look worth sowing"
	if len(s.Wants) > 0 {
		verb = "may be sown"
	}
	out := []string{fmt.Sprintf("%s of %s acres %s, in %s.", words.Acres(s.Farm.Area), words.Acres(b.area()), verb, words.Count(b.sown(), "field", "fields"))}
	once, ok := s.Farm.Once.Get()
	if !ok {
		return append(out, "What it costs cannot be said: the file of prices has no price for lime, seed or any other cost of sowing.")
	}
	each := ofArea(s.Farm.OncePerArea().Or(economics.Range[economics.PerArea]{}))
	// A sum with items left out is no cost of sowing, and must not be called one.
	what := "Liming and sowing that ground may cost"
	if slices.ContainsFunc(s.Left, func(i economics.Item) bool { return i.Part() == economics.Once }) {
		what = "What the file has prices for may come to"
	}
	out = append(out, fmt.Sprintf("%s %s, most likely %s: about %s an acre.", what,
		between(float64(once.Low), float64(once.High), cur), amount(float64(once.Likely)), amount(each.likely)))
	return append(out, b.worth()...)
}

// worth says what the ground may bring over the sod; where it cannot be said, why.
// Low and high are the corners where every input is at its worst or best at once; the draws say what is likely between them.
func (b *Book) worth() []string {
	s, cur := b.Study, b.currency()
	value, ok := s.Farm.Value.Get()
	if !ok {
		return []string{"What it may bring cannot be said: the file of prices does not give " + names(s.Wants, "or") + "."}
	}
	out := []string{fmt.Sprintf("Against going on with the sod that may be %s over the life of the stand, in today's money.", gainOrLoss(float64(value.Likely), cur))}
	ends := fmt.Sprintf("With every price at its worst end it is %s, with every price at its best %s.", gainOrLoss(float64(value.Low), cur), gainOrLoss(float64(value.High), cur))
	if d, ok := s.Farm.Spread.Get(); ok {
		ends += fmt.Sprintf(" In 8 draws of 10 from your ranges it lies between %s and %s.", gainOrLoss(float64(d.P10), cur), gainOrLoss(float64(d.P90), cur))
		ends += " " + above(d)
	}
	return append(out, ends, "This is arithmetic with your prices, not a promise of money.")
}

// above says in how many draws there is a gain.
func above(d economics.Spread) string {
	switch {
	case d.Above >= 1:
		return "There was a gain in every draw."
	case d.Above <= 0:
		return "There was a loss in every draw."
	}
	// Rounded to tenths, and then to hundredths, "0 of 10" and "10 of 10" would deny draws that there were.
	switch hundred, ten := int(math.Round(100*d.Above)), int(math.Round(10*d.Above)); {
	case hundred == 100:
		return "There was a gain in over 99 draws of 100 (>0.99)."
	case hundred == 0:
		return "There was a gain in under 1 draw of 100 (<0.01)."
	case ten == 0 || ten == 10:
		return fmt.Sprintf("There was a gain in %s of 100 (%s).", words.Count(hundred, "draw", "draws"), words.Fixed(float64(hundred)/100, 2))
	default:
		return fmt.Sprintf("There was a gain in %s of 10 (%s).", words.Count(ten, "draw", "draws"), words.Fixed(float64(hundred)/100, 2))
	}
}

// names lists items in a sentence.
func names(items []economics.Item, last string) string {
	out := ""
	for k, i := range items {
		switch {
		case k == 0:
		case k == len(items)-1:
			out += " " + last + " "
		default:
			out += ", "
		}
		out += lower(ItemName(i))
	}
	return out
}

// lower makes the first letter small, for a name within a sentence.
func lower(s string) string {
	if s == "" {
		return s
	}
	// The bit by which small letters of ASCII differ from capitals; all names begin with such a letter.
	return string(s[0]|0x20) + s[1:]
}

// answer is the front of the document: the sentences of [Book.Answer], then what weakens them.
func (p *paper) answer() {
	for _, l := range p.b.Answer() {
		p.say("%s", l)
	}
	for _, l := range []string{p.b.leftOut(), p.b.Aged()} {
		if l != "" {
			p.add(report.Para{Text: l})
		}
	}
}

// leftOut says which items are in no sum; "" for none.
func (b *Book) leftOut() string {
	var costs, gains []economics.Item
	for _, i := range b.Study.Left {
		if i.Part() == economics.Gain {
			gains = append(gains, i)
			continue
		}
		costs = append(costs, i)
	}
	out := ""
	if len(costs) > 0 {
		// Left out costs and left out gains err to opposite sides, so they are told apart.
		out = "Not in these sums, because the file has no price for it: " + names(costs, "and") + ". So the true cost is higher."
		// The sentences before call ground worth sowing that these costs may make a loss of.
		if b.Study.Farm.Value.Has() {
			out = strings.TrimSuffix(out, ".") + " and the worth is less; ground that looks worth sowing may not be."
		}
	}
	if len(gains) > 0 {
		if out != "" {
			out += " "
		}
		out += "Nothing is counted for better hay, because the file puts no price on it."
	}
	return out
}

// Aged says what of the prices may be out of date: their day against that of the run, and figures that are old; "" for nothing.
func (b *Book) Aged() string {
	p, out := b.Study.Prices, ""
	// A run without a day cannot be compared with, and nothing is said.
	if run, err := time.Parse(time.DateOnly, b.Run.Provenance.Date); err == nil && run.Sub(p.Date).Abs() > yearLong {
		out = fmt.Sprintf("The prices are of %s, but the run counts from %s.", words.Date(p.Date.Format(time.DateOnly)), words.Date(b.Run.Provenance.Date))
	}
	old := 0
	for _, x := range p.Given {
		if p.Age(x) >= economics.OldAge {
			old++
		}
	}
	for _, x := range p.Products {
		if p.Age(x.Price) >= economics.OldAge {
			old++
		}
	}
	if old > 0 {
		out += fmt.Sprintf(" %s %d years old or more: ask again before you rely on it.", words.Count(old, "figure is", "figures are"), economics.OldAge)
	}
	return strings.TrimSpace(out)
}

// sources say where the figures come from.
func (p *paper) sources() {
	r := p.b.Run
	items := []string{fmt.Sprintf("Prices: your file %s, for %s, %s.", shown(p.s.Prices.Name), shown(p.s.Prices.Place), words.Date(p.s.Prices.Date.Format(time.DateOnly)))}
	items = append(items, export.Sources(&r.Provenance)...)
	items = append(items, "Classes, lime and dates are those of the run, made by "+r.Provenance.Program+"; nothing of them was worked out anew.",
		"\"Common practice, no source\" is what the trade does and no publication was found for. \"Our proposal\" is a judgement of this program.",
		"The page in HTML is the form to use with a screen reader.")
	p.head("Where this comes from", "sources")
	p.add(report.Bullets{Items: items})
}

// acresText prints an area in a cell.
func acresText(a unit.Area) string { return words.Acres(a) }
