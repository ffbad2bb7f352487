package seedplan

import (
	"slices"

	"rootworthy/soils/unit"
)

// notes says what to watch, in the order of [Notes].
func notes(o Options, p *Plan) []string {
	has := map[string]bool{ShallowOnly: true, CricketsAfterward: true, SodShort: o.Method != Drilled, SeedTreatedMo: o.Tag.Molybdenum,
		HardSeedCounted: o.Tag.HardSeed > 0 && o.Tag.CountHard, HardSeedLeftOut: o.Tag.HardSeed > 0 && !o.Tag.CountHard}
	r := p.usual(o)
	// 1e-9: rates came from pounds an acre, and the rule's own ends must not be noted
	has[RateLow], has[RateHigh] = o.Rate < r.Least*(1-1e-9), o.Rate > r.Most*(1+1e-9)
	has[WideRows] = o.wide()
	has[RowsOutside] = o.Spacing != 0 && !o.wide() && (o.Spacing < unit.Inches(NarrowestInch)-1e-9 || o.Spacing > unit.Inches(WidestInch)+1e-9)
	if !o.Tag.Inoculated {
		// seed that comes inoculated needs none of these
		has[InoculateSeed], has[InoculantUnknown] = true, o.Inoculant.PerPackage == 0
		end := o.Inoculant.Expires
		has[InoculantExpired] = !end.IsZero() && !o.Sown.IsZero() && end.Before(o.Sown)
	}
	return slices.DeleteFunc(Notes(), func(n string) bool { return !has[n] })
}

// usual returns the rule that the rate is held against: that of wide rows where rows are wide.
func (p *Plan) usual(o Options) Rule {
	if o.wide() {
		for _, r := range Rules() {
			if r.RowFrom >= unit.Inches(WideRowsInch)-1e-9 {
				return r
			}
		}
	}
	// the first rule of a method is the one that is used
	return p.Rules[0]
}
