package nutrientplan

import (
	"fmt"
	"strconv"
	"strings"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// ParseProduct reads a product from one line, as people give it on a command line: a name, "=" and what the label guarantees.
//
//	muriate=0-0-60
//	langbeinite=0-0-22 mg=11 s=22 package=50lb
//	borate=b=15
//
// It is bought for the first nutrient that it holds, and a grade counts for its larger half. "row" puts it into the seed row. A package is in lb or
// kg. Without a name the grade is the name. The error says what is wrong with which part.
func ParseProduct(line string) (Product, error) {
	words := strings.Fields(line)
	if len(words) == 0 {
		return Product{}, fmt.Errorf(`an empty product; write "muriate=0-0-60"`)
	}
	p := Product{Name: words[0]}
	// "borate=b=15": the first sign ends the name, the second belongs to the part.
	if name, rest, ok := strings.Cut(words[0], "="); ok {
		p.Name, words[0] = name, rest
	}
	for _, w := range words {
		if err := p.part(w); err != nil {
			return Product{}, fmt.Errorf("product %q: %w", p.Name, err)
		}
	}
	return p, p.Check()
}

// part reads one word of a product.
func (p *Product) part(w string) error {
	key, value, named := strings.Cut(w, "=")
	switch {
	case !named && strings.EqualFold(w, "row"):
		p.InRow = true
		return nil
	case !named:
		g, err := Grade(w)
		if err != nil {
			return err
		}
		// the name of the grade is not taken: the line's first word is the name
		p.Nitrogen, p.Holds = g.Nitrogen, append(p.Holds, g.Holds...)
		p.boughtFor(g.For)
		return nil
	case strings.EqualFold(key, "package"):
		return p.packaged(value)
	}
	n, ok := nutrient.ByCode(strings.ToLower(key))
	// whether the share is possible is judged by Check, with all others
	share, err := strconv.ParseFloat(strings.TrimSuffix(value, "%"), 64)
	if !ok || err != nil {
		return fmt.Errorf(`%q is no part of a label; write "mg=11" with k, p, mg, s, b or mo, "row" or "package=50lb"`, w)
	}
	// the sum would be neither of the two that are written
	if p.Share(n) > 0 {
		return fmt.Errorf("%s is given twice", n.Sold())
	}
	p.Holds = append(p.Holds, Holding{n, unit.Percent(share)})
	p.boughtFor(n)
	return nil
}

// boughtFor keeps the first.
func (p *Product) boughtFor(n nutrient.Nutrient) {
	if p.For == nutrient.NutrientUnknown {
		p.For = n
	}
}

// packaged reads a mass with its unit; without a unit nobody knows whether 50 is pounds or kilograms.
func (p *Product) packaged(value string) error {
	for _, u := range []struct {
		ends string
		mass unit.Mass
	}{{"lb", unit.Pound}, {"kg", 1}} {
		if number, ok := strings.CutSuffix(value, u.ends); ok {
			v, err := strconv.ParseFloat(number, 64)
			// 50 tons is a ship, not a package.
			if err == nil && v > 0 && v <= 1e5 {
				p.Package = unit.Mass(v) * u.mass
				return nil
			}
		}
	}
	return fmt.Errorf(`%q is no package; write "package=50lb" or "package=25kg"`, value)
}
