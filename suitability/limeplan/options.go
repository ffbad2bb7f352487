package limeplan

import (
	"fmt"
	"time"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Options tunes [Plan]. The zero value means pure dry lime and the profile's rules, with no dates.
type Options struct {
	ECCE            unit.Percent              // effective calcium carbonate equivalent of the product; 0 means 100
	Moisture        unit.Percent              // water in the product as spread, percent of its wet mass
	Cap             unit.AreaRate             // most product as spread on sod in a year; 0 means the profile's
	Months          int                       // to wait after the last pass; 0 means the profile's
	Step            unit.AreaRate             // the spreader is set in such steps; 0 means the profile's
	Date            time.Time                 // today, midnight UTC; the zero time means no dates are worked out
	Window          *suitability.SowingWindow // of the region; nil means no window is worked out
	IncludeUnsuited bool                      // lime unsuited ground too
}

// mostECCE is the highest value a product may have: pure magnesium oxide neutralises 250 % of calcium carbonate.
// Source: University of Nebraska, liming materials, table 4.4.
const mostECCE = 250

// Check says what in the options is out of range, and what is allowed.
func (o Options) Check(p *suitability.Profile) error {
	least, most := p.Lime.WaitLeast.Value, unit.ShortTonsPerAcre(p.Lime.CapMost.Value)
	step := unit.ShortTonsPerAcre(mostStep)
	switch {
	// each range is asked for and not its outside, so that NaN is refused as well
	case !(o.ECCE == 0 || o.ECCE >= 1 && o.ECCE <= mostECCE):
		return fmt.Errorf("an ECCE of %g %% is not possible; give one from 1 to %d", float64(o.ECCE), mostECCE)
	case !(o.Moisture >= 0 && o.Moisture <= 80):
		return fmt.Errorf("a moisture of %g %% is not possible; give one from 0 to 80", float64(o.Moisture))
	// 1e-9: the cap was short tons an acre before it was kg/m² and may come back a rounding error over itself
	case !(o.Cap == 0 || o.Cap > 0 && o.Cap <= most*(1+1e-9)):
		return fmt.Errorf("%.4g short tons an acre on sod in a year is not possible; give at most %g (%s)",
			o.Cap.ShortTonsPerAcre(), p.Lime.CapMost.Value, p.Lime.CapMost.Source)
	case o.Months != 0 && (float64(o.Months) < least || o.Months > mostMonths):
		return fmt.Errorf("%d months is not possible; give from %g (%s) to %d", o.Months, least, p.Lime.WaitLeast.Source, mostMonths)
	case !(o.Step >= 0 && o.Step <= step):
		return fmt.Errorf("a spreader step of %.4g short tons an acre is not possible; give one from 0 to %g", o.Step.ShortTonsPerAcre(), mostStep)
	}
	filled := o.filled(p)
	if a := filled.pureYearly().ShortTonsPerAcre(); a < leastYearly {
		return fmt.Errorf("%.4g short tons an acre on sod in a year, of this product worth %.2g of pure lime, is not possible; give a cap and an ECCE "+
			"that come to %g or more: with less no need is met in a lifetime", filled.Cap.ShortTonsPerAcre(), a, leastYearly)
	}
	return nil
}

// pureYearly is what the cap of a year is worth as pure dry lime, 100 % CCE.
func (o Options) pureYearly() unit.AreaRate {
	return o.Cap * unit.AreaRate(lime.Product{ECCE: o.ECCE, Moisture: o.Moisture}.Effective())
}

const (
	mostMonths  = 60  // beyond five years nobody waits
	mostStep    = 2.0 // short tons an acre; half the largest pass
	leastYearly = 0.2 // short tons an acre of pure lime; a light dressing of half a ton takes three years then. By proposal
)

// filled puts the profile's rules in the place of zeros. ECCE stays 0: no effectiveness was named, which matters where the rate comes
// from a method (see byTests).
func (o Options) filled(p *suitability.Profile) Options {
	if o.Cap == 0 {
		o.Cap = unit.ShortTonsPerAcre(p.Lime.Cap.Value)
	}
	if o.Months == 0 {
		o.Months = p.Lime.WaitMonths()
	}
	if o.Step == 0 {
		o.Step = unit.ShortTonsPerAcre(p.Lime.Step.Value)
	}
	return o
}
