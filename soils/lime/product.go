package lime

import (
	"fmt"

	"rootworthy/soils/unit"
)

// Product is a liming material as it comes.
type Product struct {
	// ECCE is the effective calcium carbonate equivalent of the dry material: CCE × fineness, or what a state prints in
	// its place (ENV, RNV); 0 means 100.
	ECCE unit.Percent
	// Moisture is water, percent of the mass as spread. Where the label's figure already counts the water, leave it 0.
	Moisture unit.Percent
}

// MostECCE is the highest value that a product may have: pure magnesium oxide neutralises 250 % of calcium carbonate.
// Source: University of Nebraska, liming materials, table 4.4.
const MostECCE unit.Percent = 250

// MostMoisture is the most water in a product as spread: lime sludge; by proposal.
const MostMoisture unit.Percent = 80

// Check says what of the product is impossible.
func (p Product) Check() error {
	switch {
	case !(p.ECCE == 0 || p.ECCE >= 1 && p.ECCE <= MostECCE):
		return fmt.Errorf("an ECCE of %g %% is not possible; give one from 1 to %g", float64(p.ECCE), float64(MostECCE))
	case !(p.Moisture >= 0 && p.Moisture <= MostMoisture):
		return fmt.Errorf("a moisture of %g %% is not possible; give one from 0 to %g", float64(p.Moisture), float64(MostMoisture))
	}
	return nil
}

// AsSpread returns how much of the product goes over the ground.
//
//	product = rate × quality of the rate / ECCE / (1 - moisture/100)
//
// A rate of lime as sold is spread as it stands, whatever the product: it has quality and water built in.
// Source: the division by ECCE from its definition (as in 2 Miss. Code R. 1-3-04-100.01 for relative neutralising value); a table at 90 %
// converted by the difference only, Ohio State University; the moisture from memory, not checked.
// Range: ECCE over 0; moisture from 0 to under 100.
func (p Product) AsSpread(r Rate) unit.AreaRate {
	// dividing it by an ECCE would take the same weakness off twice
	if r.quality == AsSold {
		return r.amount
	}
	return r.amount * unit.AreaRate(float64(r.quality)/float64(p.ecce())) / unit.AreaRate(1-p.Moisture/100)
}

// Effective returns the share of the product as spread that works as calcium carbonate.
//
//	ECCE/100 × (1 - moisture/100)
func (p Product) Effective() unit.Fraction {
	return unit.Fraction(p.ecce() / 100 * (1 - p.Moisture/100))
}

// ecce takes a product whose quality was not given for pure fine lime.
func (p Product) ecce() unit.Percent {
	if p.ECCE == 0 {
		return 100
	}
	return p.ECCE
}

// ECCE returns the effective calcium carbonate equivalent, which states also call ENV or RNV, each with its own
// [Scheme] of fineness.
//
//	ECCE = CCE × fineness / 100
//
// Source: British Columbia Ministry of Agriculture, factsheet 637.200-2 (2015).
// Range: both over 0; CCE up to about 180 for burned lime, fineness up to 100.
func ECCE(cce, fineness unit.Percent) unit.Percent { return cce * fineness / 100 }
