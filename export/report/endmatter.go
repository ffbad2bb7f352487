package report

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// mostListed is how many zones or faults a list names; the rest is counted.
const mostListed = 25

// testNext says which tests would make the answer surer, the largest ground first.
func (b *book) testNext() {
	b.add(Heading{Level: 2, Text: "What to test next", ID: "tests"})
	// Where all ground is to stay in grass a lime rate is of no use; a look may still prove the survey wrong.
	if b.sowable() {
		b.add(Para{Text: "Sample each zone by itself. Take the topsoil for the lime rate, and the subsoil, 12 to 40 in (30 to 100 cm) deep, for the roots."})
	}
	if items := b.unsure(func(z *suitability.Zone, why string) string {
		return fmt.Sprintf("Zone %s, %s: %s.", zoneName(z), words.AcresAndHectares(z.Area), why)
	}); len(items) > 0 {
		b.add(Para{Text: "These zones come first, because a test or a look may change the answer:"}, Bullets{items})
	}
	b.add(Para{Text: "A visit settles what no survey knows:"}, Bullets{words.OnSite()})
}

// sowable says whether any ground of the report is fit for sowing, be it only once limed and with doubts.
func (b *book) sowable() bool {
	return slices.ContainsFunc(export.Zones(b.r), func(z *suitability.Zone) bool {
		return z.Rating.Class == suitability.Suited || z.Rating.Class == suitability.Marginal
	})
}

// unsure lists the zones whose class may change, by falling area, each with the reason that weighs most.
func (b *book) unsure(say func(z *suitability.Zone, why string) string) []string {
	type item struct {
		z   *suitability.Zone
		why string
	}
	var list []item
	for _, z := range export.Zones(b.r) {
		if why := whyUnsure(z, words.Landowner); why != "" {
			list = append(list, item{z, why})
		}
	}
	slices.SortStableFunc(list, func(a, b item) int { return cmp.Compare(b.z.Area, a.z.Area) })
	var out []string
	for _, x := range list[:min(len(list), mostListed)] {
		out = append(out, say(x.z, x.why))
	}
	if more := len(list) - mostListed; more > 0 {
		out = append(out, "And "+words.Count(more, "smaller zone", "smaller zones")+".")
	}
	return out
}

// whyUnsure is the reason to test or visit a zone; "" for none. Water and rock need no test.
func whyUnsure(z *suitability.Zone, r words.Reader) string {
	if z.Rating.WhyNotRated == suitability.WhyMiscellaneous {
		return ""
	}
	// A class that hinges on one value comes before all else: there a bag for a few dollars decides.
	if len(z.Rating.HingesOn) > 0 {
		return words.ConfidenceReason(suitability.ReasonHinges, r)
	}
	if z.Rating.Class == suitability.NotRated {
		return words.WhyNotRated(z.Rating.WhyNotRated, r)
	}
	// Reasons come in the order of their weight; the first that is not set aside is told.
	for _, c := range z.Rating.Confidence.Reasons {
		// Almost every zone of a first screening lacks a test, and small ones are many: a list of all of them would put nothing first.
		if c != suitability.ReasonNoTest && c != suitability.ReasonSmallZone {
			return words.ConfidenceReason(c, r)
		}
	}
	return ""
}

// withoutAnswer tells what was wrong in the data, and what is good to know of them.
func (b *book) withoutAnswer() {
	for _, kind := range []struct {
		severity  diag.Severity
		title, id string
	}{{diag.Wrong, "What has no answer", "faults"}, {diag.Notice, "Good to know", "notices"}} {
		var items []string
		// Faults are capped for each kind already; here the page is capped, and run.json has the rest.
		more := 0
		for _, f := range b.r.Faults {
			switch {
			case f.Severity != kind.severity:
			case len(items) < mostListed:
				items = append(items, plainText(f.String()))
			default:
				more++
			}
		}
		if more > 0 {
			items = append(items, fmt.Sprintf("And %s in run.json.", words.Count(more, "more", "more")))
		}
		if len(items) > 0 {
			b.add(Heading{Level: 2, Text: kind.title, ID: kind.id}, Bullets{items})
		}
	}
}

// plainText makes a message fit to be shown, without cutting it as short as a name.
func plainText(s string) string {
	out := ""
	for _, r := range s {
		// Control characters of both blocks: some viewers obey those of the second too.
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			r = ' '
		}
		out += string(r)
		// Bytes, so that a message of any script ends; a name is cut far shorter.
		if len(out) > 400 {
			return out + "…"
		}
	}
	return out
}

// cautions are what every reader must be told.
func (b *book) cautions() {
	b.add(Heading{Level: 2, Text: "Before you act", ID: "cautions"}, Bullets{words.Cautions()})
}

// limeMethods lists how the lime figures were found, each way once.
func (b *book) limeMethods() []string {
	var out []string
	for _, z := range export.Zones(b.r) {
		if m := words.Method(z); m != "" && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// sources say in words where all this comes from.
func (b *book) sources() {
	p := &b.r.Provenance
	items := export.Sources(p)
	if p.Profile != "" {
		items = append(items, "Limits and targets for the crop: "+clean(p.Profile)+". Limits called \"our proposal\" are judgements of this program and not published figures.")
	}
	for _, m := range b.limeMethods() {
		items = append(items, "Lime: "+m+".")
	}
	// What chances leave out is said beside the sources too: the figure travels further than its table.
	items = append(items, "How sure: "+chancesMean)
	if p.Program != "" {
		made := "Made by " + p.Program
		if p.Date != "" {
			made += ", counted from " + words.Date(p.Date)
		}
		items = append(items, made+".")
	}
	items = append(items, "Letters on paper are the Go fonts of Bigelow & Holmes. The page in HTML is the form to use with a screen reader.")
	b.add(Heading{Level: 2, Text: "Where this comes from", ID: "sources"}, Bullets{items})
}
