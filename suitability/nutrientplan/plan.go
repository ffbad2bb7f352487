package nutrientplan

import (
	"math"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// Plan is the fertilizer of a farm.
type Plan struct {
	Stage    nutrient.Stage
	Zones    []ZonePlan
	Fields   []FieldPlan // in the order in which they first appear
	Farm     Total
	Order    []OrderLine // products in the order of the options, then nutrients that no product was named for
	Planned  unit.Area   // ground that is to carry the crop
	Removed  []Removed   // by the expected yield on that ground, a line a source; sources disagree
	Saved    unit.Mass   // nitrogen a year that the grass alone would need there; see nutrient.NitrogenSaved
	SeedDose *SeedDose   // molybdenum on the seed; nil where none is called for
}

// FieldPlan adds up the zones of a field.
type FieldPlan struct {
	FieldID string
	Total   Total
}

// Total is what zones add up to.
type Total struct {
	Nutrients []Nutrition // in the order of nutrient.Nutrients, all of them
	Products  []Bought    // in the order of the options, all of them
}

// Nutrition is a mass of a nutrient as fertilizer is sold by.
type Nutrition struct {
	Nutrient nutrient.Nutrient
	Mass     unit.Mass
}

// Bought is a mass of a product.
type Bought struct {
	Product string
	Mass    unit.Mass
}

// OrderLine is something to buy. Packages is 0 for what is sold loose.
type OrderLine struct {
	Name     string
	Mass     unit.Mass // not rounded
	Packages int       // rounded up
	Product  bool      // false for a nutrient without a product
}

// Removed is what a source says the expected hay takes off in a year.
type Removed struct {
	Removal     nutrient.Removal
	Least, Most unit.Mass
}

// SeedDose is the most molybdenum that may go on the seed: never exceed it.
type SeedDose struct {
	Mo, Molybdate, Seed unit.Mass
	Source              string
}

// Of returns the mass of a nutrient.
func (t Total) Of(n nutrient.Nutrient) unit.Mass {
	for _, x := range t.Nutrients {
		if x.Nutrient == n {
			return x.Mass
		}
	}
	return 0
}

// newTotal has a line for everything, at zero. Fields and farm then list the same lines whether or not anything of one is needed, so that
// they can be read side by side.
func newTotal(o Options) Total {
	var t Total
	for _, n := range nutrient.Nutrients() {
		t.Nutrients = append(t.Nutrients, Nutrition{Nutrient: n})
	}
	for _, p := range o.Products {
		t.Products = append(t.Products, Bought{Product: p.Name})
	}
	return t
}

// add adds a zone.
func (t *Total) add(z *ZonePlan) {
	for i := range t.Nutrients {
		// a zone without rates adds nothing, and a refused rate neither
		for _, r := range z.Rates {
			if r.Nutrient == t.Nutrients[i].Nutrient {
				t.Nutrients[i].Mass += r.Mass.Or(0)
			}
		}
	}
	for i := range t.Products {
		for _, a := range z.Products {
			if a.Product == t.Products[i].Product {
				t.Products[i].Mass += a.Mass
			}
		}
	}
}

// addUp fills in everything above the zones.
func (p *Plan) addUp(o Options) {
	p.Farm = newTotal(o)
	at := map[string]int{}
	for i := range p.Zones {
		z := &p.Zones[i]
		if _, ok := at[z.FieldID]; !ok {
			at[z.FieldID] = len(p.Fields)
			p.Fields = append(p.Fields, FieldPlan{z.FieldID, newTotal(o)})
		}
		p.Fields[at[z.FieldID]].Total.add(z)
		// from zones and not from fields: both are sums of the same addends
		p.Farm.add(z)
	}
	p.order(o)
	p.Saved = nutrient.NitrogenSaved.Over(p.Planned)
	p.removed(o)
	p.seedDose(o)
}

// order lists what to buy; what needs nothing is left out.
func (p *Plan) order(o Options) {
	for i, b := range p.Farm.Products {
		if b.Mass > 0 {
			p.Order = append(p.Order, OrderLine{Name: b.Product, Mass: b.Mass, Packages: Packages(b.Mass, o.Products[i].Package), Product: true})
		}
	}
	for _, n := range nutrient.Nutrients() {
		sum := unit.Mass(0)
		for _, z := range p.Zones {
			// what no product brings is bought as the nutrient itself: its mass is right, whatever it comes in
			for _, u := range z.unmet {
				if u.Nutrient == n {
					sum += u.Mass
				}
			}
		}
		if sum > 0 {
			p.Order = append(p.Order, OrderLine{Name: n.Sold(), Mass: sum})
		}
	}
}

// Packages returns how many packages hold a mass; 0 for what is sold loose.
func Packages(m, each unit.Mass) int {
	if !(each > 0) || !(m > 0) {
		return 0
	}
	return int(min(math.Ceil(float64(m/each)-1e-9), 1e9)) // 1e-9: a sum of zones that fills the bag is no bag more
}

// removed works out what hay takes off.
func (p *Plan) removed(o Options) {
	yield, ok := o.Yield.Get()
	if !ok {
		return
	}
	for _, n := range nutrient.Nutrients() {
		for _, r := range nutrient.Removals(n) {
			least, most := r.At(yield)
			p.Removed = append(p.Removed, Removed{r, least.Over(p.Planned), most.Over(p.Planned)})
		}
	}
}

// seedDose works out the molybdenum on the seed. Seed that comes treated gets none.
func (p *Plan) seedDose(o Options) {
	// a dose on the seed is for the year of sowing; without a table nobody says how much
	if o.Table == nil || o.SeedTreated || !(o.Seed > 0) || p.Stage != nutrient.Establish {
		return
	}
	if dose, ok := o.Table.Seed.Get(); ok {
		mo, molybdate := dose.Most(o.Seed)
		p.SeedDose = &SeedDose{mo, molybdate, o.Seed, o.Table.Source}
	}
}
