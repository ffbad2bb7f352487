package report

import (
	"fmt"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Magnesium is what the samples of a run say of magnesium, for the choice of lime.
type Magnesium struct {
	Region lime.MagnesiumRegion            // whose ratings were used
	Advice map[string]lime.MagnesiumAdvice // by zone id; zones without a fit sample have none
}

// subsoil puts the question of gypsum where ground is held back, or may be, by an acid subsoil.
func (b *book) subsoil(r words.Reader) {
	var items []string
	var area unit.Area
	var findings []lime.Finding
	more := 0
	for _, z := range export.Zones(b.r) {
		// A subsoil without a figure asks no question, nor does one that is not acid.
		said, ok := lime.GypsumQuestion(z.Rating.Values.PHSubsoil)
		if !ok || z.Rating.Class == suitability.NotRated || z.Rating.Class == suitability.Unsuited && z.Rating.Limiting != suitability.SubsoilPH {
			continue // wet or shallow ground is not mended by either
		}
		// Counted before the list is cut, so that the sentence above it speaks of all such ground.
		area, findings = area+z.Area, said
		if len(items) == mostListed {
			more++
			continue
		}
		items = append(items, fmt.Sprintf("Zone %s, %s: subsoil pH %s.", zoneName(z), words.AcresAndHectares(z.Area), words.PH(z.Rating.Values.PHSubsoil.Or(0))))
	}
	if len(items) == 0 {
		return
	}
	if more > 0 {
		items = append(items, "And "+words.Count(more, "more zone", "more zones")+".")
	}
	b.add(Heading{Level: 2, Text: "Acid ground deep down: is gypsum an answer?", ID: "subsoil"},
		Para{Text: fmt.Sprintf("On %s the subsoil may be acid enough to hold back roots. Lime on top mends that only in part and over many years.", words.AcresAndHectares(area))},
		Bullets{items}, Para{Text: "Gypsum is a question for your local adviser, and not a rate. Research does not agree:"})
	var told []string
	for _, f := range findings {
		told = append(told, title(words.GypsumFinding(f.Code, r))+" ("+f.Source+").")
	}
	b.add(Bullets{told}, Para{Text: "Test the subsoil first. If the test reads pH 5.5 or more, the question is settled."})
}

// whichLime says what magnesium means for the lime to buy: by samples where there are some, else what to ask for.
func (b *book) whichLime(r words.Reader) {
	var items []string
	// The question which lime to buy is only put to who buys some, or has tests that answer it.
	limed, more, untested := false, 0, 0
	for _, z := range export.Zones(b.r) {
		limed = limed || z.Lime.Likely.Or(0) > 0
		if b.opt.Magnesium == nil {
			continue
		}
		advice, ok := b.opt.Magnesium.Advice[z.ID]
		switch {
		case !ok && z.Lime.Likely.Or(0) > 0:
			untested++
		// Nothing to buy here: neither lime nor magnesium is asked for, or nobody knows and none is needed.
		case !ok || advice == lime.NoLime:
		case len(items) == mostListed:
			more++
		default:
			items = append(items, fmt.Sprintf("Zone %s, %s: %s.", zoneName(z), words.AcresAndHectares(z.Area), words.Magnesium(advice, r)))
		}
	}
	if !limed && len(items) == 0 {
		return
	}
	b.add(Heading{Level: 2, Text: "Which lime? Look at magnesium", ID: "magnesium"})
	if len(items) > 0 {
		if more > 0 {
			items = append(items, "And "+words.Count(more, "more zone", "more zones")+".")
		}
		if untested > 0 {
			items = append(items, words.Count(untested, "other zone that needs lime has", "other zones that need lime have")+" no sample that says how much magnesium there is.")
		}
		b.add(Bullets{items}, Para{Text: lowMagnesium([]lime.MagnesiumRegion{b.opt.Magnesium.Region}), Tone: Small})
		return
	}
	b.add(Para{Text: "Ask the laboratory for magnesium too. Where it is low, buy dolomitic lime, which brings both. Where it is not, buy the lime that works for the least money."},
		Para{Text: lowMagnesium(lime.MagnesiumRegions()), Tone: Small})
}

// ratedSlice is the soil in an acre that the ratings are printed for, in pounds. Source: as of [lime.MagnesiumRegions].
// A pound in it is half a part in a million.
const ratedSlice = 2e6

// lowMagnesium says what low is, and where that holds.
func lowMagnesium(regions []lime.MagnesiumRegion) string {
	var parts []string
	source := ""
	for _, m := range regions {
		parts = append(parts, fmt.Sprintf("up to %s lb an acre (%s mg/kg) in the %s", words.Decimal(float64(m.LowMost)*ratedSlice/1e6, 0), words.Decimal(float64(m.LowMost), 0), m.Name))
		source = m.Source
	}
	return "Low is " + words.Listed(parts) + " (" + source + "; that this is by Mehlich-1 is from memory, not checked). Elsewhere ask your laboratory."
}
