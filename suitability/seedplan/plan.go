package seedplan

import (
	"errors"
	"fmt"
	"math"
	"time"

	"rootworthy/soils/unit"
)

// Options tunes [Make]. Only the tag has no usable zero value.
type Options struct {
	Tag       Tag
	Method    Method                 // "" means into sod
	Rate      unit.AreaRate          // pure live seed; 0 means [Usual]
	Spacing   unit.Length            // of rows; 0 means 7.5 in, none for broadcast
	Reserve   unit.Opt[unit.Percent] // seed above the plan's; missing means 5 %: common practice, no source
	Inoculant Inoculant
	Sown      time.Time // planned day, midnight UTC; the zero time means no days to count plants
}

// Inoculant is the rhizobia for seed that comes without.
type Inoculant struct {
	PerPackage unit.Mass // seed that a package is for, as its label says; 0 means not known
	Expires    time.Time // the zero time means not known
}

const (
	usualSpacing = 7.5 // in; the commonest no-till drill; common practice, no source
	usualReserve = 5   // percent; common practice, no source
)

// Notes, stable codes.
const (
	RateLow           = "rate under the usual"
	RateHigh          = "rate over the usual"
	RowsOutside       = "rows not 7 to 9 in"
	WideRows          = "wide rows: every other opener closed, about half the rate"
	HardSeedCounted   = "hard seed counted as live"
	HardSeedLeftOut   = "hard seed not counted"
	InoculateSeed     = "inoculate the seed"
	InoculantUnknown  = "inoculant not named"
	InoculantExpired  = "inoculant expires before sowing"
	SeedTreatedMo     = "seed holds molybdenum: add none"
	SodShort          = "sod at 1 to 2 in and suppressed"
	ShallowOnly       = "no deeper than half an inch"
	CricketsAfterward = "scout for crickets after emergence"
)

// Notes lists them.
func Notes() []string {
	return []string{RateLow, RateHigh, RowsOutside, WideRows, HardSeedCounted, HardSeedLeftOut, InoculateSeed, InoculantUnknown, InoculantExpired,
		SeedTreatedMo, SodShort, ShallowOnly, CricketsAfterward}
}

// Zone is ground to sow.
type Zone struct {
	ID, FieldID string
	Area        unit.Area
}

// Plan is the seed of a farm.
type Plan struct {
	Method     Method
	PLS, Bulk  unit.AreaRate
	Share      unit.Fraction // pure live seed in the bag
	Spacing    unit.Length   // 0 when broadcast
	Seeds      unit.PerArea  // live
	PerRow     unit.PerLength
	Zones      []Amount
	Fields     []Amount
	Farm       unit.Mass // bulk, without reserve: what zones and fields add up to
	Bare       unit.Mass // of Farm without coating; doses on the seed are counted for it
	Order      unit.Mass // with reserve
	Bags       int       // rounded up
	Inoculants int       // packages for the order; 0 when none is needed or the label is not known
	Milestones []Milestone
	Rules      []Rule // what is said of the method's rate
	Notes      []string
}

// Amount is the bulk seed of a zone or a field.
type Amount struct {
	ID, FieldID string
	Area        unit.Area
	Bulk, PLS   unit.Mass
}

// Check says all that is wrong with the options.
func (o Options) Check() error {
	all := []error{o.Tag.Check()}
	// all faults at once, so that they are corrected in one go
	known := o.Method == ""
	for _, m := range Methods() {
		known = known || o.Method == m
	}
	if !known {
		all = append(all, fmt.Errorf("%q is no way to sow; it is one of %q", o.Method, Methods()))
	}
	if !(o.Rate >= 0 && o.Rate <= 60*unit.PoundPerAcre) {
		all = append(all, fmt.Errorf("%.4g lb/ac of alfalfa is not possible; give at most 60", o.Rate.PoundsPerAcre()))
	}
	if o.Spacing != 0 && !(o.Spacing >= 0.05 && o.Spacing <= 2) {
		all = append(all, fmt.Errorf("rows %.4g in apart are not possible; give from 2 to 78", o.Spacing.Inches()))
	}
	if r := o.Reserve.Or(0); !(r >= 0 && r <= 100) {
		all = append(all, fmt.Errorf("a reserve of %g %% is not possible; give from 0 to 100", float64(r)))
	}
	if !(o.Inoculant.PerPackage >= 0) {
		all = append(all, fmt.Errorf("inoculant for %g kg of seed is not possible", float64(o.Inoculant.PerPackage)))
	}
	return errors.Join(all...)
}

// filled puts the usual in the place of zeros.
func (o Options) filled() Options {
	if o.Method == "" {
		o.Method = IntoSod
	}
	if o.Spacing == 0 && o.Method != Broadcast {
		o.Spacing = unit.Inches(usualSpacing)
	}
	// a spacing that was given all the same must not make rows
	if o.Method == Broadcast {
		o.Spacing = 0
	}
	if o.Rate == 0 {
		o.Rate = Usual
		// Rows twice as far apart take half the seed, or those of a row stand twice as thick.
		if o.wide() { // about half of it; the middle of 12 to 14 lb/ac
			o.Rate = 13 * unit.PoundPerAcre
		}
	}
	return o
}

// wide says whether rows are so far apart that every other opener is closed.
func (o Options) wide() bool { return o.Spacing >= unit.Inches(WideRowsInch)-1e-9 }

// Make works out the seed of zones. Options are taken as [Options.Check] passes them.
func Make(zones []Zone, o Options) *Plan {
	o = o.filled()
	p := &Plan{Method: o.Method, PLS: o.Rate, Bulk: o.Tag.Bulk(o.Rate), Share: o.Tag.PLS(), Spacing: o.Spacing, Seeds: o.Tag.SeedsAt(o.Rate), Rules: RulesOf(o.Method)}
	p.PerRow = p.Seeds.Along(p.Spacing)
	// fields come in the order in which their zones first name them
	at := map[string]int{}
	for _, z := range zones {
		a := Amount{z.ID, z.FieldID, z.Area, p.Bulk.Over(z.Area), p.PLS.Over(z.Area)}
		p.Zones = append(p.Zones, a)
		if _, ok := at[z.FieldID]; !ok {
			at[z.FieldID] = len(p.Fields)
			p.Fields = append(p.Fields, Amount{ID: z.FieldID, FieldID: z.FieldID})
		}
		f := &p.Fields[at[z.FieldID]]
		f.Area, f.Bulk, f.PLS = f.Area+a.Area, f.Bulk+a.Bulk, f.PLS+a.PLS
		p.Farm += a.Bulk
	}
	// Doses on the seed are printed for bare seed; a coat of a third would stretch them by half.
	p.Bare = o.Tag.Bare(p.Farm)
	p.buy(o)
	if !o.Sown.IsZero() {
		p.Milestones = Expected(p.Seeds, o.Sown)
	}
	p.Notes = notes(o, p)
	return p
}

// buy rounds up what is bought: seed to bags, inoculant to packages.
func (p *Plan) buy(o Options) {
	p.Order = p.Farm * unit.Mass(1+o.Reserve.Or(usualReserve)/100)
	// bags and packages are whole; what zones and fields show stays unrounded, so that it adds up
	p.Bags = packages(p.Order, o.Tag.bag())
	if !o.Tag.Inoculated {
		// By what is bought, reserve and all: seed that is opened is inoculated.
		p.Inoculants = packages(p.Order, o.Inoculant.PerPackage)
	}
}

// packages rounds up; 1e-9 keeps a sum that fills the bag from asking for one more.
func packages(m, each unit.Mass) int {
	if !(m > 0 && each > 0) {
		return 0
	}
	return int(min(math.Ceil(float64(m/each)-1e-9), 1e9))
}
