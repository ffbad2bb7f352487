package economics

import (
	"strings"
	"time"

	"rootworthy/soils/nutrient"
	"rootworthy/suitability/seedplan"
)

// Prices is what a file of prices holds.
type Prices struct {
	Name     string    // of the file
	Date     time.Time // that the prices hold for, midnight UTC
	Place    string    // that they hold at
	Currency string    // the user's word for the money: "USD"
	Given    []Price   // in the order of [Items]
	Products []Product // fertilizers, by name
	Text     string    // of the file as it was read; "" where the prices come from no file
}

// Price is one figure with where it comes from.
type Price struct {
	Item   Item
	Value  Range[float64] // SI: money per kg or m², kg/m², a share out of 1, years
	Unit   Unit           // as the user gave it
	Source string
	Year   int  // that it is from; 0 for the program's own
	Line   int  // in the file
	Own    bool // a figure that comes with the program, of [BuiltIn]
}

// Shown returns the figure in the unit that it was given in.
func (p Price) Shown() Range[float64] { return p.Value.Times(1 / p.Unit.Scale) }

// Product is a fertilizer and its price by mass.
type Product struct {
	Name  string // as the nutrient plan names it
	Price Price  // its Item is Fertilizer
}

// Of returns the figure of an item: the file's, or the program's own where there is one. ok is false without any.
func (p *Prices) Of(i Item) (Price, bool) {
	// the file first: what the program brings along is of no place and no year
	for _, x := range p.Given {
		if x.Item == i {
			return x, true
		}
	}
	for _, x := range BuiltIn() {
		if x.Item == i {
			return x, true
		}
	}
	return Price{}, false
}

// Has says whether the file itself gives an item. Own figures do not count: they never clash with what a user gives.
func (p *Prices) Has(i Item) bool {
	x, ok := p.Of(i)
	return ok && !x.Own
}

// Product returns the price of a fertilizer.
func (p *Prices) Product(name string) (Price, bool) {
	for _, x := range p.Products {
		if x.Name == name {
			return x.Price, true
		}
	}
	return Price{}, false
}

// Age returns how many years before the date of the prices a figure is from.
func (p *Prices) Age(x Price) int { return p.Date.Year() - x.Year }

// OldAge is the age in years from which a figure is told to be old: by proposal.
const OldAge = 3

// BuiltIn lists the figures that come with the program. None of them is a price; the file may give better ones.
func BuiltIn() []Price {
	own := func(i Item, low, likely, high float64, source string) Price {
		// the figures below are in the first unit of their item, as the sources print them
		u := i.Units()[0]
		return Price{Item: i, Value: Range[float64]{low, likely, high}.Times(u.Scale), Unit: u, Source: source, Own: true}
	}
	saved := nutrient.NitrogenSaved.PoundsPerAcre()
	seed := seedplan.RulesOf(seedplan.IntoSod)[0]
	least, most, potash := potashTaken()
	return []Price{
		own(SeedRate, seed.Least.PoundsPerAcre(), seedplan.Usual.PoundsPerAcre(), seed.Most.PoundsPerAcre(), seed.Source),
		own(PotashTaken, least, (least+most)/2, most, potash),
		own(RFQGain, 25, 32.5, 40, "Tucker (University of Georgia) and Mullenix (Auburn), Complement bermudagrass with alfalfa, Hay & Forage Grower: 25 to 40 points over bermudagrass; the middle is ours"),
		own(NitrogenSaved, saved, saved, saved, "Bouton (University of Georgia), Alfalfa for bermudagrass management in the South: 200 lb an acre and year; other figures differ widely"),
		own(LifeSuited, 5, 6, 7, "common practice, no source: 5 to 7 years on suited ground"),
		own(LifeMarginal, 3, 4, 5, "our proposal: between suited and unsuited ground"),
		own(LifeUnsuited, 2, 2.5, 3, "common practice, no source: 2 to 3 years on unsuited ground"),
	}
}

// potashTaken is the potash (K2O) that hay takes off, pounds in a short ton: from the least to the most of what the sources of package nutrient say.
// The two ends may come from different sources.
func potashTaken() (least, most float64, source string) {
	var sources []string
	for k, r := range nutrient.Removals(nutrient.Potassium) {
		// removals are pounds in a pound of hay; a short ton has 2,000
		low, high := 2000*float64(r.Least), 2000*float64(r.Most)
		if k == 0 {
			least, most = low, high
		}
		least, most = min(least, low), max(most, high)
		sources = append(sources, r.Source)
	}
	return least, most, strings.Join(sources, "; ") + "; the middle is ours"
}
