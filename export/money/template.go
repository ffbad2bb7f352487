package money

import (
	"fmt"
	"strings"

	"rootworthy/suitability/economics"
)

// Template returns a file of prices to fill in: every item with its units and what belongs into it, all of them commented out. It holds
// no price, because none is known that has a source, a year and a place of its own.
func Template() string {
	var b strings.Builder
	b.WriteString(`# Prices for rootworthy money. Every figure needs its unit, its source and its year;
# take out the # of the items that you know and leave the others as they are. What is
# left out is in no sum, and the result says so. No price comes with the program.
#
# To compare with, not to copy: North Carolina State Extension's planting guide gives 100
# to 250 USD an acre to establish forage crops (all kinds; no year). On East Texas farms
# of 2000 to 2004 hay brought 135 USD a short ton and left 130 to 302 USD an acre (Haby,
# SARE LS99-100, 2004).

date     = ""       # the day that the prices hold for: 2026-11-25
place    = ""       # where they hold
currency = ""       # your word for the money: USD

`)
	// None of the parts, so that the first item opens the first section.
	part := economics.Part(255)
	for _, i := range economics.Items() {
		if i.Part() != part {
			part = i.Part()
			fmt.Fprintf(&b, "# ---- %s\n\n", partTitle(part))
		}
		b.WriteString("# " + ItemName(i))
		if h := itemHint(i); h != "" {
			b.WriteString(": " + h)
		}
		b.WriteString("\n")
		writeExample(&b, i.String(), i)
	}
	b.WriteString("# ---- fertilizers of a nutrient plan, by their name there; nutrients without a product by k, p, mg, s, b, mo\n\n")
	// The items lend their units: a product is priced by the ton like lime, a nutrient by the pound like seed.
	writeExample(&b, `product."0-0-60"`, economics.Lime)
	writeExample(&b, "nutrient.k", economics.Seed)
	return b.String()
}

// writeExample writes an item to fill in.
// An example has every key a figure needs and no value, so that nothing of it can be taken for a price.
func writeExample(b *strings.Builder, table string, i economics.Item) {
	var others []string
	for _, u := range i.Units()[1:] {
		others = append(others, fmt.Sprintf("%q", u.Name))
	}
	or := ""
	if len(others) > 0 {
		or = "   # or " + strings.Join(others, ", ")
	}
	fmt.Fprintf(b, "# [%s]\n# low    = \n# likely = \n# high   = \n# unit   = %q%s\n# source = \"\"\n# year   = \n\n", table, i.Units()[0].Name, or)
}

// partTitle heads the items of a part in the file.
func partTitle(p economics.Part) string {
	switch p {
	case economics.Once:
		return "paid once, to lime and sow"
	case economics.Gain:
		return "gained in each year of the stand"
	case economics.Yearly:
		return "paid in each year of the stand"
	case economics.Sod:
		return "what the sod alone earns in a year; one of the two"
	}
	return "no money: yields, rates, times"
}
